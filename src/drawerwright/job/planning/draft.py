"""A job before its sheets: parts, fence positions, corners and blanks. Quick enough for every keystroke."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawers.assembly import AssembledDrawer, assemble, parts_of
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.job.job import BankOfBoxes, Job, JobCutter
from drawerwright.job.planning.corners import JobCorner, PlainJobCorner, corners_of, plain_corners_of
from drawerwright.joints.corner_key import CornerKey, KeyedCorner
from drawerwright.joints.joint import MadeCorner
from drawerwright.joints.plain_cuts import can_be_set
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.setting_words import play_words
from drawerwright.joints.table import RouterTable
from drawerwright.run.edge_cuts import how_cut
from drawerwright.run.fencing import FenceChoice, choose_fences
from drawerwright.run.setups import corner_settings
from drawerwright.sheets.from_parts import StockBlanks, blanks_of
from drawerwright.sheets.problem import SheetProblem


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the job with its setting."""

    known: JobCorner
    setting: CornerSetting

    @property
    def name(self) -> str:
        """What it is called; no other corner of the job is."""
        return self.known.name

    @property
    def keyed(self) -> KeyedCorner:
        """Its key with the stock of its pieces."""
        return self.known.keyed

    @property
    def key(self) -> CornerKey:
        return self.known.key

    @property
    def drawers(self) -> tuple[str, ...]:
        """The drawers that have it."""
        return self.known.drawers

    def play_words(self, style: LengthStyle, table: RouterTable | None = None) -> str:
        """What its bit height leaves, and where it would be tight: as `table`'s gauge shows it, where one is given."""
        return play_words(self.setting, style, table)


@dataclass(frozen=True, slots=True)
class CutterFences:
    """One of the cutters of a job, and the fence positions of its corners."""

    cutter: JobCutter
    choice: FenceChoice


@dataclass(frozen=True, slots=True)
class JobDraft:
    """What follows from a job at once; only the sheets and the order of work are missing.

    `fences` has every cutter that is used, in the order in which they are put in.
    """

    job: Job
    assembled: tuple[AssembledDrawer, ...]
    fences: tuple[CutterFences, ...]
    settings: dict[CornerKey, CornerSetting]
    corners: tuple[Corner, ...]
    plain_corners: tuple[PlainJobCorner, ...]
    blanks: tuple[StockBlanks, ...]
    _named: dict[str, AssembledDrawer] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_named", {drawer.box.name: drawer for drawer in self.assembled})

    @property
    def made(self) -> dict[CornerKey, MadeCorner]:
        """How every corner is made, by a cutter or without one."""
        return {**self.settings, **{corner.key: corner.keyed.made for corner in self.plain_corners}}

    def corner_name(self, key: CornerKey) -> str:
        """What the corner with this key is called."""
        names = {corner.key: corner.name for corner in self.corners}
        names |= {corner.key: corner.name for corner in self.plain_corners}
        return names[key]

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every part of every drawer, then the fronts without one."""
        return _parts(self.job, self.assembled)

    def corner(self, key: CornerKey) -> Corner:
        """The corner with this key.

        Raises:
            KeyError: the job has none.
        """
        found = {corner.key: corner for corner in self.corners}
        return found[key]

    def heights_of(self, key: CornerKey) -> tuple[Mm, ...]:
        """The heights in which drawers have a corner that no cutter makes, the highest first (mm)."""
        found = {
            round(height, 3)
            for drawer in self.assembled
            for keyed, height in drawer.plain_corners
            if keyed.key == key
        }
        return tuple(sorted(found, reverse=True))

    @property
    def tested_plain_corners(self) -> tuple[PlainJobCorner, ...]:
        """The corners without a cutter that a test cut says something of: their joint is set and read, and their edge
        has room for it, which a finding says otherwise."""
        return tuple(
            corner
            for corner in self.plain_corners
            if plain_joint(corner.key.joint).readings
            and can_be_set(corner.keyed.made, max(self.heights_of(corner.key), default=0.0))
        )

    def drawer(self, name: str) -> AssembledDrawer:
        """The drawer of this name.

        Raises:
            KeyError: the job has none.
        """
        return self._named[name]

    def drawers_of(self, bank: BankOfBoxes) -> tuple[AssembledDrawer, ...]:
        """The drawers of a bank that are made, top drawer first."""
        return tuple(self._named[box.name] for box in bank.boxes if box.name in self._named)

    def sheet_problem(self, blanks: StockBlanks) -> SheetProblem:
        """What the sheet planner is asked for one stock."""
        job = self.job
        return SheetProblem(
            stock=blanks.stock.name,
            sizes=job.sheet_sizes[blanks.stock.name],
            saw=job.saw.at(blanks.stock.thickness.value),
            band_rules=job.band_rules,
            strips=blanks.strips,
            loose=blanks.loose,
            matched=blanks.matched,
            preferences=job.preferences,
            least_offcut=job.least_offcut,
        )


PANELS = (PartKind.APPLIED_FRONT, PartKind.FALSE_FRONT)
"""Parts whose figure may run through."""


def draft_job(job: Job) -> JobDraft:
    """Parts, fence positions, corners and blanks of a job."""
    assembled = tuple(assemble(box, job.heights_of(box), job.style.size_step) for box in job.all_boxes)
    parts = _parts(job, assembled)
    known = corners_of(job)
    fences: list[CutterFences] = []
    settings: dict[CornerKey, CornerSetting] = {}
    for cutter in job.cutters_in_use:
        keyed = job.corners_of(cutter)
        choice = choose_fences(keyed, cutter.fences, cutter.table)
        fences.append(CutterFences(cutter, choice))
        settings |= corner_settings(keyed, choice.pairs, cutter.heights)
    corners = tuple(Corner(corner, settings[corner.key]) for corner in known)
    plain = [corner for box in job.all_boxes for corner in box.plain_corners]
    blanks = blanks_of(parts, _matched(job, parts), how_cut=how_cut(settings, plain))
    return JobDraft(job, assembled, tuple(fences), settings, corners, plain_corners_of(job), blanks)


def _parts(job: Job, assembled: Sequence[AssembledDrawer]) -> tuple[Part, ...]:
    return (*parts_of(assembled), *(front.part for front in job.false_fronts))


def _matched(job: Job, parts: Sequence[Part]) -> list[tuple[Part, ...]]:
    """Applied fronts whose figure is to run through, in the order in which they hang: in each column of a carcase from
    the top down, or in each row from the left; equally long ones, since they are cut side by side."""
    fronts = {part.drawer: part for part in parts if part.kind in PANELS}
    lines: dict[tuple[Hashable, ...], list[tuple[tuple[float, ...], Part]]] = {}
    for number, bank in enumerate(job.banks):
        match, carcase = bank.match, bank.bank.opening.carcase
        for place in bank.bank.shown_in_carcase() if match is not None else ():
            part = fronts.get(place.name)
            if part is None or match is None:
                continue
            if match.is_across:
                line: Hashable = round(place.front.z)
                order = (number, place.front.x) if carcase is None else (0, place.front.x)
            else:
                line = None if carcase is None else (carcase.name, round(place.front.x))
                order = (number if carcase is None else 0, -place.front.z)
            key = match, line, part.stock.name, round(part.blank_length, 2)
            lines.setdefault(key, []).append((order, part))
    groups = [
        tuple(part for _order, part in sorted(group, key=lambda each: each[0])) for group in lines.values()
    ]
    return [group for group in groups if len(group) > 1]
