"""The cut list: each setting of the saw once over all sheets of a stock, wherever a piece is free in time.

First come the trims, last the ripping of the bands, which have been routed by then. What is numbered on the drawings,
listed in the packet and done step by step in the run is this order, found by `cut_order`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.cut_order import CutKind, OrderedCut, fewest_settings
from drawerwright.sheets.patterns import Cut, SheetLayout
from drawerwright.sheets.sheet_stock import SheetSize

SAME_SETTING: Mm = 0.001
"""Positions of the saw's fence nearer than this are one."""
TRIM_STAGE = 0


@dataclass(frozen=True, slots=True)
class SheetCuts:
    """The cuts of one sheet at one setting: the sheet's number from 1 within its stock, and theirs on it."""

    sheet: int
    numbers: tuple[int, ...]


def stacks_of(layouts: Sequence[SheetLayout], most: int) -> tuple[tuple[int, ...], ...]:
    """The sheets of one stock, by their numbers from 1, in stacks of at most so many that are cut alike until their
    bands are routed and ripped."""
    alike: dict[tuple[SheetSize, tuple[Cut, ...]], list[int]] = {}
    for number, layout in enumerate(layouts, start=1):
        cuts = tuple(cut for cut in layout.cuts if not cut.ripping)
        alike.setdefault((layout.size, cuts), []).append(number)
    stacks = [
        tuple(sheets[first : first + most])
        for sheets in alike.values()
        for first in range(0, len(sheets), most)
    ]
    return tuple(sorted(stacks))


@dataclass(frozen=True, slots=True)
class SawSetting:
    """Everything that is cut before fence or stop is moved.

    `length` (mm) is what comes free between fence and blade, None for the trimming of edges. A crosscut runs across the
    sheet's length. `is_ripping` where bands that have been routed are ripped.
    """

    length: Mm | None
    is_crosscut: bool
    is_ripping: bool
    sheets: tuple[SheetCuts, ...]

    def count(self, stacks: Iterable[tuple[int, ...]]) -> int:
        """How many cuts are made: of sheets in one stack those of one; bands are ripped one by one."""
        below = set() if self.is_ripping else {sheet for stack in stacks for sheet in stack[1:]}
        return sum(len(each.numbers) for each in self.sheets if each.sheet not in below)


TRIMS = -1
"""The setting of trims, which need none."""


def in_saw_order(layouts: Sequence[SheetLayout]) -> tuple[tuple[SheetLayout, ...], tuple[SawSetting, ...]]:
    """The sheets of one stock with their cuts numbered in the order of the saw, and the settings of this order."""
    on_sheets, free = _by_piece(layouts)
    ordered: list[list[Cut]] = [[] for _ in layouts]
    settings = []
    for kind, places in fewest_settings([each.task for each in on_sheets], free):
        cuts = []
        for place in places:
            sheet, cut = on_sheets[place].sheet, on_sheets[place].cut
            numbered = replace(cut, order=len(ordered[sheet]) + 1)
            ordered[sheet].append(numbered)
            cuts.append((sheet, numbered))
        settings.append(_setting(kind, cuts))
    return (
        tuple(replace(layout, cuts=tuple(cuts)) for layout, cuts in zip(layouts, ordered, strict=True)),
        tuple(settings),
    )


def ripping_settings(layouts: Sequence[SheetLayout]) -> tuple[SawSetting, ...]:
    """The settings at which the bands of several stocks are ripped together, of sheets that are numbered; sheets count
    through all of `layouts`."""
    on_sheets, free = _by_number(layouts)
    return tuple(
        _setting(kind, [(on_sheets[place].sheet, on_sheets[place].cut) for place in places])
        for kind, places in fewest_settings([each.task for each in on_sheets], free)
    )


@dataclass(slots=True)
class _OnSheet:
    sheet: int
    cut: Cut
    task: OrderedCut


def _setting(kind: CutKind, cuts: Iterable[tuple[int, Cut]]) -> SawSetting:
    is_ripping, is_rip, setting = kind
    numbers: dict[int, list[int]] = defaultdict(list)
    length = None
    for sheet, cut in cuts:
        numbers[sheet].append(cut.order)
        length = cut.setting
    return SawSetting(
        None if setting == TRIMS else length,
        not is_rip,
        is_ripping,
        tuple(SheetCuts(sheet + 1, tuple(made)) for sheet, made in numbers.items()),
    )


def _of_sheet(sheet: int, cut: Cut) -> _OnSheet:
    kind = (
        (False, False, TRIMS)
        if cut.stage == TRIM_STAGE
        else (cut.ripping, cut.runs_along_x, round(cut.setting / SAME_SETTING))
    )
    return _OnSheet(sheet, cut, OrderedCut(kind, cut.stage))


class _Freed:
    """Which cut was the last to bound a piece.

    A piece is known by its lower left corner: from there on a cut's setting is measured, and there its first part lies
    again; the other part begins behind the blade.
    """

    def __init__(self) -> None:
        self._last: dict[tuple[int, int], int] = {}
        self._trim: int | None = None

    def at(self, x: Mm, y: Mm) -> int | None:
        """By what the piece with this corner was freed; None where nothing has been cut."""
        return self._last.get(_corner(x, y), self._trim)

    def make(self, cut: Cut, name: int) -> int | None:
        """Make a cut, to be known by `name`; by what its piece was freed."""
        if cut.stage == TRIM_STAGE:
            before, self._trim = self._trim, name
            return before
        along, across = (0.0, cut.setting) if cut.runs_along_x else (cut.setting, 0.0)
        x, y = cut.x0 - along, cut.y0 - across
        before = self.at(x, y)
        rest = (cut.x0, cut.y1) if cut.runs_along_x else (cut.x1, cut.y0)
        self._last[_corner(x, y)] = self._last[_corner(*rest)] = name
        return before


def freed_with(layout: SheetLayout) -> Callable[[Mm, Mm], int]:
    """With which cut before the ripping the piece is free for good whose lower left corner lies there (mm); 0 where it
    needs none."""
    freed = _Freed()
    for cut in layout.cuts:
        if not cut.ripping:
            freed.make(cut, cut.order)
    return lambda x, y: freed.at(x, y) or 0


def _by_piece(layouts: Sequence[SheetLayout]) -> tuple[list[_OnSheet], list[int]]:
    """All cuts, and the places of those that need no other."""
    found: list[_OnSheet] = []
    free: list[int] = []
    for sheet, layout in enumerate(layouts):
        freed = _Freed()
        for cut in layout.cuts:
            place = len(found)
            found.append(_of_sheet(sheet, cut))
            needed = freed.make(cut, place)
            if needed is None:
                free.append(place)
            else:
                found[needed].task.frees.append(place)
    return found, free


def _corner(x: Mm, y: Mm) -> tuple[int, int]:
    return round(x / SAME_SETTING), round(y / SAME_SETTING)


def _by_number(layouts: Sequence[SheetLayout]) -> tuple[list[_OnSheet], list[int]]:
    """The ripping cuts, each after the one before it on its sheet."""
    found: list[_OnSheet] = []
    free: list[int] = []
    for sheet, layout in enumerate(layouts):
        first = len(found)
        found += [_of_sheet(sheet, cut) for cut in layout.cuts if cut.ripping]
        for place in range(first, len(found) - 1):
            found[place].task.frees.append(place + 1)
        if first < len(found):
            free.append(first)
    return found, free
