"""What a trial file says of how the pictures of a cut were taken."""

from __future__ import annotations

from drawerwright.basics import usual
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.trial_model import ScanEntry
from drawerwright.job.scan.picture_files import TakenWith


def taken_of(entry: ScanEntry) -> TakenWith:
    """Resolution and slice height, where the file gives them."""
    height = entry.slice_height
    if height is None:
        return TakenWith(entry.dpi)
    return TakenWith(entry.dpi, Estimate.given(height.value, height.uncertainty, usual=usual.SLICE_READING))
