"""Lengths of a user's file whose unit is in doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from drawerwright.basics import usual
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import MM_PER_INCH, Mm
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.basics.typed_lengths import at_plus_minus, parse_length, unit_named
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.file.file_units import UNITS, FileUnit, digits, lengths_in, unit_of
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


@dataclass(frozen=True, slots=True)
class _Usual:
    """What a length of some entries measures (mm), by the last names on their paths; common practice, no source."""

    above: str
    names: tuple[str, ...]
    what: Phrase
    least: Mm
    most: Mm

    def rules(self, path: EntryPath) -> bool:
        """Whether the entry at a path is one of them."""
        *above, name = [step for step in path if isinstance(step, str)] or [""]
        return name in self.names and self.above in above

    @property
    def range(self) -> dict[str, RoughLength]:
        """From where to where, for a phrase."""
        return {"least": _roughly(self.least), "most": _roughly(self.most)}

    def takes(self, length: Mm) -> bool:
        return self.least <= length <= self.most


def _roughly(length: Mm) -> RoughLength:
    inches = length / MM_PER_INCH
    return RoughLength(f"{length:g} mm", f"{inches:.0f} in" if inches >= 10 else f"{inches:.2g} in")


_USUAL = (
    _Usual("opening", ("width", "height", "depth"), phrase("an opening for drawers"), 25.0, 4000.0),
    _Usual("outer", ("width", "height", "depth"), phrase("a box"), 15.0, 4000.0),
    _Usual(
        "cutter",
        ("mid_depth", "step"),
        phrase("a cutter's mid depth or step"),
        usual.LEAST_CUTTER_MEASURE,
        usual.THICKEST,
    ),
    _Usual("cutter", ("diameter",), phrase("a cutter's diameter"), 6.0, 150.0),
    _Usual("cutter", ("cutting_height",), phrase("a cutting height"), 2.5, 100.0),
    _Usual("stock", ("nominal",), phrase("the stock of drawers"), usual.THINNEST, 3 * usual.THICKEST),
    _Usual("sheets", ("length",), phrase("a sheet's length"), 200.0, 30_000.0),
    _Usual("saw", ("kerf",), phrase("a saw's kerf"), 0.5, 10.0),
    _Usual("runner", ("length",), phrase("a runner"), 100.0, 2000.0),
)
"""Wide enough that what lies outside, and within in the other unit, is a slip of the unit."""
A_WHOLE_FILE = 4
"""So many slips of the unit are one, of the whole file."""
_IN_MM: Mapping[FileUnit, Mm] = {"mm": 1.0, "in": MM_PER_INCH}


_NAMES: Mapping[FileUnit, Phrase] = {"mm": phrase("millimetres"), "in": phrase("inches")}


def unlikely_units(data: Any, model: type[BaseModel]) -> tuple[Finding, ...]:
    """Bare numbers that nothing of their kind measures, and that would be usual in the other unit."""
    unit = unit_of(data)
    other: FileUnit = "in" if unit == "mm" else "mm"
    found = []
    for path, value in lengths_in(data, model, ()):
        rule = next((rule for rule in _USUAL if rule.rules(path)), None)
        bare = next(iter(_bits(value)), "")
        if rule is None or unit_named(bare) != "":
            continue
        number = parse_length(bare)
        if not rule.takes(number * _IN_MM[unit]) and rule.takes(number * _IN_MM[other]):
            found.append(_unlikely(path, bare, rule, unit, other))
    return (_of_the_whole(found, unit, other),) if len(found) >= A_WHOLE_FILE else tuple(found)


def _of_the_whole(found: Sequence[Finding], unit: FileUnit, other: FileUnit) -> Finding:
    return Finding(
        "unit-unlikely",
        Severity.STOP,
        UNITS,
        phrase(
            "{count} numbers without a unit are taken as {unit} and are far from usual: {where}.",
            count=len(found),
            unit=_NAMES[unit],
            where=joined([each.where for each in found], ", "),
        ),
        phrase(
            "Did you mean all of them in {inches}? Say `units: {other}` at the top of the file.",
            inches=_NAMES[other],
            other=other,
        ),
        entry=(UNITS,),
    )


def doubt_of_a_table(unit: FileUnit, asked: str) -> Finding:
    """What is said instead of a slip of the whole file where a table brought it: the file's own lengths are right.

    unit: as which its bare numbers were read; asked: where that is said for all of them.
    """
    return Finding(
        "unit-unlikely",
        Severity.STOP,
        UNITS,
        phrase("numbers of the table are taken as {unit} and are far from usual.", unit=_NAMES[unit]),
        phrase(
            "Did you mean {other}? Say so in the headings of the columns or for all of them ({asked}).",
            other=_NAMES["in" if unit == "mm" else "mm"],
            asked=asked,
        ),
        entry=(UNITS,),
    )


def _unlikely(path: EntryPath, bare: str, rule: _Usual, unit: FileUnit, other: FileUnit) -> Finding:
    return Finding(
        "unit-unlikely",
        Severity.STOP,
        field_name(path),
        phrase(
            "{bare} is taken as {bare} {unit}, but {what} usually measures {least} to {most}.",
            bare=bare,
            unit=unit,
            what=rule.what,
            **rule.range,
        ),
        phrase(
            "Did you mean {bare} {other}? Write the unit after the number, whichever it is.",
            bare=bare,
            other=other,
        ),
        entry=tuple(path),
    )


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
