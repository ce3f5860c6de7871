"""From a trial file to the values that test cuts are evaluated with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from drawerwright.basics import usual
from drawerwright.basics.errors import DrawerwrightError, Fault, FaultyInputError
from drawerwright.basics.lengths import LengthStyle, Mm, finest_shown
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.building import read_job, table_of
from drawerwright.job.file.cutters import cutter_of
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.file_units import UNITS, FileUnit, unit_of
from drawerwright.job.file.model import CutterEntry
from drawerwright.job.file.reading import (
    Builder,
    Document,
    ToldFault,
    check_model,
    check_whole,
    entries_of,
    in_file_order,
    read_text,
)
from drawerwright.job.file.shop_model import MachineEntry
from drawerwright.job.file.trial_model import (
    CornerEntry,
    PartialTrialFile,
    ToldCuts,
    TrialFile,
    WantedEntry,
    is_job_file,
)
from drawerwright.job.job import Job, JobCutter
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.test_cuts.cut_entries import Instruments, cut_of_entries, reading_faults
from drawerwright.job.test_cuts.meant_corner import AnyCorner, corner_words, is_plain_corner, meant
from drawerwright.job.test_cuts.plain_trial import PlainTrial
from drawerwright.job.test_cuts.plain_trial_reading import PlainPart
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of
from drawerwright.joints.plain_joint import ChosenJoint, plain_joint
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerSetting, FenceRule
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TrialCut
from drawerwright.joints.wanted import Wanted

_STANDARD_FIT = FitRange()


@dataclass(frozen=True, slots=True)
class Trial:
    """Test cuts of one corner with all that is known beforehand.

    `place` is where the job file has the cutter; `others` are the other cutters of the job. `file_unit`: of the bare
    numbers in the job file, or in the trial file where it names none.
    """

    name: str
    style: LengthStyle
    cutter: Cutter
    table: RouterTable
    wanted: Wanted
    cuts: tuple[TrialCut, ...]
    place: tuple[str, ...] = ("cutter",)
    others: tuple[JobCutter, ...] = ()
    file_unit: FileUnit = "mm"

    @classmethod
    def of_job(
        cls, job: Job, cutter: JobCutter, name: str, wanted: Wanted, cuts: tuple[TrialCut, ...]
    ) -> Trial:
        """Test cuts with one of the cutters of a job."""
        others = tuple(other for other in job.cutters if other.key != cutter.key)
        return cls(name, job.style, cutter.cutter, cutter.table, wanted, cuts, cutter.place, others)

    def place_of(self, entry: str) -> tuple[str, ...]:
        """Where an entry stands in the job file that each of several cutters has for itself."""
        return (*self.place, entry) if len(self.place) > 1 else (entry,)


def open_trial(path: Path) -> Trial | PlainTrial:
    """Read a trial file; the job file that it may name is looked for beside it.

    Raises:
        FaultyInputError: with every fault, those of the job file included.
    """
    return read_trial(read_text(path), str(path), folder=path.parent)


def read_trial(text: str, file: str | None = None, folder: Path | None = None) -> Trial | PlainTrial:
    """Read a trial file's text.

    Args:
        text: the text.
        file: its name, for messages.
        folder: where a job file that it names lies; without it, naming one is a fault.

    Raises:
        FaultyInputError: with every fault, each with line and field.
    """
    document = Document(text, file)
    if is_job_file(document.data):
        words = phrase(
            "is a job file, not a trial file: give the file that holds the readings of the test cuts, under 'cuts'"
        )
        raise FaultyInputError((Fault("", words, None, file),))
    document.unit = _unit_of(document.data, folder)

    def build(entries: TrialFile, part: Document) -> _Builder:
        return _Builder(entries, part, folder)

    return check_whole(document, TrialFile, PartialTrialFile, build).trial()


def _unit_of(data: Any, folder: Path | None) -> FileUnit:
    """The unit of bare numbers in a trial file: what it says, else what the job file says that it names."""
    job = value_at(data, ("job",))
    if value_at(data, (UNITS,)) is None and isinstance(job, str) and folder is not None:
        try:
            return unit_of(entries_of(read_text(folder / job)))
        except FaultyInputError:  # told when the job is read
            return "mm"
    return unit_of(data)


def told_trial(
    name: str, cutter: Cutter, table: RouterTable, wanted: Wanted, cuts: Sequence[Mapping[str, Any]]
) -> Trial:
    """A trial that stands in no file: what is known, and each cut as the entries that a trial file has for it.

    Raises:
        FaultyInputError: with every fault of the cuts, each with its field.
    """
    document = Document.of({"cuts": list(cuts)})
    told = check_model(ToldCuts, document).cuts
    faults = [
        document.fault(("cuts", index, *location), message)
        for index, cut in enumerate(told)
        for location, message in reading_faults(joint_of(cutter), cut)
    ]
    if faults:
        raise FaultyInputError(tuple(faults))
    thicknesses = wanted.flat_thickness, wanted.upright_thickness
    return Trial(
        name,
        LengthStyle(),
        cutter,
        table,
        wanted,
        tuple(cut_of_entries(cut, *thicknesses, Instruments()) for cut in told),
    )


def corner_wanted(setting: CornerSetting, fit: FitRange, calipers: Mm | None = None) -> Wanted:
    """What is wanted of a corner whose settings are planned; the fence sum is shared as they share it.

    calipers: standard uncertainty of its thicknesses (mm), None for the usual one.
    """
    flat, upright = (
        Estimate.given(thickness, calipers, usual=usual.CALIPER_READING)
        for thickness in (setting.corner.flat_thickness, setting.corner.upright_thickness)
    )
    return Wanted(flat, upright, setting.corner.lip, setting.fence_rule, fit)


class _Builder(Builder):
    """Builds what it can on the way in; `trial` gives the whole or raises."""

    def __init__(self, entries: TrialFile, document: Document, folder: Path | None) -> None:
        super().__init__(document)
        self.entries = entries
        self.folder = folder
        self.instruments = Instruments(entries.calipers, entries.eye)
        self.job_unit: FileUnit = document.unit
        self.job = self._job(folder)
        self.draft = None if self.job is None else draft_job(self.job)
        self.of_job = self._cutter_of_job(entries.cutter)
        corner = self._job_corner(entries.wanted)
        plain = self._plain(corner)
        self.is_plain = plain is not None
        if plain is not None:
            self.plain_trial = plain.trial(self)
            return
        self.corner = None if self.draft is None or corner is None else self.draft.corner(corner.key)
        if self.of_job is None and self.corner is not None and not isinstance(entries.cutter, CutterEntry):
            self.of_job = None if self.job is None else self.job.cutter_of(self.corner.key.cutter)
        self.cutter = None if self.of_job is None else self.of_job.cutter
        if isinstance(entries.cutter, CutterEntry):
            flat = entries.wanted.flat
            through = None if flat is None else flat.value
            self.cutter = cutter_of(
                self, entries.cutter, entries.cutter.name, "cutter", folder=folder, through=through
            )
        elif self.job is None and not self._names("job", "cutter"):
            self.fault((), "names no cutter: give 'cutter', or a 'job' that has it")
        self.wanted = self._wanted(entries.wanted)
        if self.cutter is None and not self.faults and self.job is not None:
            self.fault(
                ("cutter",), f"is missing: the job has several cutters, so name one of {self._cutter_names()}"
            )
        if self.cutter is not None:
            for index, cut in enumerate(entries.cuts):
                for location, message in reading_faults(joint_of(self.cutter), cut):
                    self.fault(("cuts", index, *location), message)

    def trial(self) -> Trial | PlainTrial:
        if self.is_plain:
            if self.faults or self.plain_trial is None:
                raise FaultyInputError(in_file_order(self.faults))
            return self.plain_trial
        entries, cutter, wanted = self.entries, self.cutter, self.wanted
        if self.faults or cutter is None or wanted is None:
            raise FaultyInputError(in_file_order(self.faults))
        style = self._style()
        thicknesses = wanted.flat_thickness, wanted.upright_thickness
        cuts = self._cuts(cutter, thicknesses)
        if self.job is not None and self.of_job is not None and entries.machine is None:
            trial = Trial.of_job(self.job, self.of_job, entries.trial, wanted, cuts)
            return replace(trial, style=style, file_unit=self.job_unit)
        if entries.machine is None and self.job is not None:
            table = self.job.table
        else:
            machine = entries.machine or MachineEntry()
            table = table_of(machine.router_table, finest_shown(style.unit))
        place = ("cutter",) if self.of_job is None else self.of_job.place
        return Trial(entries.trial, style, cutter, table, wanted, cuts, place, file_unit=self.job_unit)

    def _style(self) -> LengthStyle:
        if self.entries.shown is not None:
            return self.entries.shown.style(self.document.unit)
        return self.job.style if self.job is not None else LengthStyle(self.document.unit)

    def _plain(self, corner: AnyCorner | None) -> PlainPart | None:
        """The part about a joint without a cutter, where the corner is one or the file names such a joint."""
        own = corner if corner is not None and is_plain_corner(corner) else None
        chosen = self.entries.joint
        if chosen is None and own is not None:
            chosen = ChosenJoint(plain_joint(own.key.joint), own.key.measures)
        if chosen is None:
            return None
        return PlainPart(self.entries, chosen, own, self.draft, self._style(), self.instruments)

    def _cuts(self, cutter: Cutter, thicknesses: tuple[Estimate, Estimate]) -> tuple[TrialCut, ...]:
        """All cuts, with the readings of their pictures."""
        found = []
        for index, entry in enumerate(self.entries.cuts):
            cut = cut_of_entries(entry, *thicknesses, self.instruments)
            if entry.scan is not None:
                if self.folder is None:
                    self.fault(("cuts", index, "scan"), "cannot be read from here: give readings instead")
                    continue
                from drawerwright.job.scan.scanned_readings import (
                    with_scan,  # loads numpy and the picture library
                )
                from drawerwright.job.test_cuts.scan_entries import taken_of

                try:
                    cut = with_scan(
                        cut,
                        [self.folder / name for name in entry.scan.flat],
                        [self.folder / name for name in entry.scan.upright],
                        kind=cutter.kind,
                        taken=taken_of(entry.scan),
                    )
                except (DrawerwrightError, OSError) as error:
                    self.fault(("cuts", index, "scan"), str(error))
            found.append(cut)
        if self.faults:
            raise FaultyInputError(in_file_order(self.faults))
        return tuple(found)

    def _cutter_of_job(self, said: CutterEntry | str | None) -> JobCutter | None:
        """The job's cutter that is named, or its only one; the corner says it where that has to."""
        if isinstance(said, CutterEntry):
            return None
        if isinstance(said, str) and not self._names("job"):
            self.fault(
                ("cutter",), "is a name, but the file names no 'job' that has the cutter: give its measures"
            )
        if self.job is None or (said is None and not self.job.cutters):
            return None
        found = [cutter for cutter in self.job.cutters if said in (None, cutter.name)]
        if not found:
            self.fault(("cutter",), f"there is no cutter {said!r}; the job has {self._cutter_names()}")
        return found[0] if len(found) == 1 else None

    def _cutter_names(self) -> str:
        return ", ".join(cutter.name for cutter in (self.job.cutters if self.job is not None else ()))

    def _names(self, *sections: str) -> bool:
        """Whether the text says something of one of these sections, faulty or not."""
        return any(self.document.whole.get(section) is not None for section in sections)

    def _is_faulty(self, section: str) -> bool:
        """Whether the text has a section that had to be left out for its faults."""
        return section in self.document.whole and section not in self.document.data

    def _job(self, folder: Path | None) -> Job | None:
        name = self.entries.job
        if name is None:
            return None
        if folder is None:
            self.fault(("job",), "cannot be read from here: give the cutter and the machine instead")
            return None
        path = folder / name
        try:
            text = read_text(path)
            self.job_unit = unit_of(entries_of(text))
            return read_job(text, str(path))
        except FaultyInputError as error:
            self.told += [ToldFault(("job",), fault, is_reckoned=False) for fault in error.faults]
            return None

    def _wanted(self, entry: WantedEntry) -> Wanted | None:
        from_job = None
        if self.job is not None and self.corner is not None:
            from_job = corner_wanted(self.corner.setting, self.job.fit_range, self.entries.calipers)
        lip = from_job.lip if from_job is not None and entry.lip is None else entry.lip or 0.0
        fence = entry.fence
        if fence is None:
            fence = from_job.fence if from_job is not None and entry.lip is None else FenceRule.ONE
        flat, upright = (
            self.instruments.measured(given) if given is not None else stands_in
            for given, stands_in in (
                (entry.flat, None if from_job is None else from_job.flat_thickness),
                (entry.upright, None if from_job is None else from_job.upright_thickness),
            )
        )
        fit = self._fit(entry)
        if flat is None or upright is None:
            if not self._names("job"):
                self.fault(
                    ("wanted",),
                    "needs the thickness of both pieces: 'flat' and 'upright', or a 'job' and 'corner'",
                )
            return None
        return None if fit is None else Wanted(flat, upright, lip, fence, fit)

    def _fit(self, entry: WantedEntry) -> FitRange | None:
        usual = self.job.fit_range if self.job is not None else _STANDARD_FIT
        least = usual.least_play if entry.least_play is None else entry.least_play
        most = usual.most_play if entry.most_play is None else entry.most_play
        flushness = usual.flushness if entry.flushness is None else entry.flushness
        with self.at("wanted", "least_play" if entry.most_play is None else "most_play"):
            return FitRange(least, most, flushness)
        return None

    def _job_corner(self, entry: WantedEntry) -> AnyCorner | None:
        """The corner of the job that is meant, if the trial leans on one."""
        if self.job is None or self.draft is None:
            if entry.corner is not None and not self._names("job"):
                self.fault(("wanted", "corner"), "belongs to a 'job', and the file names none")
            return None
        corners: tuple[AnyCorner, ...] = tuple(
            corner.known
            for corner in self.draft.corners
            if self.of_job is None or corner.key.cutter == self.of_job.key
        )
        if self.entries.cutter is None:
            corners = (*corners, *self.draft.plain_corners)
        if entry.corner is None and entry.flat is not None and entry.upright is not None:
            return None
        if entry.corner is None and self._is_faulty("wanted"):
            return None
        found = meant(corners, entry.corner or CornerEntry())
        if len(found) != 1:
            self._fault_corner(entry.corner, found, corners)
            return None
        return found[0]

    def _fault_corner(
        self, named: CornerEntry | None, found: list[AnyCorner], corners: tuple[AnyCorner, ...]
    ) -> None:
        names = "; ".join(corner.name for corner in found or corners)
        if named is None:
            text = f"the job has more than one corner: name one of {names}"
        elif found:
            text = f"{corner_words(named)} fits more than one corner: name one of {names}"
        else:
            text = f"the job has no corner {corner_words(named)}; it has {names}"
        self.fault(("wanted", "corner"), text)
