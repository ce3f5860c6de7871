"""What the entries of an instance may hold: everything that is not understood is said before anything is planned."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeGuard

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm

LONGEST_SHEET: Mm = 20_000
"""No panel on sale is longer (common practice, no source); what is found grows with the square of it."""
LONGEST_BAR: Mm = 1_000_000
"""Published bars are up to 100 m long."""
SHORTEST: Mm = 0.001
"""Far below what any saw cuts; what is shorter is lost on the planner's grid."""
WIDEST_KERF: Mm = 100
MOST_PARTS = 100_000
"""Of all kinds together: sixty times the largest published instance."""
MOST_KINDS = 2_000
LARGEST_COST = 1e9
LONGEST_NAME = 200
LONGEST_WORD = 40


def check_instance(data: Mapping[str, Any]) -> None:
    """Check the shape of an instance.

    Raises:
        InvalidValueError: an entry is missing, of another kind, or beyond its limit; the first one is named.
    """
    name = data.get("name", "instance")
    if not isinstance(name, str) or len(name) > LONGEST_NAME:
        raise InvalidValueError(f"an instance's name must be text of up to {LONGEST_NAME} characters")
    say = _Said(name)
    for field in ("objective", "cut_type", "first_cut"):
        given = data.get(field, "")
        say.check(field, given, isinstance(given, str) and len(given) <= LONGEST_WORD, "one of its words")
    for field in ("rotation", "exact"):
        say.check(field, data.get(field), isinstance(data.get(field, False), bool), "true or false")
    stages = data.get("stages", 2)
    say.check("stages", stages, _is_whole(stages) and 0 <= stages < 10, "a whole number")
    say.number("kerf", data.get("kerf", 0), least=0, most=WIDEST_KERF, unit="mm")
    # An empty list of sheets stands for the one sheet, as it does in published files.
    sheets = data["sheets"] if data.get("sheets") else [say.needed(data, "sheet")]
    sheets = say.entries("sheets", sheets)
    is_bars = sheets[0].get("width") is None
    for number, sheet in enumerate(sheets, start=1):
        where = f"sheet {number}: "
        say.size(where, sheet, is_bars=is_bars)
        count = sheet.get("count")
        is_count = count is None or (_is_whole(count) and count >= 0)
        say.check(f"{where}count", count, is_count, "a whole number of zero or more")
        if sheet.get("cost") is not None:
            say.number(f"{where}cost", sheet["cost"], least=0, most=LARGEST_COST)
    items = say.entries("items", say.needed(data, "items"))
    for number, item in enumerate(items):
        say.size(f"part {number}: ", item, is_bars=is_bars)
        demand = item.get("demand")
        is_demand = _is_whole(demand) and demand >= 0
        say.check(f"part {number}: demand", demand, is_demand, "a whole number of zero or more")
    parts = sum(item["demand"] for item in items)
    if parts > MOST_PARTS:
        raise InvalidValueError(
            f"{name}: asks for {_shown(parts)} parts; {MOST_PARTS:,} are the limit: split the instance"
        )


class _Said:
    """Says what is wrong with an entry of the instance `name`."""

    def __init__(self, name: str) -> None:
        self._name = name

    def needed(self, data: Mapping[str, Any], field: str) -> Any:
        if data.get(field) is None:
            raise InvalidValueError(f"{self._name}: the entry {field!r} is missing")
        return data[field]

    def check(self, field: str, given: object, is_right: bool, wanted: str) -> None:
        if not is_right:
            raise InvalidValueError(f"{self._name}: {field} must be {wanted}, not {_shown(given)}")

    def entries(self, field: str, given: object) -> list[dict[str, Any]]:
        is_list = isinstance(given, list) and 0 < len(given) <= MOST_KINDS
        self.check(field, given, is_list, f"a list of 1 to {MOST_KINDS:,} entries")
        assert isinstance(given, list)
        for number, entry in enumerate(given):
            self.check(f"{field}[{number}]", entry, isinstance(entry, dict), "an object with its length")
        return given

    def size(self, where: str, entry: Mapping[str, Any], *, is_bars: bool) -> None:
        most = LONGEST_BAR if is_bars else LONGEST_SHEET
        for field in ("length",) if is_bars else ("length", "width"):
            if entry.get(field) is None:
                raise InvalidValueError(f"{self._name}: {where}the entry {field!r} is missing")
            self.number(f"{where}{field}", entry[field], least=SHORTEST, most=most, unit="mm")

    def number(self, field: str, given: object, *, least: float, most: float, unit: str = "") -> None:
        is_number = isinstance(given, int | float) and not isinstance(given, bool)
        is_right = is_number and least <= given <= most  # type: ignore[operator]
        self.check(field, given, is_right, f"a number from {least:g} to {most:,.0f} {unit}".rstrip())


def _is_whole(given: object) -> TypeGuard[int]:
    return isinstance(given, int) and not isinstance(given, bool)


def _shown(given: object) -> str:
    try:
        text = repr(given)
    except ValueError:  # more digits than Python writes
        return "that many digits"
    return text if len(text) <= 60 else f"{text[:60]}…"
