"""What new entries of a job file begin with: a bank, a box, a sheet, a section, front heights by another rule."""

from __future__ import annotations

import copy
import math
from collections.abc import Callable, Sequence
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.cutter_places import cutter_places
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.file.entry_paths import EntryPath, members_at, rows_at, value_at
from drawerwright.job.file.file_units import FileUnit, unit_of
from drawerwright.job.file.front_height_entry import REST, kept_heights
from drawerwright.job.file.job_entries import job_unit
from drawerwright.job.file.reading import entries_of

SIDES = ("width", "height", "depth")
_FRONTS: dict[str, Any] = {"style": "inset", "heights": {"equal": 4}}
FIRST: dict[FileUnit, dict[str, dict[str, Any]]] = {
    "mm": {
        "banks": {
            "name": "bank",
            "opening": {"width": 500, "height": 600, "depth": 450},
            "fronts": _FRONTS,
        },
        "boxes": {"name": "box", "outer": {"width": 300, "depth": 400, "height": 100}},
        "sheets": {"length": 2500, "width": 1250},
        "offcuts": {"length": 600, "width": 300},
        "openings": {
            "name": "carcase",
            "opening": {"width": 1000, "height": 700, "depth": 500},
        },
        "measured": {},
        "dividers": {"thickness": 18, "columns": 2},
        "frame": {"stile": 40, "rail": 40, "board": 18},
        "lengths": {"length": 450},
        "pull": {"hole": 5},
        "scoop": {"width": 110, "depth": 28, "radius": 20},
        "hangers": {"span": 330},
        "banding": {"thickness": 1},
        "notch": {"width": 35, "height": 13},
        "bore": {"diameter": 6, "beside": 7, "above": 24, "depth": 10},
        "locking": {"width": 50, "depth": 80, "height": 12},
        "screws": {"count": 100},
        "edging": {"length": 50_000},
        "glue": {"grams": 750},
    },
    "in": {
        "banks": {
            "name": "bank",
            "opening": {"width": 20, "height": 24, "depth": 18},
            "fronts": _FRONTS,
        },
        "boxes": {"name": "box", "outer": {"width": 12, "depth": 16, "height": 4}},
        "sheets": {"length": 96, "width": 48},
        "offcuts": {"length": 24, "width": 12},
        "openings": {
            "name": "carcase",
            "opening": {"width": 40, "height": 28, "depth": 20},
        },
        "measured": {},
        "dividers": {"thickness": 0.75, "columns": 2},
        "frame": {"stile": 1.5, "rail": 1.5, "board": 0.75},
        "lengths": {"length": 18},
        "pull": {"hole": 0.1875},
        "scoop": {"width": 4.25, "depth": 1.125, "radius": 0.75},
        "hangers": {"span": 12.25, "rail": 0.125, "below": 9.5, "drop": 0.5},
        "banding": {"thickness": 0.02},
        "notch": {"width": 1.375, "height": 0.5},
        "bore": {"diameter": 0.25, "beside": 0.28125, "above": 0.9375, "depth": 0.375},
        "locking": {"width": 2, "depth": 3.125, "height": 0.5},
        "screws": {"count": 100},
        "edging": {"length": "50 ft"},
        "glue": {"grams": 473},
    },
}
"""What a new row, or a section that may be left out, begins with, in a file of each unit.

Hooks of under-mounted runners sit about 11 mm above the underside of a bottom, which lies 13 mm above the lower edges
of the sides (common practice, no source): above the groove of a usual bottom."""
_NAMES = {"bank": phrase("bank"), "box": phrase("box")}
FIRST_HEIGHTS: dict[FileUnit, tuple[float, float]] = {"mm": (100, 10), "in": (4, 0.5)}
"""The height that fronts begin with, and by how much each is taller than the one above."""
FEWEST, MOST = 1, 60
"""A bank has so many fronts."""
PLAIN_COUNT = 4


def next_item(
    name: str | int, items: Sequence[Any], data: Any, say: Callable[[str], str] = str
) -> dict[str, Any]:
    """A new bank, box, sheet or offcut: like the last one, under a new name; else one to begin with.

    `say` puts that name into the reader's language.
    """
    first = FIRST[unit_of(data)]
    if name == "sheets":
        return _next_sheet(items, first["sheets"])
    if name == "offcuts":  # not planned before somebody says that it is there
        return {**_next_sheet(items, first["offcuts"]), "on_hand": 0}
    if name == "lengths":
        return dict(first["lengths"])
    if name == "openings" and not items:
        opening = _own_opening(data) or first["openings"]["opening"]
        return copy.deepcopy({**first["openings"], "opening": opening, "dividers": first["dividers"]})
    if items and isinstance(items[-1], dict):
        fresh: dict[str, Any] = copy.deepcopy(items[-1])
        of = value_at(fresh, ("opening", "of"))
        if of is not None:
            fresh["opening"] = _free_part(data, of)
    else:
        fresh = copy.deepcopy(first["banks" if name == "banks" else "boxes"])
        fresh["name"] = str(say(_NAMES[str(fresh["name"])]))
        stock = next(iter(members_at(data, ("stock",))), None)
        if stock is not None:
            fresh["box"] = {"all": stock}
            of_bottom = _stock_of_bottoms(data, stock)
            if of_bottom is not None:
                fresh["bottom"] = {"stock": of_bottom}
        cutters = cutter_places(data)
        if cutters[0].is_one_of_several:
            fresh["cutter"] = cutters[0].name
    counts = {item.get("name"): item.get("count") for item in items if isinstance(item, dict)}
    stem = str(fresh.get("name", name)).rstrip("0123456789").rstrip() or str(name)
    drawers = counts.get(stem)  # they are called by the same stem and their number
    number = max(len(items), drawers if isinstance(drawers, int) else 0) + 1
    while f"{stem} {number}" in counts:
        number += 1
    fresh["name"] = f"{stem} {number}"
    return fresh


def _own_opening(data: Any) -> dict[str, Any] | None:
    """The carcase of the job, which is what is divided: the opening of its last bank that has one of its own."""
    openings = [value_at(bank, ("opening",)) for bank in rows_at(data, ("banks",))]
    sizes = [{side: value_at(each, (side,)) for side in SIDES} for each in openings]
    return next((each for each in reversed(sizes) if None not in each.values()), None)


def _stock_of_bottoms(data: Any, of_boxes: str) -> str | None:
    """The stock that bottoms of the job are made of; else the thinnest that its boxes are not, None where none is."""
    stock = members_at(data, ("stock",))
    for entry in (*rows_at(data, ("banks",)), *rows_at(data, ("boxes",))):
        name = value_at(entry, ("bottom", "stock"))
        if isinstance(name, str) and name in stock:
            return name
    others = [name for name in stock if name != of_boxes]
    return min(others, key=lambda name: _nominal(value_at(stock, (name, "nominal"))), default=None)


def _nominal(entry: Any) -> Mm:
    """A nominal thickness as typed (mm); one that is none counts as thicker than any."""
    try:
        return parse_length(entry)
    except InvalidValueError:
        return math.inf


def _next_sheet(items: Sequence[Any], first: dict[str, Any]) -> dict[str, Any]:
    last = items[-1] if items and isinstance(items[-1], dict) else first
    return {key: value for key, value in last.items() if key in ("length", "width", "price")}


def with_part_opening(text: str, path: EntryPath, of: Any) -> str:
    """The text whose bank closes an opening of the divided carcase `of`, the first of its columns that nothing closes
    yet; of a carcase of its own again where that is None."""
    if of is None:
        return set_value(text, path, dict(FIRST[job_unit(text)]["banks"]["opening"]))
    data = entries_of(text)
    if value_at(data, (*path, "of")) is not None:
        return set_value(text, (*path, "of"), of)
    return set_value(text, path, _free_part(data, of))


def _free_part(data: Any, of: Any) -> dict[str, Any]:
    """An opening of a divided carcase that nothing closes yet, in its first row."""
    taken = {
        (value_at(row, ("opening", "column")) or 1, value_at(row, ("opening", "row")) or 1)
        for row in (*rows_at(data, ("banks",)), *rows_at(data, ("openings",)))
        if value_at(row, ("opening", "of")) == of
    }
    column = next(number for number in range(1, MOST) if (number, 1) not in taken)
    return {"of": of, "column": column, "row": 1}


def with_section(text: str, path: EntryPath, *, is_wanted: bool) -> str:
    """The text with a section that may be left out, as it begins; or without it.

    Raises:
        InvalidValueError: the path leads to no such section.
    """
    first = FIRST[job_unit(text)].get(str(path[-1]))
    if first is None:
        raise InvalidValueError(phrase("there is no section {name!r} to add", name=path[-1]))
    return set_value(text, path, first if is_wanted else None)


def with_heights_by(rule: str, text: str, path: EntryPath, now: Sequence[Mm] = ()) -> str:
    """The text with the front heights at `path` by another rule, for as many fronts as before; one by one they stay as
    they are `now` (mm), if that is known.

    Raises:
        InvalidValueError: there is no such rule.
    """
    before = get_value(text, path)
    count = count_of(before)
    height, step = FIRST_HEIGHTS[job_unit(text)]
    as_now = kept_heights(now, job_unit(text)) if len(now) == count else [height] * count
    first: dict[str, Any] = {
        "given": [*as_now[:-1], REST],
        "equal": count,
        "arithmetic": {"count": count, "step": step},
        "geometric": {"count": count, "ratio": 1.15},
    }
    if rule not in first:
        raise InvalidValueError(
            phrase(
                "{rule!r} is no rule for front heights: choose one from the list",
                rule=rule,
            )
        )
    text = set_value(text, (*path, rule), first[rule])
    for other in before if isinstance(before, dict) else ():
        if other != rule:
            text = set_value(text, (*path, other), None)
    return text


def count_of(heights: Any) -> int:
    """How many fronts an entry of heights asks for, whatever its rule; a plain number where that is unclear."""
    for value in heights.values() if isinstance(heights, dict) else ():
        if isinstance(value, dict):
            value = value.get("count")
        count = len(value) if isinstance(value, Sequence) and not isinstance(value, str) else value
        if isinstance(count, int) and FEWEST <= count <= MOST:
            return count
    return PLAIN_COUNT
