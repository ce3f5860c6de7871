"""What a trial file says of how the pictures of a cut were taken."""

from __future__ import annotations

from drawerwright.basics import usual
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.trial_model import ScanEntry
from drawerwright.job.scan.picture_files import TakenWith


def taken_of(entry: ScanEntry) -> TakenWith:
    """Resolution, slice height and scanner, where the file gives them.

    Raises:
        InvalidValueError: no scanner of that name is on the user's shelf.
    """
    height, scanner = entry.slice_height, None
    if entry.scanner is not None:
        from drawerwright.job.scan.scanner_calibration import kept_scanner  # opens the data file

        scanner = kept_scanner(None, entry.scanner)
    stands = None
    if height is not None:
        stands = Estimate.given(height.value, height.uncertainty, usual=usual.SLICE_READING)
    return TakenWith(entry.dpi, stands, scanner)
