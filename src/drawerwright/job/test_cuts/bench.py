"""The use case `test cut`: one corner of a job with the cuts that count for it, what they say, and what is kept."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, joined, phrase, plain
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.editing import Path, set_value
from drawerwright.job.file.entry_types import Given
from drawerwright.job.job import Job
from drawerwright.job.plain_data import key_data
from drawerwright.job.planning.draft import Corner, JobDraft
from drawerwright.job.planning.first_cut_odds import corner_odds
from drawerwright.job.planning.odds_words import card_words, dialled_in_again_words
from drawerwright.job.test_cuts.correcting import correct_trial, next_cut_words
from drawerwright.job.test_cuts.cut_entries import read_kept_cut
from drawerwright.job.test_cuts.dialled_again import odds_dialled_in_again
from drawerwright.job.test_cuts.goes_home import HomeQuestion, asked, at_stake
from drawerwright.job.test_cuts.kept_cuts import GAUGES, HEIGHT, KEY, counting_cuts
from drawerwright.job.test_cuts.lessons import measures_learnt, with_lessons
from drawerwright.job.test_cuts.trial_reading import Trial, corner_wanted
from drawerwright.joints.correction import Correction, cut_at
from drawerwright.joints.joint import joint_of
from drawerwright.joints.readings import RULES, SECTION_KINDS, ReadingRule
from drawerwright.joints.statements import Statement
from drawerwright.joints.trial_cut import TrialCut
from drawerwright.store.records import ShelfEntry

DIGITS = 4
"""Decimals of a number that is kept (mm)."""


@dataclass(frozen=True, slots=True)
class CutMade:
    """A test cut as it was made: what the gauges showed, the pieces, and what was read and seen.

    `measures` are mm by the names of `GAUGES` and by "flat" and "upright"; `readings` mm by the names of their kinds.
    With `by_block` the height is that of a block. `seen` is one of the sights, or empty. What a gauge shows states no
    uncertainty; a block, a piece and a reading may.
    """

    measures: Mapping[str, Given]
    readings: Mapping[str, Given]
    seen: str = ""
    by_block: bool = False

    def kept(self, names: Collection[str]) -> dict[str, float | str]:
        """Some of its measures as they are kept."""
        return {name: given.kept(DIGITS) for name, given in self.measures.items() if name in names}

    @property
    def kept_readings(self) -> dict[str, float | str]:
        return {kind: given.kept(DIGITS) for kind, given in self.readings.items()}


@dataclass(frozen=True, slots=True)
class AskedLength:
    """A length that is asked about a test cut: its name, and what it is called.

    It is more than 0 mm where it `is_size`; else it may reach `least` (mm), or be of either sign (None). `within` tells
    names apart in a form where settings and readings of a joint are called alike.
    """

    name: str
    words: Phrase
    with_doubt: bool = False
    is_size: bool = True
    least: Mm | None = None
    within: str = ""

    @property
    def field(self) -> str:
        """Its name in a form."""
        return self.within + self.name


@dataclass(frozen=True, slots=True)
class ToSet:
    """A gauge to set: what it is called, what it has to show (mm), by how much that differs from the last cut (None
    before the first one, 0 where it stays), and what else is said beside it."""

    words: Phrase
    shown: Mm
    change: Mm | None = None
    beside: str = ""


@dataclass(frozen=True, slots=True)
class LearntRow:
    """What is now known of one statement; with `is_open` it is not clear which of several is wrong."""

    label: str
    known: Estimate
    is_open: bool


@dataclass(frozen=True, slots=True)
class NextCutOdds:
    """How sure the cut to come is, in sentences; and its misfit to expect, where that can be said."""

    words: tuple[str, ...]
    misfit: Estimate | None


@dataclass(frozen=True, slots=True)
class AskedCut:
    """The question about one kept test cut, and what hangs on the answer (None: a later one says that)."""

    entry: ShelfEntry
    question: str
    at_stake: str | None


@dataclass(frozen=True, slots=True)
class Bench:
    """One corner of a job with the test cuts that count for it.

    `others` are test cuts of the job that count for none of its corners: their own is not known, or is no more.
    """

    job_id: int
    draft: JobDraft
    corner: Corner
    entries: tuple[ShelfEntry, ...]
    others: tuple[ShelfEntry, ...]
    trial: Trial

    @property
    def token(self) -> str:
        """The corner in addresses and forms."""
        return self.corner.key.token

    @property
    def title(self) -> str:
        """What its cuts are called among all that the shop keeps."""
        return f"{self.trial.cutter.name}, {self.corner.name}"

    @property
    def asked_about(self) -> tuple[AskedLength, ...]:
        """What is asked about a cut beside its readings; the height is that of a block where it was set by one."""
        words = {
            GAUGES[0]: phrase("The height gauge showed"),
            GAUGES[1]: phrase("The fence scale showed, flat piece"),
            GAUGES[2]: phrase("The fence scale showed, upright piece"),
            "flat": phrase("Thickness of the flat test piece"),
            "upright": phrase("Thickness of the upright test piece"),
        }
        return tuple(AskedLength(name, said, name not in GAUGES) for name, said in words.items())

    @property
    def rules(self) -> tuple[AskedLength, ...]:
        """What can be read on its test pieces."""
        return tuple(_asked_by(rule) for rule in joint_of(self.trial.cutter).rules)

    @property
    def of_sections(self) -> tuple[AskedLength, ...]:
        """What pictures of the sawn pieces tell beside."""
        read = joint_of(self.trial.cutter).readings
        return tuple(_asked_by(RULES[kind]) for kind in SECTION_KINDS if kind not in read)

    def start(self, correction: Correction | None) -> dict[str, Mm]:
        """What most probably is said of the next cut, by the names of `asked_about`."""
        first = self.first
        return {
            **self.dial(correction),
            "flat": first.flat_thickness.value,
            "upright": first.upright_thickness.value,
        }

    @property
    def by_block(self) -> bool:
        """Whether the height of the latest cut was that of a block."""
        return bool(self.trial.cuts) and self.trial.cuts[-1].by_block

    @property
    def first(self) -> TrialCut:
        """The cut that the job's settings ask for, before anything is learnt."""
        return cut_at(self.corner.setting, self.trial.table, self.trial.wanted)

    def correction(self) -> Correction | None:
        """What the cuts say; None before the first.

        Raises:
            InvalidValueError: something impossible follows from what was read.
        """
        return correct_trial(self.trial) if self.trial.cuts else None

    def dial(self, correction: Correction | None) -> dict[str, Mm]:
        """What the gauges should show for the cut to come, by the names of `GAUGES`."""
        if correction is None:
            first = self.first
            values = (first.height_shown.value, first.fence_flat_shown, first.fence_upright_shown)
        else:
            after = correction.next_cut
            values = (after.height_shown, after.fence_flat_shown, after.fence_upright_shown)
        return dict(zip(GAUGES, values, strict=True))

    def to_set(self, correction: Correction | None, style: LengthStyle) -> tuple[ToSet, ...]:
        """The gauges for the cut to come; before the first one with what its height leaves."""
        dial = self.dial(correction)
        words = (
            phrase("Plane a block to")
            if correction is not None and self.by_block
            else phrase("Height gauge shows"),
            phrase("Fence scale, flat piece"),
            phrase("Fence scale, upright piece"),
        )
        if correction is None:
            beside = (self.corner.play_words(style, self.trial.table), "", "")
            return tuple(
                ToSet(said, dial[name], beside=more)
                for said, name, more in zip(words, GAUGES, beside, strict=True)
            )
        after = correction.next_cut
        changes = (
            0.0 if after.leaves_height else after.height_change,
            0.0 if after.leaves_fence else after.fence_flat_change,
            0.0 if after.leaves_fence else after.fence_upright_change,
        )
        return tuple(
            ToSet(said, dial[name], change) for said, name, change in zip(words, GAUGES, changes, strict=True)
        )

    def odds(
        self, correction: Correction | None, questions: Sequence[HomeQuestion], style: LengthStyle
    ) -> NextCutOdds:
        """How sure the cut to come is: before the first test cut, as the job's first cut is everywhere."""
        if correction is not None:
            words = next_cut_words(correction, questions)
            if self.is_settled(correction):
                again = odds_dialled_in_again(self.draft.job, self.corner, self.trial, correction)
                words = (*words, dialled_in_again_words(again, self.trial.cutter))
            return NextCutOdds(words, correction.next_cut.misfit)
        odds = corner_odds(self.draft, self.corner)
        words = card_words(odds, self.trial.table, style)
        return NextCutOdds(words, odds.misfit_estimate if odds.is_judged else None)

    def asked(self, questions: Sequence[HomeQuestion]) -> list[AskedCut]:
        """What is to be asked, each with the kept cut that it is about."""
        return [
            AskedCut(self.entries[one.cut - 1], asked(one), at_stake(one, by_block=self.by_block))
            for one in questions
        ]

    def with_cut(self, text: str) -> Bench:
        """The bench as it is once a kept cut has joined the others."""
        return replace(self, trial=replace(self.trial, cuts=(*self.trial.cuts, read_kept_cut(text))))

    def cut_text(self, made: CutMade) -> str:
        """A cut that was made for this corner, as it is kept.

        Raises:
            InvalidValueError: with it, something impossible follows from what was read.
        """
        height = {"block" if made.by_block else HEIGHT: made.kept((HEIGHT,))[HEIGHT]}
        text = kept_text(
            {
                "job": self.job_id,
                "cutter": self.trial.cutter.name,
                "corner": plain(self.corner.name),
                KEY: key_data(self.corner.key),
                **height,
                **{name: kept for name, kept in made.kept(made.measures).items() if name != HEIGHT},
                "readings": made.kept_readings or None,
                "seen": made.seen or None,
            }
        )
        self.with_cut(text).correction()
        return text

    def check_claim(self, text: str) -> None:
        """See whether a kept cut that was made for another corner can count for this one.

        Raises:
            InvalidValueError: its joint is of another kind, or something impossible follows from what was read.
        """
        counted = self.with_cut(text)
        readable = {*joint_of(self.trial.cutter).readings, *SECTION_KINDS}
        if any(reading.kind not in readable for reading in counted.trial.cuts[-1].readings):
            raise InvalidValueError(phrase("This cut has readings that belong to another kind of joint."))
        counted.correction()

    def taught(self, text: str, correction: Correction) -> tuple[str, tuple[tuple[Path, str], ...]]:
        """The job file's text with what the cuts taught, and each measure with its path; none where nothing is
        sure."""
        return with_lessons(text, self.trial, correction), measures_learnt(self.trial, correction)

    def is_settled(self, correction: Correction) -> bool:
        """Whether the cuts taught anything that is sure enough to be kept."""
        return bool(measures_learnt(self.trial, correction))


def _asked_by(rule: ReadingRule) -> AskedLength:
    return AskedLength(
        str(rule.kind),
        joined((rule.piece, rule.what), ": "),
        with_doubt=True,
        is_size=False,
        least=0.0 if rule.is_seen_when_positive else None,
    )


def bench_of(job_id: int, job: Job, draft: JobDraft, corner: Corner, shelf: Sequence[ShelfEntry]) -> Bench:
    """The bench of one corner of a job, with the test cuts on the shelf that were made for the job and still count."""
    counting = counting_cuts(job_id, shelf)
    entries = tuple(entry for key, entry in counting if key == corner.key)
    others = tuple(
        entry for key, entry in counting if key is None or (key.cutter and key not in draft.settings)
    )
    trial = Trial.of_job(
        job,
        job.cutter_of(corner.key.cutter),
        plain(corner.name),
        corner_wanted(corner.setting, job.fit_range),
        tuple(read_kept_cut(entry.text) for entry in entries),
    )
    return Bench(job_id, draft, corner, entries, others, trial)


def stock_names(draft: JobDraft) -> dict[str, str]:
    """What a job's stocks are called, by their ids."""
    return {stock.key: stock.name for stock in draft.job.stock.values()}


def kept_text(entries: Mapping[str, Any]) -> str:
    """A test cut as it is kept; entries without a value are left out."""
    text = ""
    for name, value in entries.items():
        if value is not None:
            text = set_value(text, (name,), value)
    return text


def learnt_rows(correction: Correction) -> tuple[LearntRow, ...]:
    """What is now known of cutter and gauges."""
    labels = {
        Statement.MID_DEPTH: phrase("Mid depth"),
        Statement.STEP: phrase("Step"),
        Statement.HEIGHT_GAUGE: phrase("Height gauge reads high by"),
        Statement.FENCE_GAUGE: phrase("Fence scale reads high by"),
    }
    learnt, disagreement = correction.learnt, correction.disagreement
    return tuple(
        LearntRow(label, learnt.stated(one), disagreement.is_open(one)) for one, label in labels.items()
    )
