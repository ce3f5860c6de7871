"""The hashed requirement files follow pyproject.toml: nothing declared is missing, nothing dropped is left."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

import drawerwright

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
RUNTIME: list[str] = PROJECT["project"]["dependencies"]
SCAN: list[str] = PROJECT["project"]["optional-dependencies"]["scan"]
GROUPS: dict[str, list[str]] = PROJECT["dependency-groups"]


def names(requirements: list[str]) -> set[str]:
    """Names in the normal form of the Python packaging guide (packaging.python.org, name normalization)."""
    bare = [re.split(r"[<>=!~\[; ]", requirement)[0] for requirement in requirements]
    return {re.sub(r"[-_.]+", "-", name).lower() for name in bare}


@pytest.mark.parametrize(
    ("file", "declared"),
    [
        ("runtime", RUNTIME),
        ("build", GROUPS["build"]),
        ("dev", RUNTIME + SCAN + GROUPS["dev"]),
        ("scan", RUNTIME + SCAN),
        ("frontend", GROUPS["frontend"]),
        ("fuzz", GROUPS["fuzz"]),
        ("fonts", GROUPS["fonts"]),
        ("docs", GROUPS["docs"]),
    ],
)
def test_a_requirement_file_pins_what_is_declared_and_what_that_needs(file: str, declared: list[str]) -> None:
    text = (ROOT / "requirements" / f"{file}.txt").read_text("utf-8")
    entries = re.split(r"^(?=[a-z0-9])", text, flags=re.MULTILINE)[1:]
    pinned = {entry.split("==")[0]: entry for entry in entries}
    asked_for = {name for name, entry in pinned.items() if "drawerwright (pyproject.toml" in entry}
    assert asked_for == names(declared)
    for name, entry in pinned.items():
        assert re.match(r"[a-z0-9.-]+==\S+", entry), name
        assert "--hash=sha256:" in entry, name
        needed_by = set(re.findall(r"^    #(?: via|  ) +([a-z0-9-]+)", entry, re.MULTILINE))
        assert needed_by & {*pinned, "drawerwright"}, name
    assert "index-url" not in text.split("\n", 2)[2]


def test_the_version_is_told_alike_and_has_its_changes() -> None:
    version = PROJECT["project"]["version"]
    assert drawerwright.__version__ == version
    headings = re.findall(r"^## (.+)$", (ROOT / "CHANGELOG.md").read_text("utf-8"), re.MULTILINE)
    assert headings[:2] == ["Unreleased", version]
