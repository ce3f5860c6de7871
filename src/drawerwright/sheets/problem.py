"""What the sheet planner is asked, and what it answers."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Literal

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.sheets.cut_list import SawSetting
from drawerwright.sheets.patterns import Offcut, PlanFigures, SheetCount, SheetLayout
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize, told_once

LaterAim = Literal["offcuts", "routing", "fences", "largest-offcut"]
"""What is judged after the cost of new sheets: the single rectangle left over that is worth most; offcuts used first;
routed length and bands; different saw-fence settings."""
LATER_AIMS: tuple[LaterAim, ...] = ("largest-offcut", "offcuts", "routing", "fences")
"""The usual order."""


@dataclass(frozen=True, slots=True)
class SheetPreferences:
    """What the user may trade: the order of the later aims (one left out is not looked after), and one cut more for a
    band that is shorter than its column is wide, so that it need not have a column of its own.
    """

    later_aims: tuple[LaterAim, ...] = LATER_AIMS
    trim_bands: bool = True

    def __post_init__(self) -> None:
        unknown = [aim for aim in self.later_aims if aim not in LATER_AIMS]
        if unknown or len(set(self.later_aims)) < len(self.later_aims):
            raise InvalidValueError(
                phrase(
                    "the tie-breakers of a sheet plan are {known}, each at most once, not {given}",
                    known=", ".join(LATER_AIMS),
                    given=", ".join(self.later_aims),
                )
            )


@dataclass(frozen=True, slots=True)
class SheetProblem:
    """Everything of one stock that has to come out of its sheets.

    Band rules hold for strips only. Parts turn only where their demand says so; on a sheet with grain the
    caller says so for none. Sizes without price count one each; so do all sizes when any new size lacks a
    price. Sizes that are named twice are one, with as many on hand as both say together.
    """

    stock: str
    sizes: tuple[SheetSize, ...]
    saw: Saw
    band_rules: BandRules = field(default_factory=BandRules)
    strips: tuple[StripDemand, ...] = ()
    loose: tuple[LooseDemand, ...] = ()
    matched: tuple[MatchedSet, ...] = ()
    preferences: SheetPreferences = field(default_factory=SheetPreferences)
    least_offcut: LeastOffcut = field(default_factory=LeastOffcut)

    def __post_init__(self) -> None:
        object.__setattr__(self, "sizes", told_once(self.sizes))

    @property
    def demand(self) -> Counter[str]:
        """How many of each key have to be cut."""
        wanted: Counter[str] = Counter()
        for strip in self.strips:
            wanted[strip.key] += strip.count
        for part in self.loose:
            wanted[part.key] += part.count
        for block in self.matched:
            wanted.update(block.keys)
        return +wanted

    @property
    def has_prices(self) -> bool:
        """True when every size that is bought new has a price."""
        new = [size for size in self.sizes if not size.is_offcut]
        return bool(new) and all(size.price is not None for size in new)

    def cost_of(self, size: SheetSize) -> float:
        """What one sheet of `size` counts for: its price, 1 without prices, nothing for an offcut."""
        if size.is_offcut:
            return 0.0
        return float(size.price or 0.0) if self.has_prices else 1.0


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """The answer: every sheet with its pieces and cuts.

    `lower_bound` is a cost of new sheets that no plan within the cutting rules can undercut; `proven` says
    that the plan meets it. `seconds` is the time the planning took. `settings` are those of the saw in the order in
    which the numbered cuts of all sheets are made; `stacks` are the sheets by their numbers from 1, those together that
    are cut at once up to the ripping of the bands.
    """

    problem: SheetProblem
    layouts: tuple[SheetLayout, ...]
    lower_bound: float
    proven: bool
    seconds: float
    figures: PlanFigures
    settings: tuple[SawSetting, ...]
    stacks: tuple[tuple[int, ...], ...]

    @property
    def cost(self) -> float | None:
        """What the new sheets cost; None while a size that is bought new has no price."""
        return self.figures.new_sheet_cost if self.problem.has_prices else None

    @property
    def shopping_list(self) -> tuple[SheetCount, ...]:
        """How many sheets of each size to have ready, offcuts last."""
        used = Counter(layout.size for layout in self.layouts)
        return tuple(
            SheetCount(size, used[size], self.problem.cost_of(size) * used[size] if priced else None)
            for size in sorted(self.problem.sizes, key=lambda size: size.is_offcut)
            if used[size]
            for priced in [self.problem.has_prices]
        )

    @property
    def cuts_made(self) -> int:
        """How many times the saw is gone through; sheets of a stack together."""
        return sum(setting.count(self.stacks) for setting in self.settings)

    @property
    def offcuts_left(self) -> float:
        """Area of all that is left over, kept or not, in mm²."""
        return sum(offcut.area for layout in self.layouts for offcut in layout.offcuts)

    @property
    def kept_offcuts(self) -> tuple[Offcut, ...]:
        """What returns to the rack, the largest first."""
        kept = [offcut for layout in self.layouts for offcut in layout.kept_offcuts]
        return tuple(sorted(kept, key=lambda offcut: -offcut.area))
