"""What an empty field shows: what the model of the job file takes for the entry that is not there."""

from __future__ import annotations

from collections.abc import Iterable

from drawerwright.basics.uncertain import Estimate


def usual_text(*path: str, words: Iterable[tuple[str, str]] = ()) -> str:
    """The value used for a missing entry, as its field shows it; empty if there is none.

    Args:
        path: steps to the entry from the root of the job file, without names and numbers of members.
        words: what the values that may be chosen are called.
    """
    from drawerwright.job.file.usual_entries import usual_entry

    value = usual_entry(*path)
    if value is None:
        return ""
    if isinstance(value, Estimate):
        return f"{value.value:g} ± {value.uncertainty:g}"
    if isinstance(value, int | float):
        return f"{value:g}"
    return dict(words).get(str(value), str(value))
