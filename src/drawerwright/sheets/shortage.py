"""Where the sheets on hand are too few: which parts are left without one, and how many more would be enough."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.sheets.blanks import LooseDemand, StripDemand, name_of
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.problem import SheetPlan, SheetProblem
from drawerwright.sheets.sheet_stock import SheetSize


@dataclass(frozen=True, slots=True)
class Shortage:
    """A problem whose sheets do not suffice, and `eased`: the same with more sheets to be had.

    Of a single size any number may be taken. Of several sizes what is on hand costs nothing in `eased`, and
    `further` sheets cost their price, so that a cheapest plan takes them only for what is left over.
    """

    problem: SheetProblem
    eased: SheetProblem
    limited: tuple[SheetSize, ...]
    further: tuple[SheetSize, ...]
    is_priced: bool
    """Whether what is on hand costs nothing in `eased`."""

    @classmethod
    def of(cls, problem: SheetProblem) -> Shortage:
        """Ease `problem`."""
        new = [size for size in problem.sizes if not size.is_offcut]
        limited = tuple(size for size in new if size.on_hand is not None)
        if len(new) == 1:
            further = tuple(replace(size, on_hand=None) for size in limited)
            sizes = tuple(replace(size, on_hand=None) if size in new else size for size in problem.sizes)
        else:
            further = tuple(
                replace(
                    size,
                    label=phrase("further {size}", size=size.label),
                    price=problem.cost_of(size) or 1.0,
                    on_hand=None,
                )
                for size in limited
            )
            priced = (
                replace(size, price=0.0 if size in limited else problem.cost_of(size))
                if size in new
                else size
                for size in problem.sizes
            )
            sizes = (*priced, *further)
        eased = replace(problem, sizes=sizes, preferences=replace(problem.preferences, later_aims=()))
        return cls(problem, eased, limited, further, len(new) > 1)

    def words(self, plan: SheetPlan | None) -> Phrase:
        """What is short, which parts it leaves out, and what would make it possible.

        Args:
            plan: of `eased`; None where not even further sheets of these sizes help.
        """
        problem = self.problem
        rack = [size for size in problem.sizes if size.is_offcut or size in self.limited]
        on_hand = joined(
            [
                phrase(
                    "{count} of {size}", count=1 if size.on_hand is None else size.on_hand, size=size.label
                )
                for size in rack
            ],
            ", ",
        )
        beyond = [] if plan is None else self._beyond(plan)
        if plan is None or not beyond:
            return phrase(
                "no way was found to cut every part from the sheets of {stock} on hand ({on_hand}): give the search "
                "more time, add a size, or cut fewer drawers",
                stock=problem.stock,
                on_hand=on_hand,
            )
        used = Counter(layout.size for layout in beyond)
        values = {
            "stock": problem.stock,
            "on_hand": on_hand,
            "missing": joined(self._missing(beyond), "; "),
            "further": joined(
                [
                    phrase("{count} of {size}", count=used[size], size=limited.label)
                    for limited, size in zip(self.limited, self.further, strict=True)
                    if used[size]
                ],
                ", ",
            ),
        }
        if self._is_sure(plan):
            return phrase(
                "the sheets of {stock} on hand ({on_hand}) do not hold every part. Left over: "
                "{missing}. {further} more would do; or add a size, or cut fewer drawers",
                **values,
            )
        return phrase(
            "no way was found to cut every part from the sheets of {stock} on hand "
            "({on_hand}). Left over: {missing}. {further} more would do; or add a size, or cut "
            "fewer drawers",
            **values,
        )

    def _missing(self, layouts: Sequence[SheetLayout]) -> list[str]:
        """The parts on these sheets as people call them, with their number where it is less than all."""
        cut = Counter(
            [strip.key for layout in layouts for band in layout.bands for strip in band.strips]
            + [part.key for layout in layouts for part in layout.loose if part.matched is None]
        )
        sets = dict.fromkeys(part.matched for layout in layouts for part in layout.loose if part.matched)
        single: list[StripDemand | LooseDemand] = [*self.problem.strips, *self.problem.loose]
        wanted = self.problem.demand
        found: list[str] = list(sets)
        for part in single:
            key = part.key
            count = cut.pop(key, 0)
            if count:
                name = name_of(part)
                found.append(
                    name
                    if count == wanted[key]
                    else phrase("{count} of the {all}: {names}", count=count, all=wanted[key], names=name)
                )
        return found

    def _beyond(self, plan: SheetPlan) -> list[SheetLayout]:
        """The sheets of a plan of `eased` that are not on hand; of one size the emptiest."""
        taken = [layout for layout in plan.layouts if layout.size in self.further]
        if self.is_priced:
            return taken
        taken.sort(key=lambda layout: layout.parts_area)
        return taken[: max(0, len(taken) - sum(size.on_hand or 0 for size in self.limited))]

    def _is_sure(self, plan: SheetPlan) -> bool:
        """Whether no plan can do without further sheets."""
        new = [size for size in self.problem.sizes if not size.is_offcut]
        if len(new) > len(self.limited):
            return False
        there = (
            0.0 if self.is_priced else sum(self.problem.cost_of(s) * (s.on_hand or 0) for s in self.limited)
        )
        return plan.lower_bound > there + 1e-9 * max(1.0, there)
