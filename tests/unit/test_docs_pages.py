"""The pages in docs hang together: every link leads somewhere, every page is in the index, tables are as made."""

from __future__ import annotations

import importlib.util
import itertools
import re
import sys
from collections import Counter
from functools import cache
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = [*sorted(DOCS.glob("*.md")), ROOT / "README.md", ROOT / "CONTRIBUTING.md"]
LINK = re.compile(r"!?\[(?:[^\]\\]|\\.)*\]\(([^)\s]+)\)")
FENCED = re.compile(r"^```.*?^```", re.MULTILINE | re.DOTALL)


def prose(path: Path) -> str:
    return FENCED.sub("", path.read_text("utf-8"))


@cache
def anchors(path: Path) -> frozenset[str]:
    """Of headings, as GitHub and the site name them: small letters, blanks as hyphens, no other signs."""
    found: Counter[str] = Counter()
    names = set()
    for heading in re.findall(r"^#+ (.+)$", prose(path), re.MULTILINE):
        words = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", heading).replace("`", "")
        name = re.sub(r"[^\w\- ]", "", words.strip().lower()).replace(" ", "-")
        names.add(f"{name}-{found[name]}" if found[name] else name)
        found[name] += 1
    return frozenset(names)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_link_leads_somewhere(page: Path) -> None:
    lost = []
    for link in LINK.findall(prose(page)):
        if re.match(r"[a-z]+:", link):
            continue
        file, _, anchor = link.partition("#")
        target = (page.parent / file).resolve() if file else page
        if not target.is_file() or (anchor and anchor not in anchors(target)):
            lost.append(link)
    assert not lost


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_no_page_loads_a_picture_from_elsewhere(page: Path) -> None:
    pictures = re.findall(r"!\[[^\]]*\]\(([^)]+)\)|<img[^>]+src=\"([^\"]+)", prose(page))
    assert not [each for each in pictures if "//" in "".join(each)]


@cache
def loaded(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    made = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = made  # where dataclasses look for their module
    spec.loader.exec_module(made)
    return made


def test_the_index_has_every_page_once() -> None:
    """The site's navigation is the index, by what `make docs` itself reads of it."""
    parts = loaded(DOCS / "site" / "conf.py").parts_of_site((DOCS / "index.md").read_text("utf-8"))
    listed = [(DOCS / page).resolve() for pages in parts.values() for _, page in pages]
    expected = {*DOCS.glob("*.md"), ROOT / "CONTRIBUTING.md", ROOT / "CHANGELOG.md"} - {DOCS / "index.md"}
    assert len(parts) > 4
    assert Counter(listed) == Counter(expected)


def test_each_page_has_one_title() -> None:
    for page in DOCS.glob("*.md"):
        levels = [len(marks) for marks in re.findall(r"^(#+) ", prose(page), re.MULTILINE)]
        assert levels[0] == 1, page.name
        assert levels.count(1) == 1, page.name
        assert all(later - level < 2 for level, later in itertools.pairwise(levels)), page.name


@pytest.mark.parametrize(
    "page", ["options.md", "architecture.md", "benchmarks.md", "findings.md", "reliability.md"]
)
def test_pages_made_from_the_program_are_as_it_is(page: str) -> None:
    text = (DOCS / page).read_text("utf-8")
    assert loaded(DOCS / "write_tables.py").with_tables(text) == text, "make tables writes them anew"


def test_the_drawing_of_the_rooms_is_of_the_contract() -> None:
    drawer = loaded(DOCS / "draw_rooms.py")
    assert drawer.PICTURE.read_text("utf-8") == drawer.picture(), "make tables draws it anew"
    assert ["drawings", "store"] in drawer.layers()


@pytest.mark.parametrize("script", ["draw_law", "draw_measuring", "draw_scanning", "draw_benchmarks"])
def test_drawings_are_as_the_program_draws_them(
    script: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawer = loaded(DOCS / f"{script}.py")
    kept = {path.name: path.read_text("utf-8") for path in drawer.PICTURES.glob("*.svg")}
    monkeypatch.setattr(drawer, "PICTURES", tmp_path)
    drawer.draw()
    drawn = {path.name: path.read_text("utf-8") for path in tmp_path.glob("*.svg")}
    assert drawn == kept, "make tables draws them anew"


def test_every_finding_tells_what_to_change() -> None:
    told = loaded(DOCS / "write_tables.py").remedies()
    assert len(told) > 80
    assert not [code for code, remedies in told.items() if not remedies or not all(remedies)]
    assert told["thin-lip"] == ["Make it at least …, or flush."]


def test_every_validation_test_is_on_the_page_of_validation() -> None:
    page = (DOCS / "validation.md").read_text("utf-8")
    made = loaded(DOCS / "write_validation.py").parts()
    said = [
        cell
        for part in made.values()
        for cell in (f"## {part.title}\n", *(f"| {c.name} | {c.source}" for c in part.checks.values()))
    ]
    assert not [cell for cell in said if cell not in page.replace("\\|", "|")], (
        "make validation writes it anew"
    )
