"""What the year does to the corners of a drawer: pieces that move apart, and pieces whose thickness changes by more
than the corner has to give."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.placement import UP
from drawerwright.drawers.seasons import moisture_words, movement_along, thickness_movement
from drawerwright.joints.readings import FitRange
from drawerwright.wood.thickness import Panel

APART: Mm = 1.5
"""Pieces of a corner that move further apart than this strain its glue (assumed, no source)."""


def seasonal_corner_findings(drawer: AssembledDrawer, fit: FitRange) -> Iterator[Finding]:
    """What is doubtful about the corners of one drawer. `fit`: the play that they may have."""
    yield from _apart(drawer)
    yield from _past_play(drawer, fit)


def _apart(drawer: AssembledDrawer) -> Iterator[Finding]:
    """Front and side are glued to each other across the grain of one of them, or of both: alike they move together."""
    front, side = (
        movement_along(drawer[kind], UP, drawer.box.duty.climate) for kind in (PartKind.FRONT, PartKind.LEFT)
    )
    ranges = [0.0 if moved is None else moved.range for moved in (front, side)]
    apart = abs(ranges[0] - ranges[1])
    more = front if ranges[0] >= ranges[1] else side
    if apart <= APART or more is None:
        return
    yield Finding(
        "pieces-move-apart",
        Severity.WARNING,
        drawer.box.name,
        phrase(
            "over the year ({climate}: {moisture}) the height of its front changes by {front}, that of its sides by "
            "{side}: the corner is strained by the difference. Source: {source}.",
            front=millimetres(ranges[0], ".1f"),
            side=millimetres(ranges[1], ".1f"),
            climate=drawer.box.duty.climate.words,
            moisture=moisture_words(more),
            source=more.source_words,
        ),
        phrase("Make front and sides of one wood, cut alike; or a plywood box with an applied solid front."),
        (drawer.box.name,),
    )


def _past_play(drawer: AssembledDrawer, fit: FitRange) -> Iterator[Finding]:
    """A cut fits the thickness of its day. Along its grain the other piece keeps its size, so until the glue has set a
    change of thickness is a change of the play."""
    box = drawer.box
    solid = {stock for stock in (box.front, box.side, box.back) if stock.panel is Panel.SOLID}
    moved = [each for stock in solid if (each := thickness_movement(stock, box.duty.climate)) is not None]
    most = max(moved, key=lambda each: max(-each.at_dry, each.at_damp), default=None)
    room = fit.most_play - fit.least_play
    if most is None or max(-most.at_dry, most.at_damp) <= room:
        return
    yield Finding(
        "thickness-moves-past-play",
        Severity.NOTE,
        box.name,
        phrase(
            "wood {size} thick is {thinner} thinner by the dry season and {thicker} thicker by the damp one "
            "({climate}: {moisture}), while the play of a corner may differ by {room}. Source: {source}.",
            size=millimetres(most.size, ".1f"),
            thinner=millimetres(max(-most.at_dry, 0.0), ".2f"),
            thicker=millimetres(max(most.at_damp, 0.0), ".2f"),
            room=millimetres(room, "g"),
            climate=box.duty.climate.words,
            moisture=moisture_words(most),
            source=most.source_words,
        ),
        phrase(
            "Cut and glue it within a few days in the same air; if it lies longer, measure its "
            "thickness again and make another test cut."
        ),
        (box.name,),
    )
