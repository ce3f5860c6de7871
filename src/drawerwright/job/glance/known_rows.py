"""What a job knows, and what it is missing: cutters, stock, gauges, test cuts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import assumed_doubt, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.parts import PartKind
from drawerwright.job.file.cutter_places import ONLY
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.glance.topics import Sign, Topic
from drawerwright.job.glance.tried_cuts import CornerCuts
from drawerwright.job.job import JobCutter
from drawerwright.job.planning.draft import JobDraft
from drawerwright.joints.statements import Statement
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Thickness

ROUTER_TABLE: EntryPath = ("machine", "router_table")


@dataclass(frozen=True, slots=True)
class KnownRow:
    """One thing that a job rests on: whether it is known, what is known of it, and the entry that says so (none for
    test cuts, which have a page of their own).

    `ask` is what to do where it is missing, else empty; `rests` what rests on it.
    """

    topic: Topic
    sign: Sign
    name: str
    words: str
    entry: EntryPath = ()
    ask: str = ""
    rests: str = ""


def known_rows(draft: JobDraft, tried: Sequence[CornerCuts] | None) -> tuple[KnownRow, ...]:
    """What a job that can be drafted knows, in the order in which it is found out; `tried` are the test cuts that count
    for it, None where nobody has looked for any."""
    return (
        *(_cutter(cutter) for cutter in draft.job.cutters_in_use),
        *(_stock(stock, draft) for stock in used_stocks(draft)),
        *_gauges(draft),
        *(_test_cuts(cutter, draft, tried) for cutter in draft.job.cutters_in_use),
    )


def used_stocks(draft: JobDraft) -> tuple[Stock, ...]:
    """The stocks that a part of the job is made of."""
    return tuple(dict.fromkeys(part.stock for part in draft.parts))


def _cutter(cutter: JobCutter) -> KnownRow:
    mid, step = cutter.cutter.mid_depth, cutter.cutter.step
    assumed = [
        (entry, what)
        for entry, what, known in (
            ("mid_depth", Statement.MID_DEPTH.what, mid),
            ("step", Statement.STEP.what, step),
        )
        if known.is_assumed
    ]
    measures = joined(
        (
            phrase("mid depth {value}", value=_stated(mid, with_unit=False)),
            phrase("step {value}", value=_stated(step)),
        ),
        ", ",
    )
    if not assumed:
        return KnownRow(Topic.CUTTER, Sign.KNOWN, cutter.name, measures, (*cutter.place, "mid_depth"))
    what = joined([what for _entry, what in assumed], ", ")
    return KnownRow(
        Topic.CUTTER,
        Sign.OPEN,
        cutter.name,
        phrase("{measures}; no uncertainty given for {what}", measures=measures, what=what),
        (*cutter.place, assumed[0][0]),
        _measure_words(cutter, what),
        phrase("Bit height and fence rest on it."),
    )


def _stated(known: Estimate, *, with_unit: bool = True) -> str:
    """A measure as it was given: with its doubt where one was."""
    given = (known.value,) if known.is_assumed else (known.value, known.uncertainty)
    last = len(given) - 1
    return joined(
        (
            Phrase("{value}", {"value": millimetres(figure, "g", with_unit=with_unit and place == last)})
            for place, figure in enumerate(given)
        ),
        " ± ",
    )


def _measure_words(cutter: JobCutter, what: str) -> str:
    if cutter.name == ONLY:
        return phrase("measure the cutter; say how well you know {what}.", what=what)
    return phrase("measure {cutter}; say how well you know {what}.", cutter=cutter.name, what=what)


def _stock(stock: Stock, draft: JobDraft) -> KnownRow:
    thickness, entry = stock.thickness, ("stock", stock.name, "measured")
    if thickness.is_provisional:
        return KnownRow(
            Topic.STOCK,
            Sign.DOUBTFUL,
            stock.name,
            phrase("not measured, {value} assumed", value=millimetres(thickness.value)),
            entry,
            phrase("measure {stock} with calipers.", stock=stock.name),
            _rests_on(stock, draft),
        )
    return KnownRow(Topic.STOCK, Sign.KNOWN, stock.name, _measured(thickness), entry)


def _measured(thickness: Thickness) -> str:
    value = millimetres(thickness.value)
    readings = sum(len(sheet) for sheet in thickness.readings)
    if not readings:
        return phrase("{value} as stated", value=value)
    return joined(
        (
            Phrase("{value}", {"value": value}),
            plural("{count} reading", "{count} readings", readings),
            plural("on {count} sheet", "on {count} sheets", len(thickness.sheet_means)),
        ),
        ", ",
    )


def _rests_on(stock: Stock, draft: JobDraft) -> str:
    kinds = {part.kind for part in draft.parts if part.stock.name == stock.name}
    if any(part.ends for part in draft.parts if part.stock.name == stock.name):
        return phrase("Settings and part lengths rest on it.")
    if PartKind.BOTTOM in kinds:
        return phrase("Grooves and bottoms rest on it.")
    return phrase("The fronts rest on it.")


def _gauges(draft: JobDraft) -> Iterator[KnownRow]:
    if not draft.corners:
        return
    table = draft.job.table
    height, fence = table.height_gauge, table.fence_gauge
    entry = (*ROUTER_TABLE, "height_gauge_offset")
    if height.is_assumed or fence.is_assumed:
        if not height.is_assumed:
            entry = (*ROUTER_TABLE, "fence_gauge_offset")
        yield KnownRow(
            Topic.STOCK,
            Sign.OPEN,
            phrase("Gauges"),
            phrase(
                "not stated; height ± {height}, fence ± {fence} assumed",
                height=assumed_doubt(height.uncertainty, with_unit=False),
                fence=assumed_doubt(fence.uncertainty),
            ),
            entry,
        )
        return
    yield KnownRow(
        Topic.STOCK,
        Sign.KNOWN,
        phrase("Gauges"),
        phrase("height {height}, fence {fence}", height=_offset(height), fence=_offset(fence)),
        entry,
    )


def _offset(gauge: Estimate) -> str:
    values = {
        "value": millimetres(abs(gauge.value), "g", with_unit=False),
        "doubt": millimetres(gauge.uncertainty, "g"),
    }
    if gauge.value == 0:
        return phrase("{value} ± {doubt}", **values)
    return (
        phrase("+{value} ± {doubt}", **values) if gauge.value > 0 else phrase("−{value} ± {doubt}", **values)
    )


def _test_cuts(cutter: JobCutter, draft: JobDraft, tried: Sequence[CornerCuts] | None) -> KnownRow:
    is_only = len(draft.job.cutters_in_use) == 1
    name = phrase("Test cut") if is_only else phrase("Test cut, {cutter}", cutter=cutter.name)
    own = [one for one in tried or () if one.corner.key.cutter == cutter.key]
    count = sum(one.count for one in own)
    if cutter.has_stale_lessons and not own:
        return KnownRow(Topic.TEST_CUT, Sign.DOUBTFUL, name, phrase("made before cutter or gauges changed"))
    if any(one.asks.is_about_the_cut for one in own):
        words = plural(
            "{count} made; the next one is set anew", "{count} made; the next one is set anew", count
        )
        return KnownRow(Topic.TEST_CUT, Sign.DOUBTFUL, name, words)
    if own:
        return KnownRow(
            Topic.TEST_CUT,
            Sign.KNOWN,
            name,
            plural("{count} made; it fits", "{count} made; the last one fits", count),
        )
    if cutter.table.settled is not None:
        return KnownRow(Topic.TEST_CUT, Sign.KNOWN, name, phrase("made; its results are in the job"))
    words = phrase("none accepted into the job") if tried is None else phrase("none yet")
    return KnownRow(Topic.TEST_CUT, Sign.OPEN, name, words)
