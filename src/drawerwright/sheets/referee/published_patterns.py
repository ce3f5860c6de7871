"""An independent check of the patterns given for a published instance; shares no code with the planner."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, groupby, pairwise
from typing import Any

Data = Mapping[str, Any]


def check_patterns(instance: Data, value: float, patterns: Sequence[Sequence[Data]]) -> list[str]:
    """Everything wrong with `patterns` as an answer of `value` to `instance`; empty when nothing is.

    The first stage parts a sheet into bands, the second a band into rows from edge to edge, the third a row into
    parts. After the last stage that is allowed, one more cut may trim each part, unless the kind of cutting forbids
    it: `exact` trims nothing, `homogenous` has parts of one kind alone in a row.
    """
    sheets = instance.get("sheets") or [instance["sheet"]]
    items = instance["items"]
    wrong: list[str] = []
    made: Counter[int] = Counter()
    used: Counter[int] = Counter()
    for number, bands in enumerate(patterns, start=1):
        kinds = {band["sheet"] for band in bands}
        parts = [part["item"] for band in bands for part in band["parts"]]
        unknown = [item for item in parts if item not in range(len(items))]
        if len(kinds) != 1 or not kinds <= set(range(len(sheets))):
            wrong.append(f"pattern {number} names the sheets {sorted(kinds)}, one of {len(sheets)} is wanted")
            continue
        if unknown:
            wrong.append(f"pattern {number} names the parts {unknown}, there are {len(items)}")
            continue
        used.update(kinds)
        sheet = sheets[kinds.pop()]
        check = _check_bar if sheet.get("width") is None else _check_sheet
        wrong += [f"pattern {number}: {text}" for text in check(instance, sheet, bands)]
        made.update(parts)
    for item, entry in enumerate(items):
        if made[item] != entry["demand"]:
            wrong.append(f"part {item}: {entry['demand']} wanted, {made[item]} cut")
    for kind, count in used.items():
        limit = sheets[kind].get("count")
        if limit is not None and count > limit:
            wrong.append(f"sheet {kind}: {count} used, {limit} at hand")
    priced = instance.get("objective") == "min_cost"
    total = sum(
        ((_exact(sheets[kind]["cost"]) if priced else Fraction(1)) * count for kind, count in used.items()),
        Fraction(0),
    )
    if total != _exact(value):
        wrong.append(f"value {value} given, {float(total)} counted")
    return wrong


def _exact(number: float) -> Fraction:
    return Fraction(str(number))


def _kerf(instance: Data) -> Fraction:
    return _exact(instance.get("kerf", 0))


def _check_bar(instance: Data, sheet: Data, bands: Sequence[Data]) -> Iterator[str]:
    place = Fraction(0)
    for band in bands:
        for part in band["parts"]:
            if _exact(part["length"]) != _exact(instance["items"][part["item"]]["length"]):
                yield f"part {part['item']} has length {part['length']}"
            if _exact(part["position"]) < place:
                yield f"part {part['item']} at {part['position']} is not a kerf from the one before"
            place = _exact(part["position"]) + _exact(part["length"]) + _kerf(instance)
    if place - _kerf(instance) > _exact(sheet["length"]):
        yield "parts reach beyond the bar"


def _check_sheet(instance: Data, sheet: Data, bands: Sequence[Data]) -> Iterator[str]:
    along = {band["first_cut"] for band in bands}
    wanted = instance.get("first_cut", "across_length")
    if len(along) != 1 or (wanted != "any" and along != {wanted}):
        yield f"first cuts {sorted(along)}, {wanted} wanted"
    across = "across_length" in along
    length, width = _exact(sheet["length"]), _exact(sheet["width"])
    deep, tall = (length, width) if across else (width, length)
    place = Fraction(0)
    for band in sorted(bands, key=lambda band: _exact(band["position"])):
        start, breadth = _exact(band["position"]), _exact(band["width"])
        if start < place:
            yield f"the band at {band['position']} is not a kerf from the one before"
        place = start + breadth + _kerf(instance)
        if start + breadth > deep:
            yield f"the band at {band['position']} reaches beyond the sheet"
        yield from _check_band(instance, band, tall, across)


@dataclass(frozen=True, slots=True)
class _Box:
    """A part in its band: u across the band, v along it."""

    item: int
    u0: Fraction
    v0: Fraction
    u1: Fraction
    v1: Fraction


def _check_band(instance: Data, band: Data, tall: Fraction, across: bool) -> Iterator[str]:
    start, end = _exact(band["position"]), _exact(band["position"]) + _exact(band["width"])
    boxes: list[_Box] = []
    for part in band["parts"]:
        item = instance["items"][part["item"]]
        if (_exact(part["length"]), _exact(part["width"])) != (_exact(item["length"]), _exact(item["width"])):
            yield f"part {part['item']} is {part['length']} × {part['width']}"
        if part["turned"] and not instance.get("rotation"):
            yield f"part {part['item']} may not be turned"
        x_extent, y_extent = _exact(item["length"]), _exact(item["width"])
        if part["turned"]:
            x_extent, y_extent = y_extent, x_extent
        u, v = (part["x"], part["y"]) if across else (part["y"], part["x"])
        du, dv = (x_extent, y_extent) if across else (y_extent, x_extent)
        box = _Box(part["item"], _exact(u), _exact(v), _exact(u) + du, _exact(v) + dv)
        boxes.append(box)
        if box.u0 < start or box.u1 > end or box.v0 < 0 or box.v1 > tall:
            yield f"part {box.item} reaches beyond its band or the sheet"
        if _exact(part["position"]) != box.v0:
            yield f"part {box.item} is said to lie at {part['position']} and lies at {float(box.v0)}"
    yield from _check_rows(instance, boxes, start, end)


def _check_rows(instance: Data, boxes: list[_Box], start: Fraction, end: Fraction) -> Iterator[str]:
    """Whether the stages that are allowed free every part of a band."""
    stages, kerf = instance.get("stages", 2), _kerf(instance)
    kind = instance.get("cut_type") or ("exact" if instance.get("exact") else "non-exact")
    for one, other in combinations(boxes, 2):
        apart = (
            one.u1 + kerf <= other.u0
            or other.u1 + kerf <= one.u0
            or one.v1 + kerf <= other.v0
            or other.v1 + kerf <= one.v0
        )
        if not apart:
            yield f"parts {one.item} and {other.item} overlap or leave no kerf"
    boxes = sorted(boxes, key=lambda box: (box.v0, box.u0))
    rows = [list(row) for _, row in groupby(boxes, key=lambda box: box.v0)]
    for row, following in pairwise(rows):
        if max(box.v1 for box in row) + kerf > following[0].v0:
            yield f"part {following[0].item} is not freed in {stages} stages: no cut from edge to edge runs before it"
    for row in rows:
        if stages == 2 and (len(row) > 1 or row[0].u0 != start):
            yield f"part {row[-1].item} is not freed in 2 stages: it does not fill its band from the edge"
        if kind == "exact" and stages == 2 and (row[0].u0, row[-1].u1) != (start, end):
            yield f"part {row[-1].item} is not as wide as its band"
        if kind == "exact" and stages == 3 and len({box.v1 for box in row}) > 1:
            yield f"part {row[-1].item} is not as high as its row"
        if kind == "homogenous" and len({(box.item, box.v1) for box in row}) > 1:
            yield f"a row of parts of one kind holds {sorted({box.item for box in row})}"
