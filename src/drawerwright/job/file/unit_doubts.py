"""Lengths of a user's file whose unit is in doubt."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import at_plus_minus, unit_named
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.file.file_units import UNITS, digits, lengths_in
from drawerwright.job.file.reading import field_name


def unit_findings(data: Any, model: type[BaseModel]) -> tuple[Finding, ...]:
    """Bare numbers beside lengths in inches, in a file that does not say what its bare numbers are."""
    if not isinstance(data, dict) or data.get(UNITS) is not None:
        return ()
    groups: dict[EntryPath, list[tuple[EntryPath, Any]]] = {}
    for path, value in lengths_in(data, model, ()):
        # The members of a list are told together with the entries beside the list.
        names = [place for place, step in enumerate(path) if isinstance(step, str)]
        groups.setdefault(path[: names[-1]], []).append((path, value))
    found = []
    for members in groups.values():
        if any("in" in _named_in(value) for _path, value in members):
            found += [
                _doubt(path, value)
                for path, value in members
                if "" in _named_in(value) and not _is_nothing(value)
            ]
    return tuple(found)


def _doubt(path: EntryPath, value: Any) -> Finding:
    bare = next(bit for bit in _bits(value) if unit_named(bit) == "")
    return Finding(
        "bare-number-beside-inches",
        Severity.WARNING,
        field_name(path),
        phrase(
            "{bare} mm or {bare} in? It names no unit, and lengths beside it are in inches; it is "
            "taken as mm.",
            bare=bare,
        ),
        phrase("Write its unit, or say `units: in` or `units: mm` at the top of the file."),
        entry=tuple(path),
    )


def _is_nothing(value: Any) -> bool:
    """Nothing is nothing in any unit."""
    return isinstance(value, int | float) and value == 0


def _bits(value: Any) -> list[str]:
    """The figures of an entry, as text."""
    if isinstance(value, dict):
        return [bit for each in value.values() for bit in _bits(each)]
    if isinstance(value, str):
        return at_plus_minus(value)
    return [digits(value)] if isinstance(value, int | float) and not isinstance(value, bool) else []


def _named_in(value: Any) -> set[str | None]:
    return {unit_named(bit) for bit in _bits(value)}
