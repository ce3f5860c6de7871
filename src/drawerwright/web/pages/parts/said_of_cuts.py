"""What the page of test cuts says of a corner: what to set, why, what was learnt, and what pictures help to read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase, plural
from drawerwright.web.reader.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.job.test_cuts.bench import AskedCut, Bench, LearntRow, ToSet
    from drawerwright.job.test_cuts.plain_bench import PlainBench
    from drawerwright.job.test_cuts.quarrels import QuarrelWords


@dataclass(frozen=True)
class SaidOfCuts:
    """All that is said of the cuts of a corner; what a joint has none of is empty.

    `is_next`: it is about a cut to come after others. `is_of_bench`: no self-mating cutter makes the corner. `lines`:
    the first one is what matters most. `learnt_words` say what comes of what was learnt, where there is no button for
    it."""

    to_set: tuple[ToSet, ...]
    lines: Sequence[str]
    start: Mapping[str, Mm]
    is_next: bool
    fault: str | None = None
    notices: Sequence[QuarrelWords] = ()
    asked: Sequence[AskedCut] = ()
    odds_picture: str = ""
    next_reading: str = ""
    asks_block: bool = False
    by_block: bool = False
    sights: Mapping[str, str] = field(default_factory=dict)
    pieces: Sequence[str] = ()
    letters: Mapping[str, str] = field(default_factory=dict)
    learnt: Sequence[LearntRow] = ()
    is_open: bool = False
    can_accept: bool = False
    is_of_bench: bool = False
    learnt_words: str = ""


def cutter_bench(bench: Bench, style: LengthStyle, typed: Mapping[str, str]) -> SaidOfCuts:
    """Of a corner that a self-mating cutter makes; `typed` is what stands in the form that comes back."""
    from drawerwright.job.pictures.corner_pictures import (
        corner_as_seen,
        letters_on_test_pieces,
        test_piece_pictures,
    )
    from drawerwright.job.pictures.doubt_pictures import misfit_picture
    from drawerwright.job.planning.odds_words import percent
    from drawerwright.job.test_cuts.bench import learnt_rows
    from drawerwright.job.test_cuts.goes_home import home_questions
    from drawerwright.job.test_cuts.quarrels import quarrel_words

    trial, setting, correction, fault = bench.trial, bench.corner.setting, None, None
    try:
        correction = bench.correction()
    except InvalidValueError as impossible:
        fault = str(impossible)
    questions = () if correction is None else home_questions(trial, correction)
    odds = bench.odds(correction, questions, style)
    reading = correction.next_readings[0] if correction is not None and correction.next_readings else None
    is_settled = correction is not None and bench.is_settled(correction)
    return SaidOfCuts(
        bench.to_set(correction, style),
        odds.words,
        bench.start(correction),
        correction is not None or trial.table.settled is not None,
        fault,
        notices=() if correction is None else quarrel_words(correction),
        asked=bench.asked(questions),
        odds_picture=""
        if odds.misfit is None
        else misfit_picture(odds.misfit, trial.wanted.fit, trial.cutter, style),
        next_reading=""
        if reading is None
        else style.say(
            phrase(
                "Next, measure {what} ({piece}). That raises the odds of both to {percent}.",
                what=reading.what,
                piece=reading.piece,
                percent=percent(reading.odds.both),
            )
        ),
        asks_block=True,
        by_block=bool(typed.get("by_block")) if typed else bench.by_block,
        sights=corner_as_seen(setting, style),
        pieces=test_piece_pictures(setting, style),
        letters={str(kind): letter for kind, letter in letters_on_test_pieces(setting).items()},
        learnt=() if correction is None else learnt_rows(correction),
        is_open=any(question.is_open for question in questions),
        can_accept=is_settled,
        learnt_words=""
        if correction is None or is_settled
        else _("First find out which value above is wrong: until then nothing is kept."),
    )


def plain_bench(bench: PlainBench, style: LengthStyle) -> SaidOfCuts:
    """Of a corner that no self-mating cutter makes."""
    from drawerwright.job.pictures.corner_pictures import corner_made
    from drawerwright.job.test_cuts.bench import LearntRow, ToSet
    from drawerwright.job.test_cuts.plain_bench import off_words
    from drawerwright.job.test_cuts.quarrels import QuarrelWords

    fault = None
    try:
        found = bench.answer()
    except InvalidValueError as impossible:
        found, fault = replace(bench, cuts=()).answer(), str(impossible)
    count = len(bench.former)
    carried = (
        plural(
            "{count} test cut of another corner with this joint counts too.",
            "{count} test cuts of other corners with this joint count too.",
            count,
        )
        if count
        else ""
    )
    unread = phrase("Cut two scraps of the stock, put them together, and enter what you read.")
    return SaidOfCuts(
        tuple(ToSet(each.setting.words, each.shown, each.change) for each in found.settings),
        [style.say(line) for line in (*(found.lines or (unread,)), *filter(None, (carried,)))],
        bench.start,
        bool(bench.cuts or bench.former or bench.learnt),
        fault,
        notices=[QuarrelWords(quarrel, (), "") for quarrel in found.quarrels],
        pieces=(corner_made(bench.made, style),),
        learnt=[LearntRow(label, known, is_open=False) for label, known in off_words(found)],
        can_accept=bench.can_accept,
        is_of_bench=True,
        learnt_words=_("Set this much more than planned: every further cut with this joint follows it."),
    )
