"""The tree as a stranger meets it: one name for one thing, every folder on the map, modules to be read in one go."""

import re
from collections import defaultdict
from pathlib import Path
from statistics import median

import drawerwright

TREE = Path(drawerwright.__file__).parent
DOORS = ("__init__", "__main__")
LONGEST, USUAL = 400, 150
"""Lines of a module: no more than the first, and half of all modules fewer than the second. Our own choice."""


def repeated(places: dict[str, list[str]]) -> str:
    """Each name that stands in several places, with these."""
    return "; ".join(
        f"{name}: {', '.join(where)}" for name, where in sorted(places.items()) if len(where) > 1
    )


def test_no_two_modules_are_called_alike() -> None:
    places: dict[str, list[str]] = defaultdict(list)
    for path in sorted(TREE.rglob("*.py")):
        if path.stem not in DOORS:
            places[path.stem].append(str(path.relative_to(TREE)))
    found = repeated(places)
    assert not found, f"say in one of the names what its module has that the other's has not: {found}"


def test_no_two_public_classes_are_called_alike() -> None:
    places: dict[str, list[str]] = defaultdict(list)
    for path in sorted(TREE.rglob("*.py")):
        for name in re.findall(r"^\s*class ([A-Za-z]\w*)", path.read_text(encoding="utf-8"), re.MULTILINE):
            places[name].append(str(path.relative_to(TREE)))
    found = repeated(places)
    assert not found, f"rename one by what its thing is in its room, or import the other: {found}"


def test_the_map_has_a_line_for_every_folder() -> None:
    text = (TREE.parents[1] / "CONTRIBUTING.md").read_text(encoding="utf-8")
    mapped = set(re.findall(r"`([^`]+)`", " ".join(re.findall(r"^\| (`[^|]+) \|", text, re.MULTILINE))))
    folders = {path.parent.relative_to(TREE).as_posix() for path in TREE.rglob("*.py")} - {"."}
    assert folders <= mapped, "say in CONTRIBUTING.md what a new folder holds"
    gone = {name for name in mapped if not (TREE / name).is_dir()}
    assert not gone, "CONTRIBUTING.md names folders that are no more"


def test_no_module_has_grown_too_long() -> None:
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in TREE.rglob("*.py")}
    long = [str(path.relative_to(TREE)) for path, count in lengths.items() if count > LONGEST]
    assert not long, (
        f"more than {LONGEST} lines: give one of its nouns a module of its own: {', '.join(long)}"
    )
    assert median(lengths.values()) < USUAL, "most modules are to be read in one go: split the longest"
