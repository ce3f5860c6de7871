"""The use cases `keep` and `release`: settings that a job keeps for its corners, and back to the recommended ones."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import Path, get_value, set_value
from drawerwright.job.file.job_entries import set_in_mm
from drawerwright.job.job import Job, JobCutter
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.tried_corner import SETTINGS, recommended_in_job
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.setting import CornerSetting, is_one_setting
from drawerwright.run.fence_plans import FenceRoutine

KEPT_TO = 3
"""Decimals of a kept setting (mm)."""
HEIGHTS, POSITIONS = ("bit_heights",), ("fences", "positions")


@dataclass(frozen=True, slots=True)
class Tried:
    """Settings that somebody tried for one corner (mm)."""

    bit_height: Mm
    fence_flat: Mm
    fence_upright: Mm

    def is_as(self, setting: CornerSetting) -> bool:
        """Whether no gauge could tell them from a setting's."""
        return self.has_height_of(setting) and self.has_fences_of(setting)

    def has_height_of(self, setting: CornerSetting) -> bool:
        return is_one_setting(self.bit_height, setting.bit_height)

    def has_fences_of(self, setting: CornerSetting) -> bool:
        return is_one_setting(self.fence_flat, setting.fence_flat) and is_one_setting(
            self.fence_upright, setting.fence_upright
        )


def keeps_settings(job: Job) -> bool:
    """Whether a job has settings of its own."""
    return any(cutter.heights.kept or cutter.fences.positions for cutter in job.cutters)


def recommended_settings(job: Job) -> dict[CornerKey, CornerSetting]:
    """What each corner would be set to if the job kept nothing."""
    return draft_job(replace(job, cutters=tuple(map(_free, job.cutters)))).settings


def _free(cutter: JobCutter) -> JobCutter:
    """A cutter for which the job keeps nothing."""
    fences = cutter.fences
    if fences.plan is FenceRoutine.GIVEN:
        fences = replace(fences, plan=FenceRoutine.FEWEST, positions=())
    return replace(cutter, heights=cutter.heights.unforced, fences=fences)


def keep_tried(text: str, corner: CornerKey, given: Mapping[str, Mm]) -> str:
    """A job file's text with settings that somebody tried for one corner; see `keep_settings`.

    Args:
        text: of a job file without faults.
        corner: key of one of the job's corners.
        given: the settings that were tried, by their names (mm); the recommended ones where there are none.

    Raises:
        InvalidValueError: the job already has them, or cannot keep them.
    """
    job = read_job(text)
    setting = draft_job(job).settings[corner]
    right = recommended_in_job(setting, job)
    tried = Tried(**{name: given.get(name, getattr(right, name)) for name in SETTINGS})
    if tried.is_as(setting):
        raise InvalidValueError(phrase("The job already cuts this corner this way."))
    return keep_settings(text, corner, tried)


def keep_settings(text: str, corner: CornerKey, tried: Tried) -> str:
    """A job file's text with the settings that were tried for one of its corners.

    What differs from the job's set-up becomes its `bit_heights` and its fence `positions`, beside those that other
    corners of the same cutter use; a fence `plan` gives way to positions. Of several cutters each has its own.

    Args:
        text: of a job file without faults.
        corner: key of one of the job's corners.
        tried: its settings.

    Raises:
        InvalidValueError: with these the job would have faults, or set the corner to something else.
    """
    job = read_job(text)
    cutter, settings = job.cutter_of(corner.cutter), draft_job(job).settings
    before, fences = settings[corner], cutter.place_of("fences")
    others = [setting for key, setting in settings.items() if key != corner and key.cutter == corner.cutter]
    if not tried.has_height_of(before):
        is_shared = [is_one_setting(other.bit_height, before.bit_height) for other in others]
        rest = [other.bit_height for other, same in zip(others, is_shared, strict=True) if not same]
        text = set_in_mm(text, cutter.place_of("bit_heights"), _different([tried.bit_height, *rest]))
    if not tried.has_fences_of(before):
        used = [fence for other in others for fence in (other.fence_flat, other.fence_upright)]
        text = set_value(text, (*fences, "plan"), None)
        text = set_in_mm(
            text, (*fences, "positions"), _different([tried.fence_flat, tried.fence_upright, *used])
        )
    try:
        after = draft_job(read_job(text)).settings[corner]
    except FaultyInputError as error:
        raise InvalidValueError(joined([fault.message for fault in error.faults], "; ")) from None
    if not tried.is_as(after):
        raise InvalidValueError(
            phrase(
                "with these the job would cut this corner at a bit height of {height}, with "
                "the fence at {flat} for the flat piece and {upright} for the upright piece, "
                "because other corners share its settings: keep those, or enter the job's "
                "settings one by one",
                height=millimetres(after.bit_height),
                flat=millimetres(after.fence_flat),
                upright=millimetres(after.fence_upright),
            )
        )
    return text


def own_settings(text: str) -> tuple[object, ...]:
    """The settings of its own that a job file's text holds, as they stand there."""
    return tuple(get_value(text, path) for path in _own_places(text))


def release_settings(text: str) -> str:
    """A job file's text without settings of its own: every corner has the recommended ones."""
    for path in _own_places(text):
        if get_value(text, path) is not None:
            text = set_value(text, path, None)
            if path[-1] == "positions" and get_value(text, path[:-1]) == {}:
                text = set_value(text, path[:-1], None)
    return text


def _own_places(text: str) -> list[Path]:
    """Where a job file may have settings of its own: for all cutters, and for each of several."""
    cutters = get_value(text, ("cutters",))
    above: list[Path] = [(), *(("cutters", name) for name in (cutters if isinstance(cutters, dict) else ()))]
    return [(*place, *path) for place in above for path in (HEIGHTS, POSITIONS)]


def _different(settings: Iterable[Mm]) -> list[Mm]:
    """Settings that a gauge can tell apart, the first of those that it cannot, in ascending order."""
    found: list[Mm] = []
    for setting in settings:
        if not any(is_one_setting(setting, other) for other in found):
            found.append(round(setting, KEPT_TO))
    return sorted(found)
