"""Parts that are made already, held against the plan as it is now: which still fit, which can be cut down.

A tick of the run keeps the sizes that its step gives to parts: a band has their length, ripping gives their width, and
the router their ends. What is kept is plain text, since it outlives the plan that it was made by.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from drawerwright.basics.json_text import read_json
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.run.marks import PartName
from drawerwright.run.work import CutSheet, Rip, Rout, TakeWhole, Work

FRONTS = (PartKind.APPLIED_FRONT, PartKind.FALSE_FRONT)
SAME: Mm = 0.06
"""Sizes that differ by less are one: half a step of 0.1 mm, and what rounding leaves."""
LARGEST: Mm = 1e6
"""No part is a kilometre long."""
LONGEST_TEXT = 200_000
"""Characters of what one tick keeps: a sheet of a thousand parts has less."""


@dataclass(frozen=True, slots=True)
class MadePart:
    """A part as it was made, as far as it is (mm); None what is not cut yet. `stock` is the stock's key or its name,
    `ends` tell the corners that it was routed for."""

    label: str
    stock: str
    length: Mm | None = None
    width: Mm | None = None
    ends: tuple[str, ...] = ()


class Standing(StrEnum):
    """What is to be done with a part that was made."""

    FITS = "fits"
    CUT_DOWN = "cut-down"
    RECUT = "recut"
    SPARE = "spare"

    @property
    def words(self) -> Phrase:
        """In the reader's language."""
        return _WORDS[self]


_WORDS = {
    Standing.FITS: phrase("still fits"),
    Standing.CUT_DOWN: phrase("cut it down"),
    Standing.RECUT: phrase("cut it anew"),
    Standing.SPARE: phrase("not needed any more"),
}


@dataclass(frozen=True, slots=True)
class ComparedPart:
    """A part that was made beside the same one of the plan as it is now (None where there is none any more)."""

    made: MadePart
    now: Part | None
    standing: Standing
    why: Phrase | None = None


def made_by(work: Iterable[Work], parts: Iterable[Part]) -> tuple[MadePart, ...]:
    """What a step makes of the parts of its plan."""
    known = {PartName.of(part): part for part in parts}
    found: dict[str, MadePart] = {}

    def note(name: PartName, *, length: bool = False, width: bool = False, ends: bool = False) -> None:
        part = known.get(name)
        if part is not None:
            made = found.get(part.label, MadePart(part.label, part.stock.key))
            found[part.label] = replace(
                made,
                length=part.blank_length if length else made.length,
                width=part.blank_width if width else made.width,
                ends=_ends(part) if ends else made.ends,
            )

    for item in work:
        if isinstance(item, CutSheet):
            for loose in item.loose:
                note(loose.part, length=True, width=True)
            for band in item.bands:
                for name in band.parts:
                    note(name, length=True)
        elif isinstance(item, Rout):
            for band in item.bands:
                for name in band.parts:
                    note(name, ends=True)
        elif isinstance(item, Rip):
            for cut in item.cuts:
                for freed in (cut.frees, cut.leaves):
                    if freed is not None:
                        note(freed, width=True)
        elif isinstance(item, TakeWhole):
            for band in item.bands:
                for name in band.parts:
                    note(name, width=True)
    return tuple(found.values())


def _ends(part: Part) -> tuple[str, ...]:
    return tuple(end.corner.token for end in part.ends if end.is_routed)


def kept_text(made: Sequence[MadePart]) -> str:
    """What a tick keeps of the parts that its step made; empty where it made none."""
    if not made:
        return ""
    rows = [[part.label, part.stock, part.length, part.width, list(part.ends)] for part in made]
    return json.dumps(rows, ensure_ascii=False, separators=(",", ":"))


def read_kept(texts: Iterable[str]) -> tuple[MadePart, ...]:
    """The parts that ticks have kept, each once with all that is known of it; what cannot be read is left out."""
    found: dict[str, MadePart] = {}
    for text in texts:
        for row in _rows(text):
            label, stock, length, width, ends = row
            before = found.get(label, MadePart(label, stock))
            found[label] = MadePart(
                label,
                stock,
                before.length if length is None else float(length),
                before.width if width is None else float(width),
                tuple(ends) or before.ends,
            )
    return tuple(found.values())


def _rows(text: str) -> list[list[Any]]:
    try:
        rows = read_json(text) if text and len(text) <= LONGEST_TEXT else []
    except ValueError:  # lists within lists within lists
        return []
    return [row for row in rows if _is_row(row)] if isinstance(rows, list) else []


def _is_row(row: Any) -> bool:
    if not isinstance(row, list) or len(row) != 5:
        return False
    label, stock, length, width, ends = row
    sizes = all(
        size is None or (type(size) in (int, float) and 0 < size < LARGEST) for size in (length, width)
    )
    return (
        isinstance(label, str)
        and isinstance(stock, str)
        and sizes
        and isinstance(ends, list)
        and all(isinstance(end, str) for end in ends)
    )


def of_plan_data(data: Mapping[str, Any]) -> tuple[MadePart, ...]:
    """The parts of a `plan.json`, as they are when all of it has been cut and routed."""
    return tuple(
        MadePart(
            str(part["label"]),
            str(part["stock"]),
            *_whole_size(part),
            tuple(str(end.get("corner_key", "")) for end in part["ends"] if end["setup"] is not None),
        )
        for part in data["parts"]
    )


def _whole_size(part: Mapping[str, Any]) -> tuple[Mm, Mm]:
    """Length and width, of what is cut larger at first as it is when it has been trimmed."""
    trimmed = part.get("trimmed")
    if trimmed:
        return float(trimmed["length"]), float(trimmed["width"])
    return float(part["cut_length"]), float(part["cut_width"])


def compared_parts(made: Iterable[MadePart], parts: Iterable[Part]) -> tuple[ComparedPart, ...]:
    """Parts as they were made, each with what becomes of it now, in the order of the parts list; what is not on it any
    more last."""
    now = {part.label: part for part in parts}
    places = {label: place for place, label in enumerate(now)}
    found = [_compared(each, now.get(each.label)) for each in made]
    return tuple(sorted(found, key=lambda each: places.get(each.made.label, len(places))))


def _compared(made: MadePart, now: Part | None) -> ComparedPart:
    if now is None:
        return ComparedPart(made, None, Standing.SPARE)
    if made.stock not in (now.stock.key, now.stock.name):
        return ComparedPart(
            made, now, Standing.RECUT, phrase("it is now made of {stock}", stock=now.stock.name)
        )
    longer = _more(made.length, now.cut_length, now.oversize)
    wider = _more(made.width, now.cut_width, now.oversize)
    if longer < -SAME:
        why = phrase("too short by {size}", size=millimetres(-longer, ".1f"))
        return ComparedPart(made, now, Standing.RECUT, why)
    if wider < -SAME:
        size = millimetres(-wider, ".1f")
        why = (
            phrase("too narrow by {size}", size=size)
            if _lies(now)
            else phrase("too low by {size}", size=size)
        )
        return ComparedPart(made, now, Standing.RECUT, why)
    has_other_ends = _differ(made.ends, _ends(now))
    if made.ends and (longer > SAME or has_other_ends):
        # The routed ends have to go, and with them as much as the wood is thick at each (common practice, no source).
        if longer < 2 * now.thickness - SAME:
            why = (
                phrase("its ends are routed for another corner")
                if has_other_ends
                else phrase("too long by {size}: its routed ends would stay", size=millimetres(longer, ".1f"))
            )
            return ComparedPart(made, now, Standing.RECUT, why)
        return ComparedPart(
            made,
            now,
            Standing.CUT_DOWN,
            phrase(
                "cut off {size} at both ends, half at each, then rout them", size=millimetres(longer, ".1f")
            ),
        )
    if longer > SAME or wider > SAME:
        why = _less_of_a_front(longer, wider) if now.kind in FRONTS else _less(longer, wider, _lies(now))
        return ComparedPart(made, now, Standing.CUT_DOWN, why)
    return ComparedPart(made, now, Standing.FITS)


def _differ(made: Sequence[str], now: Sequence[str]) -> bool:
    """Whether ends were routed for other corners; of an end that is routed for nobody knows which, it is not said."""
    if not made:
        return False
    return len(made) != len(now) or any(one and one != other for one, other in zip(made, now, strict=True))


def _more(size: Mm | None, wanted: Mm, oversize: Mm) -> Mm:
    """How much larger it is than wanted, but for what is trimmed anyway."""
    more = 0.0 if size is None else size - wanted
    return 0.0 if 0 <= more <= oversize + SAME else more


def _lies(part: Part) -> bool:
    """Whether its width is no height: it has no upper edge."""
    return part.kind is PartKind.BOTTOM or part.is_upright


def _less(longer: Mm, wider: Mm, lies: bool) -> Phrase:
    length, width = millimetres(longer, ".1f"), millimetres(wider, ".1f")
    if wider <= SAME:
        return phrase("cut {size} off its length", size=length)
    if lies:
        off_width = phrase("rip {size} off its width", size=width)
        return (
            off_width
            if longer <= SAME
            else joined((phrase("cut {size} off its length", size=length), off_width), "; ")
        )
    if longer <= SAME:
        return phrase("rip {size} off its upper edge", size=width)
    return phrase(
        "cut {length} off its length and rip {width} off its upper edge", length=length, width=width
    )


def _less_of_a_front(longer: Mm, wider: Mm) -> Phrase:
    """Of boards in which holes for pulls may be bored."""
    said = []
    if longer > SAME:
        size = millimetres(longer, ".1f")
        said.append(
            phrase("cut {size} off its length, half at each end if it is bored for a pull", size=size)
        )
    if wider > SAME:
        size = millimetres(wider, ".1f")
        said.append(
            phrase("cut {size} off its width, half at each edge if it is bored for a pull", size=size)
        )
    return joined(said, "; ")
