"""The kerf test of a job file by itself, whatever else in the file is still amiss."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.shop_model import KerfTestEntry
from drawerwright.sheets.kerf_test import KerfTest


def kerf_test_of(data: Any) -> KerfTest | None:
    """What the entries of a file (`data`) measured the kerf by; None without a test, or while it has faults."""
    try:
        entry = KerfTestEntry.model_validate(value_at(data, ("machine", "saw", "kerf_test")) or {})
        return kerf_test(entry)
    except (ValidationError, InvalidValueError):
        return None


def kerf_test(entry: KerfTestEntry) -> KerfTest | None:
    """The test that an entry states; None where it lacks a width.

    Raises:
        InvalidValueError: as `KerfTest` does.
    """
    if entry.before is None or entry.after is None:
        return None
    return KerfTest(entry.before, entry.after, entry.cuts)
