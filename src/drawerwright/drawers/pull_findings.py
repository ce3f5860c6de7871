"""Whether the holes for a bank's pulls lie in wood: in the front, and clear of its scoop."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, WrittenLength, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.carcase import PullHole, pull_holes

LEAST_BESIDE: Mm = 8.0
"""Wood between a hole and an edge of the front or its scoop at the least (common practice, no source)."""
SEEN: Mm = 1e-6


def pull_findings(bank: Bank, drawers: Sequence[AssembledDrawer]) -> tuple[Finding, ...]:
    """What is wrong with the places of a bank's pulls, drawer by drawer."""
    known = {drawer.box.name: drawer for drawer in drawers}
    found: dict[str, list[PullHole]] = {}
    for hole in pull_holes(bank, drawers):
        found.setdefault(hole.drawer, []).append(hole)
    return tuple(finding for name, holes in found.items() for finding in _of_one(known[name], holes))


def _of_one(drawer: AssembledDrawer, holes: Iterable[PullHole]) -> Iterator[Finding]:
    front = drawer.shown_front
    (left, _, low), (right, _, high) = front.bounds
    length, height = right - left, high - low
    holes = tuple(holes)
    name = drawer.box.name
    edge = min(_wood_to_edges(hole, length, height) for hole in holes)
    if edge < LEAST_BESIDE - SEEN:
        yield Finding(
            "pull-near-edge",
            Severity.STOP if edge < SEEN else Severity.WARNING,
            front.part.label,
            phrase("a hole for its pull leaves only {wood} of wood to an edge.", wood=_shown(edge)),
            phrase("Move the pull, or make the front larger: leave at least {least}.", least=_LEAST),
            (name,),
        )
    scoop = front.part.scoop
    if scoop is None:
        return
    beside = min(
        _wood_to_scoop(hole, (length - scoop.width) / 2, height - scoop.depth, length) for hole in holes
    )
    if beside < LEAST_BESIDE - SEEN:
        yield Finding(
            "pull-in-scoop",
            Severity.STOP if beside < SEEN else Severity.WARNING,
            front.part.label,
            phrase("a hole for its pull lies in the scoop.")
            if beside < SEEN
            else phrase("a hole for its pull leaves only {wood} of wood to the scoop.", wood=_shown(beside)),
            phrase(
                "A scoop needs no pull: leave one of them out, or leave at least {least} between them.",
                least=_LEAST,
            ),
            (name,),
        )


_LEAST = RoughLength("8 mm", "5/16 in")


def _shown(wood: Mm) -> WrittenLength:
    return millimetres(max(wood, 0.0), ".1f")


def _wood_to_edges(hole: PullHole, length: Mm, height: Mm) -> Mm:
    """Between a hole and the nearest edge of its front; less than 0 where it is cut."""
    x, z = hole.from_left, hole.above_front
    return min(x, length - x, z, height - z) - hole.diameter / 2


def _wood_to_scoop(hole: PullHole, left: Mm, low: Mm, length: Mm) -> Mm:
    """Between a hole and the scoop, whose corners count as square; less than 0 where it lies in it."""
    beside = max(left - hole.from_left, hole.from_left - (length - left), 0.0)
    below = max(low - hole.above_front, 0.0)
    return math.hypot(beside, below) - hole.diameter / 2
