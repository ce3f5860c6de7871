"""What is doubtful about carcases: fronts that meet over a divider, openings that are out of square."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import Bank, FrontPlace
from drawerwright.drawers.opening_findings import reading_findings

SIDES = phrase("on the left"), phrase("on the right"), phrase("above"), phrase("below")
SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def carcase_findings(banks: Sequence[Bank]) -> tuple[Finding, ...]:
    """Findings about the banks of a job in their carcases."""
    return (*_meeting(banks), *_shared(banks), *_measured(banks), *_wider(banks))


def _shared(banks: Sequence[Bank]) -> Iterator[Finding]:
    """Fronts that cover another width of a divider than was asked for, since others meet them there."""
    for bank in banks:
        if bank.stated_overlay is None:
            continue
        edges = zip(
            SIDES, bank.stated_overlay.edges, bank.overlay.edges, bank.opening.beside.kept.edges, strict=True
        )
        for side, stated, used, kept in edges:
            if abs(stated - used) <= SEEN:
                continue
            asked = millimetres(stated, "g")
            if kept is not None:
                text = phrase(
                    "the fronts of the next opening {side} cover {kept} of the wood between them, which leaves "
                    "{used}, not the {stated} asked for.",
                    side=side,
                    kept=millimetres(kept, "g"),
                    used=millimetres(used, "g"),
                    stated=asked,
                )
                remedy = phrase("To get {stated}, let those cover less.", stated=asked)
            else:
                text = phrase(
                    "the fronts of the next opening {side} cover the same wood, so each takes half of it: {used}, "
                    "not the {stated} asked for.",
                    side=side,
                    used=millimetres(used, "g"),
                    stated=asked,
                )
                remedy = phrase(
                    "To get {stated}, let neither bank share the wood between them.", stated=asked
                )
            names = tuple(place.name for place in bank.places())
            yield Finding("overlay-shared", Severity.NOTE, bank.name, text, remedy, names)


def _wider(banks: Sequence[Bank]) -> Iterator[Finding]:
    """Openings that measure more than the dividers leave them: one of the two is wrong, or a divider is thinner."""
    for bank in banks:
        opening = bank.opening
        if opening.carcase is None or opening.planned is None:
            continue
        sizes = zip(
            (phrase("width"), phrase("height")), opening.planned, (opening.width, opening.height), strict=True
        )
        for way, planned, measured in sizes:
            if measured - planned > bank.runner.play:
                yield Finding(
                    "opening-exceeds-division",
                    Severity.WARNING,
                    bank.name,
                    phrase(
                        "its {way} measures {measured}, but {carcase} as divided leaves it {planned}: "
                        "{more} of the wood beside it is missing.",
                        measured=millimetres(measured, ".1f"),
                        way=way,
                        carcase=opening.carcase.name,
                        planned=millimetres(planned, ".1f"),
                        more=millimetres(measured - planned, ".1f"),
                    ),
                    phrase(
                        "Measure the carcase and its dividers, and correct those: fronts and runner lines of the "
                        "neighbours follow from them."
                    ),
                    tuple(place.name for place in bank.places()),
                )


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
            for mine in one.shown_in_carcase()
            for theirs in other.shown_in_carcase()
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
                    "Let them cover less of the divider, or let both share it and give that side no overlay of its "
                    "own."
                ),
                names,
            )


def _overlap(one: FrontPlace, other: FrontPlace) -> Mm:
    """By how much two fronts lie over each other (mm); below 0 is a gap."""
    across = min(one.x + one.width, other.x + other.width) - max(one.x, other.x)
    up = min(one.top, other.top) - max(one.z, other.z)
    return min(across, up)
