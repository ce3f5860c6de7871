"""The entries of a job file's text, each length with its unit where it is not in millimetres."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from pydantic import ValidationError

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.job.file.file_units import FileUnit, in_unit, unit_of, with_units_named
from drawerwright.job.file.model import JobFile, ShownEntry
from drawerwright.job.file.reading import REMEMBERED, entries_of


@lru_cache(maxsize=REMEMBERED)
def job_entries(text: str) -> Mapping[str, Any]:
    """The entries as plain values, not to be changed, bare lengths in mm; none for a text that cannot be read."""
    data = entries_of(text)
    named: Mapping[str, Any] = with_units_named(data, JobFile, unit_of(data))
    return named


def job_unit(text: str) -> FileUnit:
    """The unit of bare numbers in a job file's text."""
    return unit_of(entries_of(text))


@lru_cache(maxsize=REMEMBERED)
def shown_style(text: str) -> LengthStyle:
    """How a job file shows lengths; as usual where what it says of that is faulty."""
    try:
        entry = ShownEntry.model_validate(value_at(job_entries(text), ("shown",)) or {})
    except ValidationError:
        entry = ShownEntry()
    return entry.style(job_unit(text))


def set_in_mm(text: str, path: EntryPath, value: Any) -> str:
    """The text with one entry set (see `set_value`), of which bare lengths are mm whatever the unit of the file."""
    return set_value(text, path, in_unit(value, JobFile, path, job_unit(text)))
