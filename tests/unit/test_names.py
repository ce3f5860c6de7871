"""One name for one thing: no two modules of the tree have one basename, no two public classes one name."""

import ast
from collections import defaultdict
from pathlib import Path

import drawerwright

TREE = Path(drawerwright.__file__).parent
DOORS = ("__init__", "__main__")


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
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                places[node.name].append(str(path.relative_to(TREE)))
    found = repeated(places)
    assert not found, f"rename one by what its thing is in its room, or import the other: {found}"
