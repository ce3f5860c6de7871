"""The shop's rack for Python: what lies on it, and a job file that takes its stock from there."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from drawerwright.basics.declared import checked
from drawerwright.job.file.given_files import given_text
from drawerwright.job.file.reading import LARGEST_FILE_BYTES
from drawerwright.job.papers.files_out import write_page
from drawerwright.job.rack_stock import OnRack, on_rack, opened_rack, stock_from_rack


@checked
def rack(
    *, into: str | PathLike[str] | None = None, data: str | PathLike[str] | None = None
) -> tuple[OnRack, ...]:
    """Sheets and offcuts on the shop's rack, which finished runs of the app fill and use up.

    Args:
        into: a job file whose stock becomes what the rack has of it; its comments stay.
        data: folder of the app's data; by default the user's own.

    Returns:
        Each size with how many there are (lengths in mm), and the jobs that plan to take some.

    Raises:
        DrawerwrightError: there is no data, or the rack has none of the job's stocks; nothing is written.
        OSError: the job file cannot be written.
    """
    path = None if into is None else Path(into)
    text = None if path is None else given_text(path, LARGEST_FILE_BYTES)
    with opened_rack(None if data is None else Path(data)) as (shelf, table, _jobs):
        found = on_rack(shelf, table)
        taken = None if text is None else stock_from_rack(text, shelf)
    if path is not None and taken is not None and taken.changed:
        write_page(path, taken.text.encode())
    return found
