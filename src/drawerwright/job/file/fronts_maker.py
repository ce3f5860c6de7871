"""The fronts of a bank out of its entry: heights, overlay, figure, and which have no drawer behind them."""

from __future__ import annotations

from typing import Any

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import Bank, FrontStyle, Overlay
from drawerwright.drawers.front_heights import (
    ArithmeticHeights,
    EqualHeights,
    GeometricHeights,
    GivenHeights,
    HeightRule,
    front_count,
)
from drawerwright.drawers.opening import Kept, Opening
from drawerwright.drawers.scoop import Scoop
from drawerwright.job.file import fronts_model, model
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.likes import inherited
from drawerwright.job.file.reading import Builder
from drawerwright.job.job import FrontMatch


class FrontMaker:
    """Makes what a bank says of its fronts; every fault goes to the builder."""

    def __init__(self, builder: Builder) -> None:
        self._builder = builder

    def height_rule(self, entry: fronts_model.HeightsEntry, *where: str | int) -> HeightRule | None:
        rules: dict[str, Any] = {
            name: value
            for name in fronts_model.HeightsEntry.model_fields
            if (value := getattr(entry, name)) is not None
        }
        if len(rules) != 1:
            self._builder.fault(
                where,
                phrase(
                    "needs exactly one of {rules}, not {count}",
                    rules=", ".join(fronts_model.HeightsEntry.model_fields),
                    count=len(rules),
                ),
            )
            return None
        if entry.given is not None:
            return GivenHeights(tuple(None if height == "rest" else height for height in entry.given))
        if entry.equal is not None:
            return EqualHeights(entry.equal)
        if entry.arithmetic is not None:
            return ArithmeticHeights(**entry.arithmetic.model_dump())
        assert entry.geometric is not None
        return GeometricHeights(**entry.geometric.model_dump())

    def overlay(self, entry: fronts_model.FrontsEntry, opening: Opening, *where: str | int) -> Overlay:
        """Over a divider that another bank covers too, each takes its half where they share it."""
        stated = stated_overlay(entry)
        found = stated.shared(opening.beside, entry.reveal) if entry.overlay.shared else stated
        edges = zip(("left", "right", "top", "bottom"), found.edges, strict=True)
        for edge, size in edges:
            own = getattr(entry.overlay, edge)
            told = edge if own is not None or edge in ("top", "bottom") else "sides"
            if entry.style is FrontStyle.INSET and size > 0:
                self._builder.fault((*where, told), self._no_overlay((*where, told)), is_reckoned=True)
        return found

    def _no_overlay(self, where: tuple[str | int, ...]) -> str:
        whole, path = self._builder.document.whole, self._builder.document.in_text(where)
        taken = inherited(whole, path) if value_at(whole, path) is None else None
        if taken is None:
            return phrase("an inset front sits inside the opening: its overlay cannot be positive")
        return phrase(
            "an inset front sits inside the opening: its overlay cannot be positive, and this one "
            "comes from {bank!r}; an empty 'overlay:' clears it",
            bank=taken.bank,
        )

    def side_heights(
        self, entry: model.BankEntry, rule: HeightRule, *where: str | int
    ) -> tuple[Mm | None, ...]:
        """The stated height of the sides of every drawer, None where the front decides."""
        count = front_count(rule)
        if entry.side_height is None:
            return ()
        stated = entry.side_height if isinstance(entry.side_height, tuple) else (entry.side_height,)
        heights = tuple(None if height == "rest" else height for height in stated)
        if len(heights) not in (1, count):
            self._builder.fault(
                where,
                phrase(
                    "has {given} heights for {count} drawers: give one for all, or one for each",
                    given=len(heights),
                    count=count,
                ),
            )
            return ()
        return heights * count if len(heights) == 1 else heights

    def scoop(self, entry: fronts_model.FrontsEntry, *where: str | int) -> Scoop | None:
        if entry.scoop is None:
            return None
        with self._builder.at(*where):
            return Scoop(**entry.scoop.model_dump())
        return None

    def match(self, entry: fronts_model.FrontsEntry, bank: Bank, *where: str | int) -> FrontMatch | None:
        """Whose figure the fronts of a bank share; pieces are cut side by side across the fibre, so across banks it has
        to stand. Fronts that are part of their boxes are strips of bands, whose order the sheets decide."""
        if not entry.match:
            return None
        if entry.style is not FrontStyle.APPLIED and bank.drawer_numbers:
            self._builder.fault(
                (*where, "match"),
                phrase(
                    "belongs to applied and false fronts: one that is {style} is part of the box, ripped from a "
                    "band as it comes, and the figure cannot be kept; take 'match' out, or make the fronts applied",
                    style=entry.style,
                ),
            )
            return None
        is_across = entry.match_direction == "across"
        if is_across and not entry.grain_upright:
            self._builder.fault(
                (*where, "match_direction"),
                phrase(
                    "is across, but the grain of these fronts runs sideways: matched fronts are cut side by "
                    "side across the grain; let the grain run upright, or match down"
                ),
            )
        group = bank.mark if entry.match is True else f"group {entry.match}"
        return FrontMatch(group, is_across)

    def false_numbers(self, entry: model.BankEntry, rule: HeightRule, *where: str | int) -> frozenset[int]:
        """The fronts without a drawer behind them, by their numbers from the top."""
        count = front_count(rule)
        if not entry.drawer:
            return frozenset(range(1, count + 1))
        for place, number in enumerate(entry.fronts.false_fronts):
            if number > count:
                self._builder.fault(
                    (*where, "fronts", "false_fronts", place),
                    phrase(
                        "is {number}, but there are {count} fronts: the top one is 1",
                        number=number,
                        count=count,
                    ),
                )
        return frozenset(entry.fronts.false_fronts)


def kept_overlay(entry: fronts_model.FrontsEntry) -> Kept | None:
    """What fronts cover whatever meets them; None where they cover nothing of the carcase."""
    if not entry.covers_carcase:
        return None
    stated, own = stated_overlay(entry), entry.overlay

    def kept(size: Mm, is_own: bool) -> Mm | None:
        return size if is_own or size <= 0 or not own.shared else None

    return Kept(
        left=kept(stated.at_left, own.left is not None),
        right=kept(stated.at_right, own.right is not None),
        top=kept(stated.top, is_own=False),
        bottom=kept(stated.bottom, is_own=False),
    )


def stated_overlay(entry: fronts_model.FrontsEntry) -> Overlay:
    """What is left out sits inside the opening with the reveal around it."""
    inside = -entry.reveal
    return Overlay(
        sides=inside if entry.overlay.sides is None else entry.overlay.sides,
        top=inside if entry.overlay.top is None else entry.overlay.top,
        bottom=inside if entry.overlay.bottom is None else entry.overlay.bottom,
        left=entry.overlay.left,
        right=entry.overlay.right,
    )
