"""The part of a trial file that is about a joint without a self-mating cutter."""

from __future__ import annotations

from dataclasses import dataclass, field

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.entry_types import Given
from drawerwright.job.file.reading import Builder
from drawerwright.job.file.trial_model import TrialFile
from drawerwright.job.planning.corners import PlainJobCorner
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.test_cuts.cut_entries import Instruments, plain_cut_of_entries, plain_reading_faults
from drawerwright.job.test_cuts.plain_trial import PlainTrial
from drawerwright.joints.plain_cuts import aimed, check_readings
from drawerwright.joints.plain_joint import ChosenJoint, PlainCorner
from drawerwright.joints.setting import CornerGeometry
from drawerwright.joints.table import RouterTable
from drawerwright.wood.stock import Stock


@dataclass(frozen=True, slots=True)
class PlainPart:
    """What is known of the corner: of which job and with which pieces, where the file names them (None: it does not).

    `chosen` is the joint with the measures that are given for it.
    """

    entries: TrialFile
    chosen: ChosenJoint
    corner: PlainJobCorner | None
    draft: JobDraft | None
    style: LengthStyle
    instruments: Instruments = field(default_factory=Instruments)

    def trial(self, faults: Builder) -> PlainTrial | None:
        """The trial; None where `faults` were found, which are told there."""
        entries, chosen = self.entries, self.chosen
        before = len(faults.faults)
        if entries.joint is not None and entries.cutter is not None:
            faults.fault(("joint",), "is given as well as 'cutter': give which of the two makes the corner")
        for index, cut in enumerate(entries.cuts):
            for location, message in plain_reading_faults(chosen.joint, cut):
                faults.fault(("cuts", index, *location), message)
        pieces, width = self._pieces(faults), self._width(faults)
        if len(faults.faults) > before or pieces is None:
            return None
        flat, upright = pieces
        lip = entries.wanted.lip
        if lip is None:
            lip = 0.0 if self.corner is None else self.corner.key.lip
        made = PlainCorner(chosen.joint.name, CornerGeometry(flat.value, upright.value, lip), chosen.measures)
        with faults.at("wanted"):
            aimed(made, width)
        cuts = tuple(plain_cut_of_entries(cut, *pieces, width, self.instruments) for cut in entries.cuts)
        for index, one in enumerate(cuts):
            with faults.at("cuts", index):
                check_readings(made, one)
        if len(faults.faults) > before:
            return None
        table = RouterTable() if self.draft is None else self.draft.job.table
        off = {} if self.draft is None or self.corner is None else self.draft.job.learnt_off(self.corner.key)
        learnt = (off,) if off else ()
        return PlainTrial(entries.trial, self.style, made, width, cuts, table.dialling.uncertainty, learnt)

    def _pieces(self, faults: Builder) -> tuple[Estimate, Estimate] | None:
        wanted, keyed = self.entries.wanted, None if self.corner is None else self.corner.keyed
        flat = self._piece(wanted.flat, None if keyed is None else keyed.flat)
        upright = self._piece(wanted.upright, None if keyed is None else keyed.upright)
        if flat is None or upright is None:
            faults.fault(
                ("wanted",),
                "needs the thickness of both pieces: 'flat' and 'upright', or a 'job' and 'corner'",
            )
            return None
        return flat, upright

    def _piece(self, given: Given | None, stock: Stock | None) -> Estimate | None:
        if given is not None:
            return self.instruments.measured(given)
        return None if stock is None else self.instruments.measured(Given(stock.thickness.value))

    def _width(self, faults: Builder) -> Mm:
        said = self.entries.wanted.width
        if said is not None:
            return said
        heights = () if self.draft is None or self.corner is None else self.draft.heights_of(self.corner.key)
        if not heights and self.chosen.joint.needs_width:
            faults.fault(
                ("wanted",),
                f"needs 'width', the height of the drawer: a {self.chosen.joint.name} joint depends on it",
            )
        return max(heights, default=0.0)
