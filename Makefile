# `make plan` and `make test` are all that a fresh machine needs; the other targets are parts of them.
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin
JOB    ?= examples/music-school.yaml
OUT    ?= build/music-school

.DEFAULT_GOAL := help
.PHONY: help plan test lint types contract pytest browser frontend words screenshots lock clean

help:
	@echo "make plan   plan the example job into $(OUT)"
	@echo "make test   run every check: lint, types, rooms, unit, validation, functional, doc examples"
	@echo "make frontend     take the pages' scripts into this source tree (needs npm)"
	@echo "make words        renew the gettext catalogue after changing a text of the pages"
	@echo "make screenshots  write a picture of every page into docs/pictures/app"
	@echo "make lock   renew the hashed requirement files"

$(VENV)/runtime.stamp: requirements/runtime.txt pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/runtime.txt
	touch $@

$(VENV)/dev.stamp: requirements/dev.txt $(VENV)/runtime.stamp
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/dev.txt
	touch $@

plan: $(VENV)/runtime.stamp
	PYTHONPATH=src $(BIN)/python -m drawerwright plan $(JOB) --out $(OUT)

test: $(VENV)/dev.stamp
	@$(MAKE) --no-print-directory lint types contract pytest

lint: $(VENV)/dev.stamp
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(VENV)/dev.stamp
	$(BIN)/mypy

contract: $(VENV)/dev.stamp
	PYTHONPATH=src $(BIN)/lint-imports

pytest: $(VENV)/dev.stamp frontend browser
	DRAWERWRIGHT_BROWSER=required PYTHONPATH=src $(BIN)/python -m pytest

browser:
	@command -v chromium >/dev/null || command -v chromium-browser >/dev/null || \
	  { [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null && apt-get update -qq && \
	    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium >/dev/null; } || \
	  { echo "The browser tests need chromium; on Debian: apt-get install chromium"; exit 1; }

frontend: $(VENV)/dev.stamp
	@command -v npm >/dev/null || $(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/frontend.txt
	@$(BIN)/python hatch_build.py --with-development

WORDS := src/drawerwright/web/locale
words: $(VENV)/dev.stamp
	@mkdir -p build
	$(BIN)/pybabel -q extract -F babel.cfg -k phrase -k plural:1,2 --no-location --sort-output -o build/words.pot src/drawerwright
	$(BIN)/pybabel -q update -i build/words.pot -d $(WORDS) -D drawerwright --no-fuzzy-matching --ignore-obsolete
	$(BIN)/pybabel -q compile -d $(WORDS) -D drawerwright

screenshots: $(VENV)/dev.stamp frontend
	PYTHONPATH=src $(BIN)/python docs/take_screenshots.py

lock:
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 pyproject.toml -o requirements/runtime.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 pyproject.toml --group dev -c requirements/runtime.txt -o requirements/dev.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 --group frontend -o requirements/frontend.txt

clean:
	rm -rf $(VENV) build
