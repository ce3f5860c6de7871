"""What must be settled before anything is cut, said where the drawers that it concerns are cut."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from drawerwright.basics.findings import Finding, grouped
from drawerwright.basics.names import counted, names_in_row
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.job.planning.job_plan import JobPlan, StockPlan
from drawerwright.run.setups import SetUp

MOST_SAID = 2
"""So many findings are said in full on a card, which has to stay on one page; all of them stand at the
beginning of papers and run."""


def drawers_at(setup: SetUp) -> tuple[str, ...]:
    """The drawers that have a part which is cut at a set-up."""
    return tuple(dict.fromkeys(part.drawer for cut in setup.passes for part in cut.family.parts))


def drawers_on(stock: StockPlan, number: int) -> tuple[str, ...]:
    """The drawers that have a part on a sheet of a stock, by its number from 1."""
    layout = stock.sheets.layouts[number - 1]
    keys = [(strip.key, strip.number) for band in layout.bands for strip in band.strips]
    keys += [(loose.key, loose.number) for loose in layout.loose]
    return tuple(dict.fromkeys(stock.blanks.part(key, number).drawer for key, number in keys))


def stop_lines(findings: Iterable[Finding], drawers: Collection[str]) -> tuple[str, ...]:
    """What a card says that cuts these drawers: for which of them nothing may be cut yet, and why; nothing where
    none of them is concerned."""
    stops = [finding for finding in findings if finding.stops and finding.concerns(drawers)]
    if not stops:
        return ()
    return (_head(stops, drawers), *_reasons(stops))


def _head(stops: Sequence[Finding], drawers: Collection[str]) -> Phrase:
    if not all(finding.drawers for finding in stops):
        return phrase("Do not cut anything yet.")
    concerned = [name for name in drawers if any(finding.concerns([name]) for finding in stops)]
    return phrase("Do not cut yet: {drawers}.", drawers=names_in_row(sorted(concerned, key=counted)))


def _reasons(stops: Sequence[Finding]) -> list[Phrase]:
    groups = [group.as_one for group in grouped(stops)]
    said = [
        Phrase("{where}: {text}", {"where": stop.where, "text": stop.text}) for stop in groups[:MOST_SAID]
    ]
    more = len(groups) - len(said)
    if more:
        said.append(phrase("{count} more, all listed at the start.", count=more))
    return said


def setup_stops(plan: JobPlan, setup: SetUp) -> tuple[str, ...]:
    """What the card of a set-up says; see `stop_lines`."""
    return stop_lines(plan.findings, drawers_at(setup))


def sheet_stops(plan: JobPlan, sheets: Iterable[tuple[StockPlan, int]]) -> tuple[str, ...]:
    """What is said where sheets are cut, each by its stock and its number there; see `stop_lines`."""
    drawers = (name for stock, number in sheets for name in drawers_on(stock, number))
    return stop_lines(plan.findings, tuple(dict.fromkeys(drawers)))
