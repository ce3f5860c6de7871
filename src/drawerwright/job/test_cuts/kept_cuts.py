"""Test cuts that the app keeps: which corner they belong to, and how those of earlier versions are moved to a key."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from drawerwright.basics.errors import DrawerwrightError, InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.job.file.building import read_job
from drawerwright.job.file.cutter_places import CutterPlace
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.trial_model import KeyEntry
from drawerwright.job.job import Job
from drawerwright.job.plain_data import key_data
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.cutter import UNNAMED
from drawerwright.joints.joint import joint_named
from drawerwright.joints.plain_joint import PlainJoint
from drawerwright.joints.readings import RULES
from drawerwright.store import History, SavedText
from drawerwright.store.records import ShelfEntry

KEY, CLAIMED = "key", "claimed"
"""Which corner a cut was made for, and for which one somebody says that it counts."""
GAUGES = ("height_shown", "fence_flat_shown", "fence_upright_shown")
"""What the gauges showed; a block planed to the height stands in the place of the first."""
HEIGHT = GAUGES[0]
TOLD_APART: Mm = 0.02
"""Pieces of two stocks are told apart by their thickness where these differ by more than calipers err (common
practice, no source)."""


def counting_cuts(
    job_id: int, shelf: Iterable[ShelfEntry]
) -> tuple[tuple[CornerKey | None, ShelfEntry], ...]:
    """The test cuts on a shelf that were made for a job and still count, each with the corner that it counts for.

    Those that are accepted count no more; what they taught is in the job.
    """
    return tuple(
        (key_of(data), entry)
        for entry in shelf
        if (data := entries_of(entry.text)).get("job") == job_id and not data.get("accepted")
    )


def cuts_with(
    cutter: CutterPlace, cutter_id: str, job_id: int, shelf: Iterable[ShelfEntry]
) -> tuple[tuple[ShelfEntry, bool], ...]:
    """Every test cut made with a cutter of this name, in whatever job, and whether it was in this one. A cutter without
    a name is known in its own job alone: that of another job without one may be any other.

    Those of the job `job_id` go by `cutter_id`, what the job first called the cutter.
    """
    found = []
    for entry in shelf:
        data = entries_of(entry.text)
        is_of_job, key = data.get("job") == job_id, key_of(data)
        is_called_so = data.get("cutter") == cutter.name and (is_of_job or cutter.name != UNNAMED)
        is_own = key.cutter == cutter_id if is_of_job and key is not None else is_called_so
        if is_own:
            found.append((entry, is_of_job))
    return tuple(found)


def reading_words(kind: str = "") -> dict[str, str]:
    """What is read, by the names that the readings have in a kept cut of this kind of joint; of a kind that there is no
    more, those that cutters' joints have."""
    with suppress(InvalidValueError):
        joint = joint_named(kind)
        if isinstance(joint, PlainJoint):
            return {reading.name: reading.words for reading in joint.readings}
    return {str(rule.kind): rule.what for rule in RULES.values()}


def key_of(data: Mapping[str, Any]) -> CornerKey | None:
    """The key of the corner that a kept cut counts for; None where it is not known."""
    return _key(data.get(CLAIMED)) or _key(data.get(KEY))


def _key(entries: Any) -> CornerKey | None:
    if not isinstance(entries, dict):
        return None
    try:
        return KeyEntry.model_validate(entries).key
    except ValidationError:
        return None


def moved_to_key(cut: SavedText, history: History) -> str:
    """The text of a test cut of an earlier version with the key of the corner that it was made for.

    Then a cut named its corner by place and lip. The job says what that was: its revision of the time when the cut
    was saved, or the nearest one that has such a corner. Where several corners were called so, the thickness of the
    test pieces tells. A cut whose corner cannot be told stays as it is, without a key.
    """
    data = entries_of(cut.text)
    job_id, name = data.get("job"), data.get("corner")
    if KEY in data or not isinstance(job_id, int) or name is None:
        return cut.text
    for job in _jobs(history(job_id), cut.saved_at):
        called_so = [corner for corner in _old_corners(job) if corner.name == str(name)]
        if called_so:
            key = _key_by_thickness(called_so, data)
            return cut.text if key is None else set_value(cut.text, (KEY,), key_data(key))
    return cut.text


def _jobs(revisions: Sequence[SavedText], saved_at: str) -> Iterator[Job]:
    """The job as it was at a moment, then as it was before, the latest first, then as it was after."""
    before = [revision for revision in revisions if revision.saved_at <= saved_at]
    for revision in (*reversed(before), *revisions[len(before) :]):
        try:
            yield read_job(revision.text)
        except DrawerwrightError:
            continue


@dataclass(frozen=True, slots=True)
class _OldCorner:
    """A corner as earlier versions knew it, by two thicknesses (mm) and a lip, and the keys of all that it was."""

    name: str
    flat: Mm
    upright: Mm
    keys: tuple[CornerKey, ...]


def _old_corners(job: Job) -> list[_OldCorner]:
    """Every corner with the name that it had before corners had keys.

    What is written here is how it was then; it does not follow what names are today.
    """
    places: dict[tuple[Mm, Mm, Mm], dict[str, dict[CornerKey, None]]] = {}
    for box in job.all_boxes:
        ends = zip(
            ("front", "front", "back", "back"), box.routed_corners, (*box.lips, 0.0, 0.0), strict=False
        )
        for end, corner, lip in ends:
            measures = corner.flat.thickness.value, corner.upright.thickness.value, round(lip, 6)
            places.setdefault(measures, {}).setdefault(end, {})[corner.key] = None
    return [
        _OldCorner(
            f"{' and '.join(ends)} corner, " + (f"lip {lip:.1f} mm" if lip else "flush"),
            flat,
            upright,
            tuple(dict.fromkeys(key for keys in ends.values() for key in keys)),
        )
        for (flat, upright, lip), ends in places.items()
    ]


def _key_by_thickness(corners: Sequence[_OldCorner], data: Mapping[str, Any]) -> CornerKey | None:
    """The only corner, or the one whose stocks are as thick as the test pieces; None where that is not clear."""
    keys = [(corner, key) for corner in corners for key in corner.keys]
    if len(keys) == 1:
        return keys[0][1]
    flat, upright = data.get("flat"), data.get("upright")
    if not isinstance(flat, int | float) or not isinstance(upright, int | float):
        return None
    off = [max(abs(corner.flat - flat), abs(corner.upright - upright)) for corner, _key in keys]
    nearest, next_nearest = sorted(off)[:2]
    return keys[off.index(nearest)][1] if next_nearest - nearest > TOLD_APART else None
