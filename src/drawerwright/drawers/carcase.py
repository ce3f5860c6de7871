"""What the carcase needs to know: runner lines and pull holes, measured from one reference edge.

The reference edges are the opening's lower edge for heights and the front's left edge for widths.
"""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.bank import Bank


@dataclass(frozen=True, slots=True)
class RunnerLine:
    """Height (mm) of a runner's line above the lower edge of the opening."""

    bank: str
    drawer: str
    height: Mm


@dataclass(frozen=True, slots=True)
class PullHole:
    """A hole in a front: from its left edge, above its lower edge, and above the opening's lower edge (mm)."""

    bank: str
    drawer: str
    from_left: Mm
    above_front: Mm
    above_opening: Mm
    diameter: Mm


def runner_lines(bank: Bank) -> tuple[RunnerLine, ...]:
    """The line of every runner of a bank, top drawer first; empty where the runner has none."""
    if bank.runner.line is None:
        return ()
    return tuple(RunnerLine(bank.name, place.name, place.box.z + bank.runner.line) for place in bank.places())


def pull_holes(bank: Bank) -> tuple[PullHole, ...]:
    """The holes for every pull of a bank, top drawer first."""
    if bank.pull is None:
        return ()
    pull = bank.pull
    holes: list[PullHole] = []
    for place in bank.places():
        front = place.front
        height = front.height / 2 if pull.below_top is None else front.height - pull.below_top
        shifts = (-pull.spacing / 2, pull.spacing / 2) if pull.spacing else (0.0,)
        holes.extend(
            PullHole(
                bank=bank.name,
                drawer=place.name,
                from_left=front.width / 2 + shift,
                above_front=height,
                above_opening=front.z + height,
                diameter=pull.hole,
            )
            for shift in shifts
        )
    return tuple(holes)
