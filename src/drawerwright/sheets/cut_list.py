"""The order of the cuts: each setting of the saw once over all sheets of a stock, wherever a piece is free in time.

A cut can be made once the piece that it parts is free. First come the trims, then the settings of which no cut is
still waiting for another setting, of these the lowest stage and then the longest; where every setting has a cut that
waits, the one with the smallest share of such cuts. Last the bands are ripped. To find the fewest settings of all is
the task of the shortest common supersequence, which is hard (Maier, J. ACM 25, 1978, pp. 322-336); this rule comes
near the number of different settings, which is the least. What is numbered on the drawings, listed in the packet and
done step by step in the run is this order.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.patterns import Cut, SheetLayout

SAME_SETTING: Mm = 0.001
"""Positions of the saw's fence nearer than this are one."""
TRIM_STAGE = 0


@dataclass(frozen=True, slots=True)
class SheetCuts:
    """The cuts of one sheet at one setting: the sheet's number from 1 within its stock, and theirs on it."""

    sheet: int
    numbers: tuple[int, ...]


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

    @property
    def count(self) -> int:
        """How many cuts are drawn; of sheets that are stacked, those of every sheet."""
        return sum(len(each.numbers) for each in self.sheets)


_Kind = tuple[bool, bool, int]
"""What is cut together: ripped after routing or not, rip or crosscut, setting (`TRIMS` for the trims)."""
TRIMS = -1


@dataclass(slots=True)
class _Waiting:
    """A cut, and the places of those that can be made once it is."""

    sheet: int
    cut: Cut
    kind: _Kind
    frees: list[int]


def numbered(layouts: Sequence[SheetLayout]) -> tuple[SheetLayout, ...]:
    """The sheets of one stock with their cuts numbered in the order of `saw_settings`."""
    cuts: list[list[Cut]] = [[] for _ in layouts]
    for _, together in _groups(_by_piece(layouts)):
        for waiting in together:
            cuts[waiting.sheet].append(waiting.cut)
    return tuple(
        replace(layout, cuts=tuple(replace(cut, order=order) for order, cut in enumerate(on_sheet, start=1)))
        for layout, on_sheet in zip(layouts, cuts, strict=True)
    )


def saw_settings(layouts: Sequence[SheetLayout]) -> tuple[SawSetting, ...]:
    """The settings of one stock in their order, of sheets that are `numbered`."""
    return tuple(_setting(kind, together) for kind, together in _groups(_by_piece(layouts)))


def ripping_settings(layouts: Sequence[SheetLayout]) -> tuple[SawSetting, ...]:
    """The settings at which the bands of several stocks are ripped together, of sheets that are `numbered`; sheets
    count through all of `layouts`."""
    return tuple(_setting(kind, together) for kind, together in _groups(_by_number(layouts)))


def _setting(kind: _Kind, together: Iterable[_Waiting]) -> SawSetting:
    is_ripping, is_rip, setting = kind
    numbers: dict[int, list[int]] = defaultdict(list)
    length = None
    for waiting in together:
        numbers[waiting.sheet].append(waiting.cut.order)
        length = waiting.cut.setting
    return SawSetting(
        None if setting == TRIMS else length,
        not is_rip,
        is_ripping,
        tuple(SheetCuts(sheet + 1, tuple(cuts)) for sheet, cuts in numbers.items()),
    )


def _kind(cut: Cut) -> _Kind:
    if cut.stage == TRIM_STAGE:
        return False, False, TRIMS
    return cut.ripping, cut.runs_along_x, round(cut.setting / SAME_SETTING)


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


def _by_piece(layouts: Sequence[SheetLayout]) -> tuple[list[_Waiting], list[int]]:
    """All cuts, and the places of those that need no other."""
    waiting: list[_Waiting] = []
    free: list[int] = []
    for sheet, layout in enumerate(layouts):
        freed = _Freed()
        for cut in layout.cuts:
            place = len(waiting)
            waiting.append(_Waiting(sheet, cut, _kind(cut), []))
            needed = freed.make(cut, place)
            if needed is None:
                free.append(place)
            else:
                waiting[needed].frees.append(place)
    return waiting, free


def _corner(x: Mm, y: Mm) -> tuple[int, int]:
    return round(x / SAME_SETTING), round(y / SAME_SETTING)


def _by_number(layouts: Sequence[SheetLayout]) -> tuple[list[_Waiting], list[int]]:
    """The ripping cuts, each after the one before it on its sheet."""
    waiting: list[_Waiting] = []
    free: list[int] = []
    for sheet, layout in enumerate(layouts):
        first = len(waiting)
        waiting += [_Waiting(sheet, cut, _kind(cut), []) for cut in layout.cuts if cut.ripping]
        for place in range(first, len(waiting) - 1):
            waiting[place].frees.append(place + 1)
        if first < len(waiting):
            free.append(first)
    return waiting, free


def _groups(cuts: tuple[list[_Waiting], list[int]]) -> Iterator[tuple[_Kind, list[_Waiting]]]:
    """What is cut together, in its order; each sheet's cuts in the order in which they were given."""
    waiting, free = cuts
    blocked = Counter(each.kind for each in waiting)
    ready: dict[_Kind, list[int]] = {}
    stages: dict[_Kind, int] = {}

    def free_at(place: int) -> None:
        """A piece is free: ready is its cut, and what that frees for the same setting."""
        kind, at_hand = waiting[place].kind, [place]
        stage = waiting[place].cut.stage
        stages[kind] = min(stages[kind], stage) if kind in ready else stage
        while at_hand:
            place = at_hand.pop()
            ready.setdefault(kind, []).append(place)
            blocked[kind] -= 1
            at_hand += [following for following in waiting[place].frees if waiting[following].kind == kind]

    def rank(kind: _Kind) -> tuple[bool, bool, int, float, bool, int]:
        is_ripping, is_rip, setting = kind
        waits = blocked[kind] / (blocked[kind] + len(ready[kind]))
        return is_ripping, waits > 0, stages[kind], waits, is_rip, -setting

    for place in free:
        free_at(place)
    while ready:
        kind = min(ready, key=rank)
        together = sorted(ready.pop(kind))
        for place in together:
            for following in waiting[place].frees:
                if waiting[following].kind != kind:
                    free_at(following)
        yield kind, [waiting[place] for place in together]
