"""A job before its sheets: parts, fence positions, corners and blanks. Quick enough for every keystroke."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase, plain
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.job.job import Job
from drawerwright.joints.setting import CornerGeometry, CornerSetting
from drawerwright.run.fencing import FenceChoice, choose_fences
from drawerwright.run.setups import corner_settings
from drawerwright.sheets.from_parts import StockBlanks, blanks_of
from drawerwright.sheets.problem import SheetProblem


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the job: what it is called, its setting, and the drawers that have it."""

    name: str
    setting: CornerSetting
    drawers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class JobDraft:
    """What follows from a job at once; only the sheets and the order of work are missing."""

    job: Job
    parts: tuple[Part, ...]
    fences: FenceChoice
    settings: dict[CornerGeometry, CornerSetting]
    corners: tuple[Corner, ...]
    blanks: tuple[StockBlanks, ...]

    def sheet_problem(self, blanks: StockBlanks) -> SheetProblem:
        """What the sheet planner is asked for one stock."""
        job = self.job
        return SheetProblem(
            stock=blanks.stock.name,
            sizes=job.sheet_sizes[blanks.stock.name],
            saw=job.saw,
            band_rules=job.band_rules,
            strips=blanks.strips,
            loose=blanks.loose,
            matched=blanks.matched,
            preferences=job.preferences,
            least_offcut=job.least_offcut,
        )


def draft_job(job: Job) -> JobDraft:
    """Parts, fence positions, corners and blanks of a job."""
    parts = tuple(part for box in job.all_boxes for part in box.parts(job.cutter, job.heights))
    fences = choose_fences(job.corner_geometries, job.cutter, job.fences, job.table.largest_fence_setting)
    settings = corner_settings(job.cutter, fences.pairs, job.heights)
    return JobDraft(
        job, parts, fences, settings, _named_corners(job, settings), blanks_of(parts, _matched(job, parts))
    )


def _matched(job: Job, parts: Sequence[Part]) -> list[tuple[Part, ...]]:
    """Applied fronts of the banks that ask for a running figure, in the order in which they hang."""
    groups = []
    for bank in job.banks:
        if bank.matches_fronts:
            names = {box.name for box in bank.boxes}
            group = tuple(p for p in parts if p.kind is PartKind.APPLIED_FRONT and p.drawer in names)
            if len(group) > 1:
                groups.append(group)
    return groups


_CORNER_WORDS = {
    ("front",): phrase("front corner"),
    ("back",): phrase("back corner"),
    ("front", "back"): phrase("front and back corner"),
    ("back", "front"): phrase("back and front corner"),
}


def _named_corners(job: Job, settings: dict[CornerGeometry, CornerSetting]) -> tuple[Corner, ...]:
    """Every corner with a name that says where it stands; equal corners are one."""
    places: dict[CornerGeometry, dict[str, list[str]]] = {geometry: {} for geometry in settings}
    for box in job.all_boxes:
        for end, geometry in (("front", box.front_corner), ("back", box.back_corner)):
            places[geometry].setdefault(end, []).append(box.name)
    corners = []
    for geometry, ends in places.items():
        name = _corner_name(_CORNER_WORDS[tuple(ends)], geometry.lip)
        drawers = tuple(dict.fromkeys(name for names in ends.values() for name in names))
        corners.append(Corner(name, settings[geometry], drawers))
    return tuple(corners)


def _corner_name(where: str, lip: Mm) -> str:
    lip_words = phrase("lip {lip}", lip=millimetres(lip, ".1f")) if lip else phrase("flush")
    return joined((where, lip_words), ", ")


def corner_called(name: str) -> str:
    """The corner's name that a file keeps in English, as a phrase again; what is no such name stays as it is."""
    words, _comma, lip = name.partition(", ")
    where = next((known for known in _CORNER_WORDS.values() if plain(known) == words), None)
    kept_lip = re.fullmatch(r"lip (-?[0-9.]+) mm", lip)
    if where is None or (kept_lip is None and lip != "flush"):
        return name
    return _corner_name(where, float(kept_lip[1]) if kept_lip else 0.0)
