"""What is doubtful about several banks in one carcase: fronts that meet over a divider."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import Bank, FrontPlace

SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def carcase_findings(banks: Sequence[Bank]) -> tuple[Finding, ...]:
    """Findings about the fronts of different banks of one carcase."""
    return tuple(_meeting(banks))


def _meeting(banks: Sequence[Bank]) -> Iterator[Finding]:
    for one, other in combinations(banks, 2):
        if one.opening.carcase is None or other.opening.carcase is None:
            continue
        if one.opening.carcase.name != other.opening.carcase.name:
            continue
        pairs = [
            (mine.name, theirs.name, overlap)
            for mine in one.places_in_carcase()
            for theirs in other.places_in_carcase()
            if (overlap := _overlap(mine.front, theirs.front)) > SEEN
        ]
        if pairs:
            names = tuple(dict.fromkeys(name for mine, theirs, _ in pairs for name in (mine, theirs)))
            yield Finding(
                "fronts-collide",
                Severity.STOP,
                one.name,
                phrase(
                    "its fronts and those of {other} take the same {overlap} of the wood between them.",
                    other=other.name,
                    overlap=millimetres(max(overlap for *_, overlap in pairs), ".1f"),
                ),
                phrase(
                    "Let them cover less of the divider, or leave the overlay there out of 'left' and 'right'."
                ),
                names,
            )


def _overlap(one: FrontPlace, other: FrontPlace) -> Mm:
    """By how much two fronts lie over each other (mm); below 0 is a gap."""
    across = min(one.x + one.width, other.x + other.width) - max(one.x, other.x)
    up = min(one.top, other.top) - max(one.z, other.z)
    return min(across, up)
