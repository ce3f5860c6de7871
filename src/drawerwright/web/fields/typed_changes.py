"""What typing into a field does to the text of a job file. Comments and everything else stay as they were."""

from __future__ import annotations

from drawerwright.job.file.cutter_places import cutter_places
from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.job.file.single_drawers_model import SINGLE_DRAWERS
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import Kind, shown, stored
from drawerwright.web.reader.preferences import Preferences

EMPTY_MEANS_NONE = ("overlay", "bottom", "least_offcut", "fences")
"""Sections that go with their last entry."""
CUTTER_NAME: EntryPath = ("cutter", "name")


def change(text: str, path: EntryPath, kind: Kind, typed: str, reader: Preferences) -> str:
    """The text with the entry at `path` as it was typed.

    Raises:
        InvalidValueError: the field cannot be changed in this way.
    """
    from drawerwright.job.drawer_renaming import with_drawers_followed
    from drawerwright.job.file.editing import set_nothing, set_value
    from drawerwright.job.file.fresh_entries import with_heights_by, with_part_opening, with_section
    from drawerwright.job.file.job_entries import job_unit
    from drawerwright.job.file.kind_changes import is_kind, with_kind
    from drawerwright.job.file.likes import inherited
    from drawerwright.job.file.runner_entries import with_own_runner
    from drawerwright.job.file.single_drawer_entries import with_single_drawer
    from drawerwright.job.renaming import rename_cutter, rename_row

    if kind == "rule":
        job = job_text.shown(text).job
        return with_heights_by(
            typed.strip(), text, path, () if job is None else job.front_heights(int(path[1]))
        )
    taken_over = inherited(job_text.data_of(text), path)
    if kind == "part":
        is_wanted = bool(typed.strip())
        if taken_over is None:
            return with_section(text, path, is_wanted=is_wanted)
        text = set_value(text, path, None)
        return text if is_wanted else set_nothing(text, path)
    value = stored(typed, kind, reader, job_unit(text))
    if taken_over is not None and kind in ("yes", "usual"):
        return set_value(text, path, None if taken_over.value is bool(typed.strip()) else bool(typed.strip()))
    if taken_over is not None and value is None and path[-2:] == ("bottom", "stock"):
        return set_nothing(set_value(text, path[:-1], None), path[:-1])
    if path[0] == "banks" and path[2:] == ("runner",) and value is None:
        return with_own_runner(text, path)
    if path[0] in ("banks", "boxes", "openings") and path[2:] == ("name",) and value is not None:
        return rename_row(text, path, str(value))
    if path[0] in ("banks", "openings") and path[2:] == ("opening", "of"):
        return with_part_opening(text, path[:3], value)
    if path[2:3] == (SINGLE_DRAWERS,):
        return with_single_drawer(text, path, value)
    if path == CUTTER_NAME:
        (only,) = cutter_places(job_text.data_of(text))
        return rename_cutter(text, only.name, str(value or ""))
    if path[0] in ("banks", "boxes") and path[2:] == ("count",):
        return with_drawers_followed(text, set_value(text, path, value))
    text = with_kind(text, path, value) if is_kind(path) else set_value(text, path, value)
    may_go = value is None and len(path) > 1 and path[-2] in EMPTY_MEANS_NONE
    if may_go and value_at(job_text.data_of(text), path[:-1]) == {}:
        text = set_value(text, path[:-1], None)
    return text


def presents(text: str, path: EntryPath, kind: Kind, reader: Preferences) -> str:
    """What a field shows of a text, taken over from another bank or not."""
    from drawerwright.job.file.likes import with_likes

    return shown(value_at(with_likes(job_text.data_of(text)), path), kind, reader)
