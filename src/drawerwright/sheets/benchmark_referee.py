"""An independent check of the patterns given for a published instance; shares no code with the planner."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any


def check_patterns(
    instance: Mapping[str, Any], value: float, patterns: Sequence[Sequence[Mapping[str, Any]]]
) -> list[str]:
    """Everything wrong with `patterns` as an answer of `value` to `instance`; empty when nothing is.

    Checks one and two stages, and three stages for parts inside their band, apart by a kerf and on the sheet.
    """
    sheets = instance.get("sheets") or [instance["sheet"]]
    items = instance["items"]
    kerf = _exact(instance["kerf"])
    wrong: list[str] = []
    made: Counter[int] = Counter()
    used: Counter[int] = Counter()
    for number, bands in enumerate(patterns, start=1):
        kinds = {band["sheet"] for band in bands}
        if len(kinds) != 1:
            wrong.append(f"pattern {number} names the sheets {sorted(kinds)}")
            continue
        used.update(kinds)
        sheet = sheets[kinds.pop()]
        wrong += [
            f"pattern {number}: {text}"
            for text in (
                _check_bar(sheet, items, bands, kerf)
                if sheet.get("width") is None
                else _check_sheet(instance, sheet, bands, kerf)
            )
        ]
        made.update(part["item"] for band in bands for part in band["parts"])
    for item, entry in enumerate(items):
        if made[item] != entry["demand"]:
            wrong.append(f"part {item}: {entry['demand']} wanted, {made[item]} cut")
    for kind, count in used.items():
        limit = sheets[kind].get("count")
        if limit is not None and count > limit:
            wrong.append(f"sheet {kind}: {count} used, {limit} at hand")
    priced = instance["objective"] == "min_cost"
    total = sum(
        ((_exact(sheets[kind]["cost"]) if priced else Fraction(1)) * count for kind, count in used.items()),
        Fraction(0),
    )
    if total != _exact(value):
        wrong.append(f"value {value} given, {float(total)} counted")
    return wrong


def _exact(number: float) -> Fraction:
    return Fraction(str(number))


def _check_bar(
    sheet: Mapping[str, Any],
    items: Sequence[Mapping[str, Any]],
    bands: Sequence[Mapping[str, Any]],
    kerf: Fraction,
) -> list[str]:
    wrong = []
    place = Fraction(0)
    for band in bands:
        for part in band["parts"]:
            if _exact(part["length"]) != _exact(items[part["item"]]["length"]):
                wrong.append(f"part {part['item']} has length {part['length']}")
            if _exact(part["position"]) < place:
                wrong.append(f"part {part['item']} at {part['position']} is not a kerf from the one before")
            place = _exact(part["position"]) + _exact(part["length"]) + kerf
    if place - kerf > _exact(sheet["length"]):
        wrong.append("parts reach beyond the bar")
    return wrong


def _check_sheet(
    instance: Mapping[str, Any], sheet: Mapping[str, Any], bands: Sequence[Mapping[str, Any]], kerf: Fraction
) -> list[str]:
    wrong: list[str] = []
    along = {band["first_cut"] for band in bands}
    if len(along) != 1 or (instance["first_cut"] != "any" and along != {instance["first_cut"]}):
        wrong.append(f"first cuts {sorted(along)}, {instance['first_cut']} wanted")
    across = "across_length" in along
    length, width = _exact(sheet["length"]), _exact(sheet["width"])
    deep = length if across else width
    tall = width if across else length
    place = Fraction(0)
    for band in sorted(bands, key=lambda band: float(band["position"])):
        start, breadth = _exact(band["position"]), _exact(band["width"])
        if start < place:
            wrong.append(f"the band at {band['position']} is not a kerf from the one before")
        place = start + breadth + kerf
        if start + breadth > deep:
            wrong.append(f"the band at {band['position']} reaches beyond the sheet")
        wrong += _check_band(instance, band, kerf, tall, across)
    return wrong


def _check_band(
    instance: Mapping[str, Any], band: Mapping[str, Any], kerf: Fraction, tall: Fraction, across: bool
) -> list[str]:
    wrong: list[str] = []
    start, breadth = _exact(band["position"]), _exact(band["width"])
    boxes: list[tuple[Fraction, Fraction, Fraction, Fraction]] = []
    for part in band["parts"]:
        item = instance["items"][part["item"]]
        if (_exact(part["length"]), _exact(part["width"])) != (_exact(item["length"]), _exact(item["width"])):
            wrong.append(f"part {part['item']} is {part['length']} × {part['width']}")
        if part["turned"] and not instance["rotation"]:
            wrong.append(f"part {part['item']} may not be turned")
        x_extent, y_extent = _exact(item["length"]), _exact(item["width"])
        if part["turned"]:
            x_extent, y_extent = y_extent, x_extent
        u, v = (part["x"], part["y"]) if across else (part["y"], part["x"])
        du, dv = (x_extent, y_extent) if across else (y_extent, x_extent)
        boxes.append((_exact(u), _exact(v), _exact(u) + du, _exact(v) + dv))
        if _exact(u) < start or _exact(u) + du > start + breadth or _exact(v) < 0 or _exact(v) + dv > tall:
            wrong.append(f"part {part['item']} reaches beyond its band or the sheet")
        if instance["stages"] == 2 and _exact(u) != start:
            wrong.append(f"part {part['item']} does not lie at the edge of its band")
        if instance["cut_type"] == "exact" and du != breadth:
            wrong.append(f"part {part['item']} is not as wide as its band")
    for number, one in enumerate(boxes):
        for other in boxes[number + 1 :]:
            apart = (
                one[2] + kerf <= other[0]
                or other[2] + kerf <= one[0]
                or one[3] + kerf <= other[1]
                or other[3] + kerf <= one[1]
            )
            if not apart:
                wrong.append(f"two parts of the band at {band['position']} overlap or leave no kerf")
    return wrong
