"""The use case `correct`: what test cuts say, and what to set for the next one, as the interfaces show it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.told_lengths import DOUBT_EXAMPLE, GAUGE_EXAMPLE
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.file_units import in_unit
from drawerwright.job.file.model import JobFile
from drawerwright.job.job import Job
from drawerwright.job.plain_data import clean, estimate_data, finding_data
from drawerwright.job.planning.odds_words import CutToCome, fit_and_lip_words, percent, percent_words
from drawerwright.job.test_cuts.goes_home import HomeQuestion, home_finding, home_questions, question_data
from drawerwright.job.test_cuts.lessons import lessons
from drawerwright.job.test_cuts.quarrels import quarrel_words
from drawerwright.job.test_cuts.trial_reading import Trial, corner_wanted
from drawerwright.joints.assumptions import (
    assumption_findings,
    cutter_measures,
    exact_findings,
    gauge_measures,
)
from drawerwright.joints.chances import Odds
from drawerwright.joints.correction import Correction, correct, first_cut, worth_reading
from drawerwright.joints.joint import joint_of
from drawerwright.joints.learning import Learnt
from drawerwright.joints.readings import RULES, ReadingKind, height_for_misfit, misfit
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.statements import Statement, statements
from drawerwright.joints.trial_cut import TakenReading

REPORT_VERSION = 1
"""Rises when a reader of an older report could misread a newer one."""
WORTH_NAMING = 3
"""So many of the readings that would still help are named."""


def correct_trial(trial: Trial) -> Correction:
    """What the test cuts of a trial say, oldest first."""
    return correct(trial.cutter, trial.table, trial.cuts, trial.wanted)


def first_readings(job: Job, setting: CornerSetting) -> tuple[ReadingKind, ...]:
    """What to read on the first test cut of a job's corner, the most telling first.

    Where a kind of joint always shows something that says what matters, that goes first; each further reading is the
    one that then raises the odds of the second cut most.
    """
    wanted = corner_wanted(setting, job.fit_range)
    used = job.cutter_of(setting.cutter.key)
    cut = first_cut(used.cutter, used.table, wanted)
    best = height_for_misfit(setting, wanted.fit.best_misfit(used.cutter.mating))
    at_best = replace(setting, bit_height=best)
    chosen: list[ReadingKind] = []
    while len(chosen) < WORTH_NAMING:
        first = joint_of(used.cutter).first_reading
        if not chosen and first is not None:
            kind, value = first, RULES[first].value(at_best)
        else:
            asked, known = worth_reading(used.cutter, used.table, (cut,), wanted)
            found = [one.kind for one in asked if one.kind not in chosen]
            if not found:
                break
            kind = found[0]
            value = known.estimate(0, RULES[kind].value).value
        chosen.append(kind)
        cut = replace(cut, readings=(*cut.readings, TakenReading(kind, value)))
    return tuple(chosen)


def first_reading_words(job: Job, setting: CornerSetting) -> list[str]:
    """The same, each in words: on which piece, and what."""
    return [_asked(kind) for kind in first_readings(job, setting)]


def _asked(kind: ReadingKind) -> str:
    rule = RULES[kind]
    or_else = (
        ", or how far it stands proud; note which of the two you saw" if kind is ReadingKind.PLAY else ""
    )
    return f"{rule.piece}: {rule.what}{or_else}"


def next_cut_words(correction: Correction, questions: Sequence[HomeQuestion] = ()) -> tuple[str, ...]:
    """How often the next cut fits, in sentences: at the setting it is to have, and with nothing touched.

    What holds only if a corner goes home, or does not, is said with that condition.
    """
    after, cutter = correction.next_cut, correction.learnt.cutter_before
    lines = [fit_and_lip_words(after.odds, cutter, CutToCome.NEXT)]
    condition = next((question for question in questions if question.is_open), None)
    if condition is not None and condition.reads_play:
        lines[0] = phrase("If cut {cut} goes home by hand: {odds}", cut=condition.cut, odds=lines[0])
    elif condition is not None:
        lines[0] = phrase("If cut {cut} does not go home: {odds}", cut=condition.cut, odds=lines[0])
    if not after.leaves_all:
        as_it_is = percent_words(correction.as_it_is.both)
        lines.append(
            phrase("Leave everything as it is, and both come out right {both} of the time.", both=as_it_is)
            if cutter.mating.has_lip
            else phrase("Leave everything as it is, and it fits {both} of the time.", both=as_it_is)
        )
    return tuple(lines)


def trial_findings(trial: Trial) -> tuple[Finding, ...]:
    """What is doubtful about a trial beside its readings."""
    known = (cutter_measures(trial.cutter), DOUBT_EXAMPLE), (gauge_measures(trial.table), GAUGE_EXAMPLE)
    return tuple(
        finding
        for findings in (assumption_findings, exact_findings)
        for measures, example in known
        for finding in findings(measures, trial.name, example)
    )


def correction_data(trial: Trial, correction: Correction) -> dict[str, Any]:
    """A correction as plain data: lengths in mm, probabilities from 0 to 1, cuts counted from 1."""
    questions = home_questions(trial, correction)
    asked = [home_finding(question, by_block=trial.cuts[-1].by_block) for question in questions]
    learnt, after, wanted = correction.learnt, correction.next_cut, trial.wanted
    disagreement = correction.disagreement
    return {
        "format": "drawerwright-correction",
        "version": REPORT_VERSION,
        "units": {"length": "mm"},
        "trial": trial.name,
        "wanted": {
            "flat_thickness": estimate_data(wanted.flat_thickness),
            "upright_thickness": estimate_data(wanted.upright_thickness),
            "lip": clean(wanted.lip),
            "least_play": wanted.fit.least_play,
            "most_play": wanted.fit.most_play,
            "flushness": wanted.fit.flushness,
        },
        "cuts": [
            {
                **{name: estimate_data(known) for name, known in _was(learnt, number).items()},
                "by_block": cut.by_block,
                "readings": [
                    {
                        "reading": str(reading.kind),
                        "value": clean(reading.value),
                        "uncertainty": reading.uncertainty,
                        "now_expected": estimate_data(learnt.estimate(number, RULES[reading.kind].value)),
                        "left_out": (number, index) in disagreement.left_out,
                    }
                    for index, reading in enumerate(cut.readings)
                ],
            }
            for number, cut in enumerate(trial.cuts)
        ],
        "contradictions": [
            {
                "quarrel": found.quarrel,
                "cut": found.place[0] + 1,
                "reading": str(found.reading.kind),
                "value": clean(found.reading.value),
                "rest_expects": estimate_data(found.expected),
                "deviations": round(found.deviations, 1),
            }
            for found in disagreement.readings
        ],
        "outvoted": [
            {
                "quarrel": found.quarrel,
                "stated": str(found.statement),
                "value": estimate_data(found.stated),
                "readings_say": estimate_data(found.expected),
                "deviations": round(found.deviations, 1),
                "is_settled": not disagreement.is_open(found.statement),
            }
            for found in disagreement.outvoted
        ],
        "to_find_out": [quarrel.advice for quarrel in quarrel_words(correction)],
        "next_cut": {
            "by_block": trial.cuts[-1].by_block,
            "dial_in": {
                "height": clean(after.height_shown),
                "fence_flat": clean(after.fence_flat_shown),
                "fence_upright": clean(after.fence_upright_shown),
            },
            "change": {
                "height": clean(after.height_change),
                "fence_flat": clean(after.fence_flat_change),
                "fence_upright": clean(after.fence_upright_change),
            },
            "true_size": {
                "bit_height": clean(after.bit_height),
                "fence_flat": clean(after.fence_flat),
                "fence_upright": clean(after.fence_upright),
            },
            "leave_height": after.leaves_height,
            "leave_fence": after.leaves_fence,
            "misfit": estimate_data(after.misfit),
            "lip": estimate_data(after.lip),
            "odds": _odds_data(after.odds),
        },
        "odds_as_it_is": _odds_data(correction.as_it_is),
        "learnt": {
            name: {"before": estimate_data(before), "now": estimate_data(now)}
            for name, before, now in _learnt(trial, learnt)
        },
        "worth_reading": [
            {
                "reading": str(reading.kind),
                "piece": reading.piece,
                "what": reading.what,
                "odds": _odds_data(reading.odds),
                "gain": round(reading.gain, 4),
            }
            for reading in correction.next_readings
        ],
        "goes_home": [question_data(question) for question in questions],
        "findings": [finding_data(finding) for finding in (*asked, *trial_findings(trial))],
    }


def correction_text(trial: Trial, correction: Correction) -> str:
    """A correction in sentences, for a person at the router table."""
    return "\n".join(_Telling(trial, correction).lines())


class _Telling:
    """The lines of a correction's text, in the order in which they are needed at the machine."""

    def __init__(self, trial: Trial, correction: Correction) -> None:
        self.trial = trial
        self.correction = correction
        self.style: LengthStyle = trial.style
        self.questions = home_questions(trial, correction)

    def lines(self) -> Iterator[str]:
        count = len(self.trial.cuts)
        yield f"{self.trial.name}: {count} test cut{'s' if count > 1 else ''}"
        for number in range(count):
            yield from self._cut(number)
        yield from self._quarrels()
        yield from self._next_cut()
        yield from self._home()
        yield from self._worth_reading()
        yield from self._learnt()
        for finding in trial_findings(self.trial):
            yield finding.told(self.style)

    def _show(self, length: Mm) -> str:
        return self.style.show(length, fine=True)

    def _known(self, known: Estimate) -> str:
        value = self.style.show(known.value, fine=True, with_unit=False)
        return f"{value} ± {self.style.show_doubt(known.uncertainty)}"

    def _change(self, change: Mm, is_left: bool) -> str:
        if is_left:
            return "(leave it)"
        shown = self._show(change)
        return f"+{shown}" if change > 0 else shown

    def _cut(self, number: int) -> Iterator[str]:
        was = _was(self.correction.learnt, number)
        cut = self.trial.cuts[number]
        yield f"\nCut {number + 1}, as it really was (± is the standard uncertainty):"
        yield f"  bit height {self._known(was['bit_height'])}"
        if cut.has_one_fence_setting:
            yield f"  fence, both pieces {self._known(was['fence_flat'])}"
        else:
            yield f"  fence, flat piece {self._known(was['fence_flat'])}"
            yield f"  fence, upright piece {self._known(was['fence_upright'])}"
        lip = f"; lip {self._known(was['lip'])}" if self.trial.cutter.mating.has_lip else ""
        yield f"  {self._corner(was['misfit'])}{lip}"

    def _corner(self, off: Estimate) -> str:
        size = self._known(Estimate(abs(off.value), off.uncertainty))
        return joint_of(self.trial.cutter).misfit_words(size, off.value > 0)

    def _quarrels(self) -> Iterator[str]:
        for quarrel in quarrel_words(self.correction):
            yield f"\n{self.style.say(quarrel.head)}"
            yield from (f"  {self.style.say(item)}" for item in quarrel.items)
            yield self.style.say(quarrel.advice)

    def _next_cut(self) -> Iterator[str]:
        trial, after, wanted = self.trial, self.correction.next_cut, self.trial.wanted
        cut = trial.cuts[-1]
        yield "\nFor the next cut" + (", leave the machine as it is:" if after.leaves_all else ":")
        height = self._show(after.height_shown)
        true = "" if cut.by_block else f"  (true {self._show(after.bit_height)})"
        change = self._change(after.height_change, after.leaves_height)
        if cut.by_block and not after.leaves_height:
            yield f"  plane a block to {height}  {change}"
        else:
            yield f"  {'block' if cut.by_block else 'height gauge shows'} {height}  {change}{true}"
        fences: tuple[tuple[str, Mm, Mm, Mm], ...] = (
            ("the flat piece", after.fence_flat_shown, after.fence_flat_change, after.fence_flat),
            ("the upright piece", after.fence_upright_shown, after.fence_upright_change, after.fence_upright),
        )
        if abs(after.fence_flat_shown - after.fence_upright_shown) < ONE_READING:
            fences = (("both pieces", *fences[0][1:]),)
        for piece, shown, moved, size in fences:
            yield (
                f"  fence scale shows {self._show(shown)} for {piece}  "
                f"{self._change(moved, after.leaves_fence)}  (true {self._show(size)})"
            )
        yield from next_cut_words(self.correction, self.questions)
        lip = f"; the lip is right at {self._show(wanted.lip)} within {self._show(wanted.fit.flushness)}"
        yield f"It fits if {self._fit_words()}{lip if trial.cutter.mating.has_lip else ''}."

    def _home(self) -> Iterator[str]:
        for question in self.questions:
            finding = home_finding(question, by_block=self.trial.cuts[-1].by_block)
            yield f"{self.style.say(finding.text)} {self.style.say(finding.remedy)}"

    def _fit_words(self) -> str:
        fit = self.trial.wanted.fit
        return joint_of(self.trial.cutter).fit_words(fit, self.style)

    def _worth_reading(self) -> Iterator[str]:
        readings = self.correction.next_readings[:WORTH_NAMING]
        if readings:
            yield "Worth measuring on the last cut before you change anything:"
        for reading in readings:
            yield (
                f"  {reading.piece}: {reading.what} ({reading.kind!s}); odds of both then about "
                f"{percent(reading.odds.both)}"
            )

    def _learnt(self) -> Iterator[str]:
        disagreement = self.correction.disagreement
        yield "\nLearnt:"
        for name, before, now in _learnt(self.trial, self.correction.learnt):
            was = f"{self._known(before)}{', assumed' if before.is_assumed else ''}"
            is_open = disagreement.is_open(Statement(name))
            yield f"  {name.replace('_', ' ')} {'open, see above' if is_open else self._known(now)} (was {was})"
        entries = lessons(self.trial, self.correction)
        if entries:
            only = next((f", if cut {one.cut} {one.as_written}" for one in self.questions if one.is_open), "")
            yield f"For the job file{only} (then start a new trial file: these cuts are used up):"
        for path, given in entries:
            value = in_unit(given, JobFile, path, self.trial.file_unit)
            inside = value.items() if isinstance(value, Mapping) else [("", value)]
            for name, one in inside:
                yield f"  {'.'.join(map(str, filter(None, (*path, name))))}: {_written(one)}"


def _written(value: Any) -> str:
    """A value as a job file has it."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name}: {_written(one)}" for name, one in value.items()) + "}"
    if isinstance(value, str):
        return value
    return f"[{', '.join(map(_written, value))}]" if isinstance(value, list) else f"{value:g}"


ONE_READING: Mm = 0.005
"""Fence readings closer than this are one."""


def _was(learnt: Learnt, number: int) -> dict[str, Estimate]:
    """A cut as it most probably was."""

    def lip(setting: CornerSetting) -> Mm:
        return setting.lip

    return {
        "bit_height": learnt.estimate(number, lambda setting: setting.bit_height),
        "fence_flat": learnt.estimate(number, lambda setting: setting.fence_flat),
        "fence_upright": learnt.estimate(number, lambda setting: setting.fence_upright),
        "misfit": learnt.estimate(number, misfit),
        "lip": learnt.estimate(number, lip),
    }


def _learnt(trial: Trial, learnt: Learnt) -> tuple[tuple[str, Estimate, Estimate], ...]:
    """Name, before, now."""
    before = statements(trial.cutter, trial.table)
    return tuple((str(one), known, learnt.stated(one)) for one, known in before.items())


def _odds_data(odds: Odds) -> dict[str, float]:
    return {"fits": round(odds.fits, 4), "flush": round(odds.flush, 4), "both": round(odds.both, 4)}
