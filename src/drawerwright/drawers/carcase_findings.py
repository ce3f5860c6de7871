"""What is doubtful about carcases: fronts that meet over a divider, openings that are out of square."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import Bank, FrontPlace
from drawerwright.drawers.opening_findings import reading_findings

SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def carcase_findings(banks: Sequence[Bank]) -> tuple[Finding, ...]:
    """Findings about the banks of a job in their carcases."""
    return (*_meeting(banks), *_measured(banks))


def _measured(banks: Sequence[Bank]) -> Iterator[Finding]:
    """Openings and divided carcases as they were measured, each once."""
    of_carcase: dict[str, list[Bank]] = {}
    for bank in banks:
        opening = bank.opening
        if opening.readings is not None:
            names = tuple(place.name for place in bank.places())
            yield from reading_findings(bank.name, opening.readings, opening.width, bank.runner.play, names)
        if opening.carcase is not None and opening.carcase.readings is not None:
            of_carcase.setdefault(opening.carcase.name, []).append(bank)
    for name, within in of_carcase.items():
        carcase = within[0].opening.carcase
        assert carcase is not None
        assert carcase.readings is not None
        names = tuple(place.name for bank in within for place in bank.places())
        play = min(bank.runner.play for bank in within)
        yield from reading_findings(name, carcase.readings, carcase.width, play, names)


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
