"""What is doubtful about a bank of drawers and the runners that carry them, seen on the assembled drawers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drawerwright.basics.findings import Finding, Severity, about
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.bottom import Groove
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.drawers.runner_cuts import Hole, Notch, rooms
from drawerwright.drawers.runners import RunnerKind

SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def runner_findings(bank: Bank, drawers: Sequence[AssembledDrawer]) -> tuple[Finding, ...]:
    """Findings about the runners of a bank; `drawers` are those of it that are made."""
    return about(_runners(bank, drawers), [drawer.box.name for drawer in drawers])


def _runners(bank: Bank, drawers: Sequence[AssembledDrawer]) -> Iterator[Finding]:
    yield from _thick_sides(bank)
    yield from _narrowed(bank)
    for drawer in drawers:
        yield from _low_bottom(bank, drawer)
        yield from _taken_room(bank, drawer)
        yield from _back(bank, drawer)


def _thick_sides(bank: Bank) -> Iterator[Finding]:
    runner = bank.runner
    if runner.thickest_side is not None and bank.side_thickness > runner.thickest_side + SEEN:
        yield Finding(
            "side-too-thick",
            Severity.STOP,
            bank.name,
            phrase(
                "sides of {side_thickness} are thicker than the {thickest_side} the runner takes.",
                side_thickness=millimetres(bank.side_thickness),
                thickest_side=millimetres(runner.thickest_side, "g"),
            ),
            phrase("Use thinner sides or another runner."),
        )


def _narrowed(bank: Bank) -> Iterator[Finding]:
    """Boxes behind inset fronts are no wider than those: what their runners then lack to the opening is packed out."""
    if bank.runner.kind not in (RunnerKind.SIDE, RunnerKind.UNDER):
        return
    space = bank.runner.side_space(bank.opening.width, bank.side_thickness)
    for place in bank.places():
        left = place.box.x - space
        right = bank.opening.width - place.box.x - place.box.width - space
        if max(left, right) < SEEN:
            continue
        yield Finding(
            "box-narrower-than-runners",
            Severity.WARNING,
            bank.name,
            phrase(
                "its fronts leave the boxes narrower than the runners need them, by {left} on the left and {right} on "
                "the right.",
                left=millimetres(max(left, 0.0), ".1f"),
                right=millimetres(max(right, 0.0), ".1f"),
            ),
            phrase("Pack the runners out by as much there, or let the fronts come nearer to the sides."),
        )
        return


def _low_bottom(bank: Bank, drawer: AssembledDrawer) -> Iterator[Finding]:
    runner, box = bank.runner, drawer.box
    if runner.bottom_recess is None:
        return
    height = 0.0 if box.bottom is None or box.bottom.groove is None else box.bottom.groove.height
    if height >= runner.bottom_recess - SEEN:
        return
    is_assumed = "bottom_recess" in runner.assumed
    figures = {
        "height": millimetres(height, ".1f"),
        "bottom_recess": millimetres(runner.bottom_recess, "g"),
    }
    yield Finding(
        "bottom-too-low",
        Severity.WARNING if is_assumed else Severity.STOP,
        box.name,
        phrase(
            "the bottom lies {height} above the sides' lower edges; runners of this kind usually need {bottom_recess}.",
            **figures,
        )
        if is_assumed
        else phrase(
            "the bottom lies {height} above the sides' lower edges; the runner needs {bottom_recess}.",
            **figures,
        ),
        phrase("Raise the groove, or enter the recess from the runner's sheet.")
        if is_assumed
        else phrase("Raise the groove."),
        (box.name,),
    )


def _taken_room(bank: Bank, drawer: AssembledDrawer) -> Iterator[Finding]:
    """Only a bottom can stand where runner or locking device run: the back is notched for both."""
    bottom, box = drawer.find(PartKind.BOTTOM), drawer.box
    if bottom is None:
        return
    depth = box.inside_depth + box.back.thickness.value
    taken = [
        room
        for room in rooms(bank.runner.notch, bank.runner.locking, box.inner_faces, depth)
        if room.meets(*bottom.bounds)
    ]
    if taken:
        yield Finding(
            "runner-room-taken",
            Severity.STOP,
            box.name,
            phrase(
                "the bottom lies {height} above the sides' lower edges; the runner and its locking device need {room} "
                "free.",
                height=millimetres(bottom.bounds[0][2], ".1f"),
                room=millimetres(max(room.high[2] for room in taken), "g"),
            ),
            phrase("Raise the groove, or use another runner."),
            (box.name,),
        )


def _back(bank: Bank, drawer: AssembledDrawer) -> Iterator[Finding]:
    runner, back, box = bank.runner, drawer[PartKind.BACK], drawer.box
    low = back.bounds[0][2]
    recess = runner.bottom_recess or 0.0
    if runner.kind is RunnerKind.UNDER and runner.notch is None and low < recess - SEEN:
        yield Finding(
            "back-not-notched",
            Severity.NOTE,
            box.name,
            phrase("the back reaches down to the runners, and no notch for them is given."),
            phrase("Enter the notch from the runner's sheet if it passes through the back."),
            (box.name,),
        )
    for hole in back.part.holes:
        if (cut := _cut_by(hole, back.part)) is not None:
            yield Finding(
                "hook-hole-outside",
                Severity.STOP,
                bank.name,
                phrase(
                    "the hole for the runner's hook, {diameter} wide and {above} above the sides' lower edges, runs "
                    "into the notch for the runner, {height} high.",
                    diameter=millimetres(hole.diameter, "g"),
                    above=millimetres(hole.across + low, ".1f"),
                    height=millimetres(cut.height + low, ".1f"),
                ),
                phrase("Check both on the runner's sheet: the hole is measured from the sides' lower edges."),
                (box.name,),
            )
            return
        if _misses(hole, back.part):
            yield Finding(
                "hook-hole-outside",
                Severity.STOP,
                back.part.label,
                phrase(
                    "the hole for the runner's hook, {above} above the lower edge of a back {height} high, runs out of "
                    "the wood.",
                    above=millimetres(hole.across, ".1f"),
                    height=millimetres(back.part.width, ".1f"),
                ),
                phrase("Check its place on the runner's sheet, or let the bottom lie in grooves all round."),
                (box.name,),
            )
            return
        if (groove := _met_groove(hole, back.part)) is not None:
            yield Finding(
                "hook-hole-in-groove",
                Severity.WARNING,
                bank.name,
                phrase(
                    "the hole for the runner's hook, {diameter} wide and {above} above the sides' lower edges, runs "
                    "into the bottom's groove, which lies {low} to {high} above them and leaves {wood} of wood.",
                    diameter=millimetres(hole.diameter, "g"),
                    above=millimetres(hole.across + low, ".1f"),
                    low=millimetres(groove.height + low, ".1f"),
                    high=millimetres(groove.top + low, ".1f"),
                    wood=millimetres(_wood_behind(groove, back.part), ".1f"),
                ),
                phrase(
                    "Drill it no deeper than that if the hook allows it, move the groove, or make its cut in the back "
                    "shallower."
                ),
                (box.name,),
            )
            return


def _misses(hole: Hole, part: Part) -> bool:
    """Whether a hole leaves the part."""
    radius = hole.diameter / 2
    return min(hole.along, part.length - hole.along, hole.across, part.width - hole.across) < radius - SEEN


def _cut_by(hole: Hole, part: Part) -> Notch | None:
    """The notch that a hole runs into; None where it misses them."""
    radius = hole.diameter / 2
    return next(
        (
            notch
            for notch in part.notches
            if notch.begin - radius + SEEN < hole.along < notch.end + radius - SEEN
            and hole.across < notch.height + radius - SEEN
        ),
        None,
    )


def _met_groove(hole: Hole, part: Part) -> Groove | None:
    """The groove inside a part that a hole from its outer face runs into; None where it ends or stays clear of it."""
    groove, radius = part.groove, hole.diameter / 2
    if groove is None or not groove.height - radius + SEEN < hole.across < groove.top + radius - SEEN:
        return None
    return groove if hole.depth is None or hole.depth > _wood_behind(groove, part) + SEEN else None


def _wood_behind(groove: Groove, part: Part) -> Mm:
    """What a groove inside a part leaves of it, to its outer face."""
    return part.stock.thickness.value - groove.depth
