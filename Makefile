# `make plan`, `make serve` and `make test` are all that a fresh machine needs; the other targets are parts of them.
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin
JOB    ?= examples/music-school.yaml
OUT    ?= build/music-school

.DEFAULT_GOAL := help
.PHONY: help plan serve test lint types contract collected pytest fuzz fuzz-guided browser npm frontend fonts words tables validation docs screenshots lock lowest clean

help:
	@echo "make plan   set up $(VENV) with the drawerwright command, and plan the example job into $(OUT)"
	@echo "make serve  open the app in the browser"
	@echo "make test   run every check: lint, types, rooms, unit, validation, functional, doc examples"
	@echo "make fuzz   try random input at every door; SECONDS=600 for each, TARGETS=\"jobs requests\" for some, KEEP=--keep to count"
	@echo "make fuzz-guided  the same at some doors with atheris, which goes where a text reaches something new (Linux)"
	@echo "make frontend     take the pages' scripts into this source tree (needs npm)"
	@echo "make fonts        cut the papers' typeface down to the pages' font files"
	@echo "make words        renew the gettext catalogue after changing a text of the pages"
	@echo "make tables       write the tables into docs/job-file.md, docs/test-cuts.md and docs/wood.md"
	@echo "make validation  write docs/validation.md from the tests that hold the program to something outside it"
	@echo "make docs     make a site of the pages in docs, in build/docs (any warning is an error)"
	@echo "make screenshots  write a picture of every page into docs/pictures/app"
	@echo "make lowest plan and serve with the lowest and the newest versions that pyproject.toml allows"
	@echo "make lock   renew the hashed requirement files"

PIP := $(BIN)/python -m pip install --quiet --disable-pip-version-check

$(VENV)/runtime.stamp: requirements/runtime.txt requirements/build.txt pyproject.toml hatch_build.py
	$(PYTHON) -m venv $(VENV)
	$(PIP) --require-hashes -r requirements/runtime.txt -r requirements/build.txt
	$(PIP) --no-deps --no-build-isolation --editable . # leaves the command; the code stays in src
	touch $@

# What the tests never load need not be compiled: scipy and its like alone would take ten seconds.
$(VENV)/dev.stamp: requirements/dev.txt $(VENV)/runtime.stamp
	$(PIP) --no-compile --require-hashes -r requirements/dev.txt
	touch $@

$(VENV)/scan.stamp: requirements/scan.txt $(VENV)/runtime.stamp
	$(PIP) --require-hashes -r requirements/scan.txt
	touch $@

plan: $(VENV)/runtime.stamp
	$(BIN)/drawerwright plan $(JOB) --out $(OUT)
	@echo
	@echo "The command is ready: $(BIN)/drawerwright --help lists what it does. make serve opens the app."

serve: frontend $(VENV)/scan.stamp
	$(BIN)/drawerwright serve --open

# Side by side: browser and scripts are fetched while Python's packages are, the tests of the browser leave room while
# they wait, and mypy takes half a minute.
test:
	@$(MAKE) --no-print-directory --jobs lint types contract pytest

lint: $(VENV)/dev.stamp
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(VENV)/dev.stamp
	$(BIN)/mypy

contract: $(VENV)/dev.stamp
	PYTHONPATH=src $(BIN)/lint-imports

# To rewrite the asserts of all tests takes a third of a minute: once, while browser and scripts are fetched, and not in
# each worker. What cannot be collected is told by the tests.
collected: $(VENV)/dev.stamp
	@env -u PYTHONDONTWRITEBYTECODE PYTHONPATH=src $(BIN)/python -m pytest --collect-only >/dev/null 2>&1 || true

# The tests start the program many times; where nothing may be kept compiled, each start takes twice as long.
pytest: $(VENV)/dev.stamp npm browser collected
	@$(BIN)/python hatch_build.py --with-development
	env -u PYTHONDONTWRITEBYTECODE DRAWERWRIGHT_BROWSER=required PYTHONPATH=src \
	  $(BIN)/python -m pytest -n auto --dist worksteal

SECONDS ?= 60
TARGETS ?=
KEEP ?=
fuzz: $(VENV)/dev.stamp npm
	PYTHONPATH=src:tests $(BIN)/python -W ignore -m fuzz --seconds $(SECONDS) $(KEEP) $(TARGETS)

$(VENV)/fuzz.stamp: requirements/fuzz.txt $(VENV)/dev.stamp
	$(PIP) --require-hashes -r requirements/fuzz.txt
	touch $@

fuzz-guided: $(VENV)/fuzz.stamp
	PYTHONPATH=src:tests $(BIN)/python -W ignore -m fuzz.guided --seconds $(SECONDS) $(KEEP) $(TARGETS)

# The browser without windows halves the time of the browser tests, so it is fetched where that is possible.
APT := DEBIAN_FRONTEND=noninteractive timeout 120 apt-get install -y -qq --no-install-recommends
browser:
	@command -v chromium-headless-shell >/dev/null || \
	  { [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null && { \
	    $(APT) chromium-headless-shell || { timeout 120 apt-get update -qq && $(APT) chromium-headless-shell; }; } >/dev/null 2>&1; } || \
	  command -v chromium >/dev/null || command -v chromium-browser >/dev/null || \
	  { [ "$$(id -u)" = 0 ] && $(APT) chromium >/dev/null; } || \
	  { echo "The browser tests need chromium; on Debian: apt-get install chromium-headless-shell"; exit 1; }

npm: $(VENV)/runtime.stamp
	@command -v npm >/dev/null || $(PIP) --require-hashes -r requirements/frontend.txt

frontend: npm
	@$(BIN)/python hatch_build.py

fonts: $(VENV)/dev.stamp
	$(PIP) --require-hashes -r requirements/fonts.txt
	$(BIN)/python frontend/make_fonts.py

WORDS := src/drawerwright/web/locale
words: $(VENV)/dev.stamp
	@mkdir -p build
	$(BIN)/pybabel -q extract -F babel.cfg -k phrase -k plural:1,2 --no-location --sort-output -o build/words.pot src/drawerwright
	$(BIN)/pybabel -q update -i build/words.pot -d $(WORDS) -D drawerwright --no-fuzzy-matching --ignore-obsolete
	$(BIN)/pybabel -q compile -d $(WORDS) -D drawerwright

tables: $(VENV)/dev.stamp
	PYTHONPATH=src $(BIN)/python docs/write_tables.py
	for drawn in rooms law measuring scanning benchmarks; do PYTHONPATH=src $(BIN)/python docs/draw_$$drawn.py || exit 1; done

validation: $(VENV)/dev.stamp
	PYTHONPATH=src:tests $(BIN)/python docs/write_validation.py

DOCS := build/docs
docs:
	@[ -x build/docs-venv/bin/sphinx-build ] || $(PYTHON) -m venv build/docs-venv
	@build/docs-venv/bin/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/docs.txt
	build/docs-venv/bin/sphinx-build --fail-on-warning --keep-going --quiet -c docs/site . $(DOCS)
	@echo "Open $(DOCS)/docs/index.html"

screenshots: $(VENV)/dev.stamp frontend
	PYTHONPATH=src $(BIN)/python docs/take_screenshots.py

lowest:
	$(PYTHON) requirements/try_versions.py

lock:
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 pyproject.toml -o requirements/runtime.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 --group build -c requirements/runtime.txt -o requirements/build.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 pyproject.toml --extra scan --group dev -c requirements/runtime.txt -c requirements/build.txt -o requirements/dev.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 pyproject.toml --extra scan -c requirements/dev.txt -o requirements/scan.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 --group frontend -o requirements/frontend.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 --group fuzz -o requirements/fuzz.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 --group fonts -c requirements/dev.txt -o requirements/fonts.txt
	uv pip compile --quiet --generate-hashes --no-emit-index-url --universal --python-version 3.11 --group docs -o requirements/docs.txt

clean:
	rm -rf $(VENV) build
