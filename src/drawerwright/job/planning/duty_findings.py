"""What is doubtful about what drawers have to carry, and about what the year does to them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import millimetres
from drawerwright.basics.loads import WrittenLoad
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.assembly import AssembledDrawer, assemble
from drawerwright.drawers.seasonal_corners import seasonal_corner_findings
from drawerwright.drawers.seasonal_findings import (
    moving_bottom_findings,
    seasonal_findings,
    seasonal_gap_findings,
)
from drawerwright.job.job import BankOfBoxes, Job
from drawerwright.job.planning.draft import JobDraft
from drawerwright.strength.bottom_load import LoadedBottom
from drawerwright.strength.drawer_load import DrawerLoad, least_carcase
from drawerwright.strength.groove_bearing import groove_bearing
from drawerwright.strength.weak_corners import weak_corner_findings
from drawerwright.wood.movement import source_words
from drawerwright.wood.stock import Stock


def duty_findings(draft: JobDraft) -> Iterator[Finding]:
    """All of a job's drawers: movement, bottoms, corners, runners, carcases."""
    job, made = draft.job, draft.made
    for drawer in draft.assembled:
        yield from seasonal_findings(drawer)
        yield from seasonal_corner_findings(drawer, job.fit_range)
        yield from weak_corner_findings(drawer, made)
        yield from _bottom(DrawerLoad(drawer), job)
        yield from _groove(DrawerLoad(drawer), job)
    for bank in job.banks:
        drawers = draft.drawers_of(bank)
        yield from seasonal_gap_findings(bank.bank, drawers, job.saw.tolerance)
        loads = [DrawerLoad(drawer) for drawer in drawers]
        yield from _runners(bank, loads)
    yield from _tipping(draft)


def stock_that_holds(load: DrawerLoad, job: Job) -> tuple[Stock, LoadedBottom] | None:
    """The thinnest stock of the job of which a drawer's bottom would hold and could move, with that bottom; None where
    none does."""
    bottoms = [
        (stock, bottom)
        for stock in job.stock.values()
        if (bottom := load.bottom_of(stock, job.sag_limit)) is not None and bottom.holds
    ]
    for found in sorted(bottoms, key=lambda one: one[1].thickness):
        if _can_move(load.drawer, found[0]):
            return found
    return None


def _can_move(drawer: AssembledDrawer, stock: Stock) -> bool:
    """Whether a bottom of another stock would have room enough over the year."""
    bottom = drawer.box.bottom
    if bottom is None:
        return True
    other = assemble(replace(drawer.box, bottom=replace(bottom, stock=stock)))
    return all(finding.severity is Severity.NOTE for finding in moving_bottom_findings(other))


def _bottom(load: DrawerLoad, job: Job) -> Iterator[Finding]:
    bottom = load.bottom(job.sag_limit)
    if bottom is None or bottom.holds:
        return
    name = load.drawer.box.name
    figures = {"load": WrittenLoad(bottom.load), "source": source_words(bottom.board.sources)}
    if bottom.sags:
        text = phrase(
            "under {load} its bottom, {thickness} thick, sags {sag}; the limit is {limit}. Source: {source}.",
            thickness=millimetres(bottom.thickness),
            sag=millimetres(bottom.deflection, ".1f"),
            limit=millimetres(bottom.sag_limit, ".1f"),
            **figures,
        )
    else:
        text = phrase(
            "under {load} the wood of its bottom, {thickness} thick, is stressed to {share:.0f} %; "
            "for years it bears 100 %. Source: {source}.",
            thickness=millimetres(bottom.thickness),
            share=100 * bottom.stress_share,
            **figures,
        )
    yield Finding("bottom-sags", Severity.WARNING, name, text, _remedy(load, job), (name,))


def _groove(load: DrawerLoad, job: Job) -> Iterator[Finding]:
    box, loaded = load.drawer.box, load.bottom(job.sag_limit)
    if loaded is None or box.bottom is None:
        return
    bearing = groove_bearing(loaded, box.bottom, box.side)
    if bearing is None or bearing.holds:
        return
    yield Finding(
        "groove-overloaded",
        Severity.WARNING,
        box.name,
        phrase(
            "under {load} its bottom presses on the {reach} that it lies in the groove with {pressure:.1f} N/mm²; wood "
            "bears {limit:.1f} for years. Source: {source}.",
            load=WrittenLoad(loaded.load),
            reach=millimetres(bearing.reach, ".1f"),
            pressure=bearing.pressure,
            limit=bearing.limit,
            source=bearing.source.words,
        ),
        phrase("Make the groove deeper or the bottom's clearance less, or put less in the drawer."),
        (box.name,),
    )


def _remedy(load: DrawerLoad, job: Job) -> Phrase:
    found = stock_that_holds(load, job)
    if found is None:
        return phrase("No stock of this job holds: use thicker stock, or carry the bottom in the middle.")
    stock, bottom = found
    return phrase(
        "Use {stock} ({thickness}): it sags {sag}.",
        stock=stock.name,
        thickness=millimetres(bottom.thickness),
        sag=millimetres(bottom.deflection, ".1f"),
    )


def _runners(bank: BankOfBoxes, loads: list[DrawerLoad]) -> Iterator[Finding]:
    chosen = bank.bank.runner_length
    if chosen is None or chosen.rating is None:
        return
    for load in loads:
        if load.full is None or load.full <= chosen.rating:
            continue
        name = load.drawer.box.name
        yield Finding(
            "runner-overloaded",
            Severity.WARNING,
            name,
            phrase(
                "the drawer weighs {empty} and carries {contents}, {full} together; a pair of its runners carries "
                "{rating}.",
                empty=WrittenLoad(load.empty),
                contents=WrittenLoad(load.full - load.empty),
                full=WrittenLoad(load.full),
                rating=WrittenLoad(chosen.rating),
            ),
            phrase("Put less in it, or choose runners that carry more."),
            (name,),
        )


def _tipping(draft: JobDraft) -> Iterator[Finding]:
    """One note for each carcase that stands by itself: the banks of a divided one pull it over together."""
    standing: dict[str, list[BankOfBoxes]] = {}
    for bank in draft.job.banks:
        carcase = bank.bank.opening.carcase
        standing.setdefault(bank.bank.name if carcase is None else carcase.name, []).append(bank)
    for name, banks in standing.items():
        loads = [DrawerLoad(drawer) for bank in banks for drawer in draft.drawers_of(bank)]
        least = least_carcase(loads, banks[0].bank.opening.depth)
        if least is None:
            continue
        figures = {"least": WrittenLoad(least)}
        unknown = names_in_row([load.drawer.box.name for load in loads if load.contents is None])
        yield Finding(
            "carcase-may-tip",
            Severity.NOTE,
            name,
            phrase(
                "with all its drawers pulled right out it tips forward unless the carcase itself weighs "
                "more than {least}, and more still for what lies in {drawers}, whose load is not stated.",
                drawers=unknown,
                **figures,
            )
            if unknown
            else phrase(
                "with all its drawers pulled right out it tips forward unless the carcase itself weighs more than "
                "{least}.",
                **figures,
            ),
            phrase("Fix it to the wall, put the heaviest drawers at the bottom, and pull one out at a time."),
            tuple(load.drawer.box.name for load in loads),
        )
