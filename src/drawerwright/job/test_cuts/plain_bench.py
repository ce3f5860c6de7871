"""The use case `test cut` of a corner that no self-mating cutter makes: the cuts that count for it, what they say, and
what is kept. A kept cut stands beside the others of the job, by the key of its corner."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase, plain
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.entry_types import written_estimate
from drawerwright.job.file.job_entries import set_in_mm
from drawerwright.job.plain_data import key_data
from drawerwright.job.planning.corners import PlainJobCorner
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.test_cuts.bench import AskedLength, CutMade, kept_text
from drawerwright.job.test_cuts.cut_entries import read_kept_plain_cut
from drawerwright.job.test_cuts.kept_cuts import KEY, counting_cuts
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.plain_cuts import PlainAnswer, PlainCut, answer, check_readings, settings_off
from drawerwright.joints.plain_joint import PlainCorner, PlainJoint, plain_joint
from drawerwright.store.records import ShelfEntry

WIDTH = "width"
PIECES = ("flat", "upright")
SET, READ = "set-", "read-"
"""Before the names of settings and readings in a form: those of a joint may be called alike."""


@dataclass(frozen=True, slots=True)
class PlainBench:
    """One corner of a job without a cutter, with the test cuts that count for it.

    `others` are cuts of this joint in the job that count for none of its corners. `former` is what cuts of the job's
    other corners say that are made with the same joint and measures, `former_entries` these cuts. `learnt`: what
    accepted cuts have taught of it."""

    job_id: int
    draft: JobDraft
    corner: PlainJobCorner
    entries: tuple[ShelfEntry, ...]
    others: tuple[ShelfEntry, ...]
    cuts: tuple[PlainCut, ...]
    former: tuple[Mapping[str, Estimate], ...] = ()
    former_entries: tuple[ShelfEntry, ...] = ()
    learnt: tuple[Mapping[str, Estimate], ...] = ()

    @property
    def token(self) -> str:
        """The corner in addresses and forms."""
        return self.corner.key.token

    @property
    def title(self) -> str:
        """What its cuts are called among all that the shop keeps."""
        return str(self.corner.name)

    @property
    def made(self) -> PlainCorner:
        return self.corner.keyed.made

    @property
    def joint(self) -> PlainJoint:
        return plain_joint(self.made.kind)

    @property
    def width(self) -> Mm:
        """Of the edge: that of the highest drawer that has the corner (mm)."""
        return max(self.draft.heights_of(self.corner.key), default=0.0)

    @property
    def asked_about(self) -> tuple[AskedLength, ...]:
        """What is asked about a cut beside its readings."""
        pieces = (
            AskedLength("flat", phrase("Thickness of the flat test piece"), with_doubt=True),
            AskedLength("upright", phrase("Thickness of the upright test piece"), with_doubt=True),
        )
        width = (
            (AskedLength(WIDTH, phrase("Width of the edge that was cut")),) if self.joint.needs_width else ()
        )
        set_so = (
            AskedLength(setting.figure, phrase("What was set: {setting}", setting=setting.words), within=SET)
            for setting in self.joint.settings
        )
        return (*set_so, *pieces, *width)

    @property
    def rules(self) -> tuple[AskedLength, ...]:
        """What can be read on its test pieces."""
        return tuple(
            AskedLength(each.name, each.words, with_doubt=True, is_size=not each.is_signed, within=READ)
            for each in self.joint.readings
        )

    @property
    def of_sections(self) -> tuple[AskedLength, ...]:
        """What pictures of the sawn pieces tell beside: none of them is read for this joint."""
        return ()

    @property
    def start(self) -> dict[str, Mm]:
        """What most probably is said of the next cut, by the fields of `asked_about`."""
        corner = self.made.corner
        return {
            **{SET + name: shown for name, shown in self.answer().dial.items()},
            "flat": corner.flat_thickness,
            "upright": corner.upright_thickness,
            WIDTH: self.width,
        }

    def answer(self) -> PlainAnswer:
        """What the cuts say, and before the first what to set.

        Raises:
            InvalidValueError: a reading cannot come from such a cut.
        """
        repeatability = self.draft.job.table.dialling.uncertainty
        return answer(self.made, self.width, self.cuts, (*self.learnt, *self.former), repeatability)

    @property
    def can_accept(self) -> bool:
        """Whether its cuts, and those of corners made alike, teach something that nothing contradicts."""
        if not (self.cuts or self.former):
            return False
        try:
            found = self.answer()
        except InvalidValueError:
            return False
        return not found.quarrels and any(each.off is not None for each in found.settings)

    def taught(self, text: str) -> str:
        """A job file's text with what the cuts say of each setting, in the place of what was learnt before."""
        key = self.corner.key
        place = next(
            (n for n, known in enumerate(self.draft.job.learnt_joints) if known.is_of(key)),
            len(self.draft.job.learnt_joints),
        )
        joint: Any = {"kind": key.joint, **dict(key.measures)} if key.measures else key.joint
        off = {
            each.setting.figure: written_estimate(each.off)
            for each in self.answer().settings
            if each.off is not None
        }
        return set_in_mm(text, ("learnt_joints", place), {"joint": joint, "off": off})

    def cut_text(self, made: CutMade) -> str:
        """A cut that was made for this corner, as it is kept.

        Raises:
            InvalidValueError: a reading cannot come from such a cut.
        """
        settings = {setting.figure for setting in self.joint.settings}
        text = kept_text(
            {
                "job": self.job_id,
                "corner": plain(self.corner.name),
                KEY: key_data(self.corner.key),
                "settings": made.kept(settings),
                **made.kept((*PIECES, WIDTH)),
                "readings": made.kept_readings or None,
            }
        )
        check_readings(self.made, read_kept_plain_cut(text))
        self.with_cut(text).answer()
        return text

    def with_cut(self, text: str) -> PlainBench:
        """The bench as it is once a kept cut has joined the others."""
        return replace(self, cuts=(*self.cuts, read_kept_plain_cut(text)))

    def check_claim(self, text: str) -> None:
        """See whether a kept cut that was made for another corner can count for this one.

        Raises:
            InvalidValueError: it has other settings or readings, or they cannot come from such a cut.
        """
        check_readings(self.made, read_kept_plain_cut(text))
        self.with_cut(text).answer()


def plain_bench_of(
    job_id: int, draft: JobDraft, corner: PlainJobCorner, shelf: Sequence[ShelfEntry]
) -> PlainBench:
    """The bench of one corner of a job, with the test cuts on the shelf that were made for the job and still count."""
    counting = counting_cuts(job_id, shelf)
    entries = tuple(entry for key, entry in counting if key == corner.key)
    others = tuple(
        entry
        for key, entry in counting
        if key is not None and key.joint == corner.key.joint and key not in draft.made
    )
    repeatability = draft.job.table.dialling.uncertainty
    alike = [
        (other.keyed.made, entry)
        for other in draft.plain_corners
        if other.key != corner.key and _is_alike(other.key, corner.key)
        for key, entry in counting
        if key == other.key
    ]
    former = tuple(
        settings_off(made, read_kept_plain_cut(entry.text), repeatability) for made, entry in alike
    )
    cuts = tuple(read_kept_plain_cut(entry.text) for entry in entries)
    off = draft.job.learnt_off(corner.key)
    learnt = (off,) if off else ()
    former_entries = tuple(entry for _made, entry in alike)
    return PlainBench(job_id, draft, corner, entries, others, cuts, former, former_entries, learnt)


def _is_alike(one: CornerKey, other: CornerKey) -> bool:
    """Whether both are cut by the same measures, at the same machine."""
    return (one.joint, one.measures) == (other.joint, other.measures)


def off_words(found: PlainAnswer) -> tuple[tuple[Phrase, Estimate], ...]:
    """What was learnt of each setting: how much more than planned is to be set."""
    return tuple((each.setting.words, each.off) for each in found.settings if each.off is not None)
