"""The use case of a cutting list without drawers: parts in, the fewest sheets out, each of them drawn."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.declared import checked
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.sheet import draw_sheet
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, StripDemand
from drawerwright.sheets.grid import to_saw_size
from drawerwright.sheets.plan import plan_sheets
from drawerwright.sheets.problem import SheetPlan, SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize


@checked
@dataclass(frozen=True, slots=True)
class SheetPart:
    """A rectangle to be cut from sheets: what it is called, its size (mm), and how many of it.

    `length` lies along the sheet's length, which is that of the grain, unless it `can_turn`. Parts that name the same
    `band` may be ripped from one band after the two edges where they end were routed; they are of one length.
    """

    name: str
    length: Mm
    width: Mm
    count: int = 1
    band: str = ""
    can_turn: bool = False

    def __post_init__(self) -> None:
        for what, size in ((phrase("length"), self.length), (phrase("width"), self.width)):
            if size <= 0:
                raise InvalidValueError(
                    phrase(
                        "{name}: the {what} must be more than 0, not {size}",
                        name=self.name,
                        what=what,
                        size=millimetres(size, "g"),
                    )
                )
        if self.count < 1:
            raise InvalidValueError(
                phrase("{name}: the count must be 1 or more, not {count}", name=self.name, count=self.count)
            )


@dataclass(frozen=True, slots=True)
class CutParts:
    """Sheets for a list of parts."""

    plan: SheetPlan

    def draw(self) -> tuple[Scene, ...]:
        """Every sheet, each part with its name and, where there are several of it, its number."""
        layouts, demand = self.plan.layouts, self.plan.problem.demand
        labels = {
            (name, copy): name if count == 1 else f"{name} {copy}"
            for name, count in demand.items()
            for copy in range(1, count + 1)
        }
        return tuple(
            draw_sheet(
                layout,
                labels=labels,
                title=phrase("Sheet {number} of {count}", number=number, count=len(layouts)),
            )
            for number, layout in enumerate(layouts, start=1)
        )


def cut_parts(
    parts: Sequence[SheetPart],
    sizes: Sequence[SheetSize],
    saw: Saw,
    rules: BandRules,
    *,
    time_limit: float | None = None,
) -> CutParts:
    """Plan the sheets for a list of parts, all of one stock.

    Args:
        parts: with names of their own.
        sizes: new sheets and offcuts to cut them from.
        saw: kerf and trim.
        rules: what the router table asks of bands; nothing where no part has one.
        time_limit: seconds after which the best plan so far is returned with its bound.

    Raises:
        InvalidValueError: there is no part, two have one name, or parts of one band are not of one length.
        NoPlanError: a part fits no sheet, or the sheets on hand do not hold all parts.
    """
    if not parts:
        raise InvalidValueError(phrase("there is no part: give at least one"))
    twice = sorted(name for name, times in Counter(part.name for part in parts).items() if times > 1)
    if twice:
        raise InvalidValueError(
            phrase(
                "{names} is given more than once: count such parts together, under one name",
                names=", ".join(twice),
            )
        )
    lengths: dict[str, set[Mm]] = defaultdict(set)
    for part in parts:
        if part.band:
            lengths[part.band].add(to_saw_size(part.length))
    for band, found in lengths.items():
        if len(found) > 1:
            raise InvalidValueError(
                phrase(
                    "parts of band {band} must be equally long, since their length is the "
                    "band's width between the routed edges, not {shortest} and {longest}: put "
                    "them in separate bands",
                    band=band,
                    shortest=millimetres(min(found), "g"),
                    longest=millimetres(max(found), "g"),
                )
            )
    return CutParts(
        plan_sheets(
            SheetProblem(
                stock=phrase("this stock"),
                sizes=tuple(sizes),
                saw=saw,
                band_rules=rules,
                strips=tuple(_strip(part) for part in parts if part.band),
                loose=tuple(_loose(part) for part in parts if not part.band),
            ),
            time_limit=time_limit,
        )
    )


def _strip(part: SheetPart) -> StripDemand:
    size = to_saw_size(part.length), to_saw_size(part.width)
    return StripDemand(part.name, part.band, *size, part.count, part.can_turn)


def _loose(part: SheetPart) -> LooseDemand:
    return LooseDemand(
        part.name, to_saw_size(part.length), to_saw_size(part.width), part.count, part.can_turn
    )
