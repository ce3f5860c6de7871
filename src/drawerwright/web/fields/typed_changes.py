"""What typing into a field does to the text of a job file. Comments and everything else stay as they were."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import EntryPath, Kind, shown, stored, value_at
from drawerwright.web.reader.preferences import Preferences

FIRST_PARTS: dict[str, dict[str, Any]] = {"pull": {"hole": 5}, "banding": {"thickness": 1}}
"""What a section begins with when its box is ticked."""
EMPTY_MEANS_NONE = ("overlay", "bottom", "least_offcut")
"""Sections that go with their last entry."""
CUTTER_NAME: EntryPath = ("cutter", "name")
FEWEST, MOST = 1, 60
PLAIN_COUNT = 4


def change(text: str, path: EntryPath, kind: Kind, typed: str, reader: Preferences) -> str:
    """The text with the entry at `path` as it was typed.

    Raises:
        InvalidValueError: the field cannot be changed in this way.
    """
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.renaming import rename_cutter

    if kind == "rule":
        return _with_rule(text, path, typed.strip())
    if kind == "part":
        if path[-1] not in FIRST_PARTS:
            raise InvalidValueError(phrase("there is no section {name!r} to add", name=path[-1]))
        return set_value(text, path, FIRST_PARTS[str(path[-1])] if typed.strip() else None)
    value = stored(typed, kind, reader)
    if path == CUTTER_NAME:
        return rename_cutter(text, None if value is None else str(value))
    text = set_value(text, path, value)
    may_go = value is None and len(path) > 1 and path[-2] in EMPTY_MEANS_NONE
    if may_go and value_at(job_text.data_of(text), path[:-1]) == {}:
        text = set_value(text, path[:-1], None)
    return text


def presents(text: str, path: EntryPath, kind: Kind, reader: Preferences) -> str:
    """What a field shows of a text."""
    return shown(value_at(job_text.data_of(text), path), kind, reader)


def _with_rule(text: str, path: EntryPath, rule: str) -> str:
    """Front heights by another rule, for as many fronts as before."""
    from drawerwright.job.file.editing import set_value

    before = value_at(job_text.data_of(text), path)
    count = count_of(before)
    first: dict[str, Any] = {
        "given": [100] * (count - 1) + ["rest"],
        "equal": count,
        "arithmetic": {"count": count, "step": 10},
        "geometric": {"count": count, "ratio": 1.15},
    }
    if rule not in first:
        raise InvalidValueError(
            phrase(
                "{rule!r} is no rule for the heights of fronts: choose one of the list in its field",
                rule=rule,
            )
        )
    text = set_value(text, (*path, rule), first[rule])
    for other in before if isinstance(before, dict) else ():
        if other != rule:
            text = set_value(text, (*path, other), None)
    return text


def count_of(heights: Any) -> int:
    """How many fronts an entry of heights asks for, whatever its rule; a plain number where that is unclear."""
    for value in heights.values() if isinstance(heights, dict) else ():
        if isinstance(value, dict):
            value = value.get("count")
        count = len(value) if isinstance(value, Sequence) and not isinstance(value, str) else value
        if isinstance(count, int) and FEWEST <= count <= MOST:
            return count
    return PLAIN_COUNT
