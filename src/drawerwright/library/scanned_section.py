"""Test pieces read from pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import TypeAlias

from drawerwright.basics import usual
from drawerwright.basics.declared import checked
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.scan.picture_files import TakenWith
from drawerwright.job.scan.scanning import ScannedCut, open_pictures, scan_pictures, scan_text

File: TypeAlias = str | PathLike[str]
"""A picture's file."""


@dataclass(frozen=True, slots=True)
class ScannedSection:
    """What pictures of the test pieces of one cut say (mm, degrees); None for what they do not tell.

    `mid_to_tip`: the cutter's middle above the table. `points`: depth and inset along the profile. `scale`: where the
    scale is from, `file`, `given`, `thickness`, `calibration` or `sheet`. `doubts`: whatever makes the reading
    doubtful.
    """

    mid_depth: Estimate | None
    step: Estimate | None
    slope: Estimate | None
    bit_height: Estimate | None
    fence: Estimate | None
    thickness: Estimate | None
    mid_to_tip: Estimate | None
    points: tuple[tuple[Mm, Mm], ...]
    scale: str
    doubts: tuple[str, ...]
    text: str

    def __str__(self) -> str:
        return self.text


@checked
def scan(
    flat: File | Sequence[File] = (),
    upright: File | Sequence[File] = (),
    *,
    kind: str | None = None,
    dpi: float | None = None,
    thickness: Estimate | Mm | None = None,
    bit_height: Estimate | Mm | None = None,
    slice_height: Estimate | Mm | None = None,
) -> ScannedSection:
    """Read cutter and set-up from pictures of the sawn test pieces of one cut.

    Args:
        flat, upright: files of pictures of the flat and of the upright piece: PNG, JPEG, TIFF or WebP.
        kind: of the joint that the cutter makes; by default the usual one, the drawer lock.
        dpi: dots per inch, instead of what the files say.
        thickness: of the piece by caliper (mm); it checks the scale, or sets it.
        bit_height: as set (mm), where the cutter goes through the wood.
        slice_height: of a slice photographed on the sheet of marks, from the sheet up (mm).

    Raises:
        InvalidValueError: a picture cannot be read; the text names it.
        MissingLibraryError: the extra `scan` is not installed.
        OSError: a file cannot be read.
    """
    taken = TakenWith(dpi, _caliper(slice_height))
    given = open_pictures(_files(flat), _files(upright), _caliper(thickness), taken)
    return _section(scan_pictures(given, kind=kind, bit_height=_caliper(bit_height)))


def _files(given: File | Sequence[File]) -> tuple[Path, ...]:
    listed = (given,) if isinstance(given, str | PathLike) else given
    return tuple(Path(file) for file in listed)


def _caliper(given: Estimate | Mm | None) -> Estimate | None:
    if given is None or isinstance(given, Estimate):
        return given
    return Estimate.given(given, None, usual=usual.CALIPER_READING)


def _section(cut: ScannedCut) -> ScannedSection:
    measures = {name: None if found is None else found.estimate for name, found in cut.measures.items()}
    return ScannedSection(
        **measures,
        mid_to_tip=None if cut.mid_to_tip is None else cut.mid_to_tip.estimate,
        points=cut.points,
        scale=str(cut.readings[0][1].scale.source),
        doubts=cut.doubts,
        text=scan_text(cut, LengthStyle()),
    )
