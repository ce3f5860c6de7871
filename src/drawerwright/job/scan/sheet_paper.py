"""The sheet for photos of slices as a file."""

from __future__ import annotations

from pathlib import Path

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.printing import write_full_pages
from drawerwright.drawings.slice_sheet import TITLE, draw_slice_sheet


def slice_sheet_pdf(style: LengthStyle) -> bytes:
    """The sheet as PDF, to print at 100 %, on the paper and in the words of `style`."""
    return write_full_pages((draw_slice_sheet(style),), style.say(TITLE), style)


def write_slice_sheet(path: Path, style: LengthStyle) -> None:
    """Write the sheet whole or not at all; raises OSError where it cannot be written."""
    from drawerwright.store.files import write_whole

    write_whole(path, slice_sheet_pdf(style))
