"""The profile of a cutter from the picture of a test piece, for a page: points, and the picture with what was found."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.errors import DrawerwrightError, InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.entry_types import written_estimate
from drawerwright.job.scan.hand_changes import stretch_words
from drawerwright.job.scan.picture_files import TakenWith, read_picture
from drawerwright.job.scan.scanning import PictureGiven, ScannedCut, agreement_words, scan_pictures
from drawerwright.job.scan.shown_section import data_uri, in_own_process, left_out_words, shown_section
from drawerwright.joints.mating import mating
from drawerwright.joints.profile import Point
from drawerwright.joints.registry import USUAL
from drawerwright.joints.scan.by_hand import edits_in


@dataclass(frozen=True, slots=True)
class StraightProfile:
    """Mid depth and step (mm), and the slope (degrees), as a picture tells them."""

    mid_depth: Estimate
    step: Estimate
    slope: float

    @property
    def entries(self) -> dict[str, str]:
        """The same as a job file has it."""
        return {
            "mid_depth": written_estimate(self.mid_depth),
            "step": written_estimate(self.step),
            "slope": f"{self.slope:.1f}",
        }


@dataclass(frozen=True, slots=True)
class ScannedProfile:
    """Points of a profile (mm), the standard uncertainty of each inset, the picture with the outline as a data URI, and
    what is to be said: what was left out and what agrees, and doubts."""

    points: tuple[Point, ...]
    uncertainty: Mm
    picture: str
    remarks: tuple[Phrase, ...]
    doubts: tuple[Phrase, ...]
    is_flat: bool
    straight: StraightProfile | None = None
    """What was measured of the profile; None where it is curved, and its points tell more."""

    @property
    def stretches(self) -> tuple[tuple[str, Phrase, Phrase], ...]:
        """The faces whose stretches can be changed by hand: letter, and what it is called on either piece."""
        return stretch_words()


def profile_of_picture(
    name: str,
    content: bytes,
    kind: str | None,
    thickness: Estimate | None = None,
    slice_height: Estimate | None = None,
    by_hand: str = "",
) -> ScannedProfile:
    """What the picture of a flat or an upright piece says of its cutter's profile; the piece's thickness and the
    height of a photographed slice by caliper (mm); `by_hand`: stretches left out or moved, as
    `drawerwright.joints.scan.by_hand` writes them.

    Raises:
        InvalidValueError: it cannot be read, or takes too long.
        MissingLibraryError: the library that reads pictures is not installed.
    """
    if mating(USUAL if kind is None else kind).through(1.0) is not None:
        raise InvalidValueError(
            phrase(
                "the picture of a cut right through the wood does not show how far below the cutter's top it is: type "
                "in points that you measured on the cutter"
            )
        )
    return in_own_process(_read, name, content, thickness, slice_height, by_hand)


def _read(
    name: str, content: bytes, thickness: Estimate | None, slice_height: Estimate | None, by_hand: str
) -> ScannedProfile:
    opened = read_picture(name, content, TakenWith(slice_height=slice_height))
    refused: DrawerwrightError | None = None
    for is_flat in (True, False):
        try:
            cut = scan_pictures([PictureGiven(opened, is_flat, thickness, edits_in(by_hand))])
        except InvalidValueError as error:
            refused = refused or error
            continue
        break
    else:
        assert refused is not None
        raise refused
    _, reading = cut.readings[0]
    return ScannedProfile(
        cut.points,
        cut.point_uncertainty,
        data_uri(shown_section(opened, reading)),
        (*left_out_words(reading), *agreement_words([reading])),
        cut.doubts,
        reading.is_flat,
        None if reading.is_curved else _straight(cut),
    )


def _straight(cut: ScannedCut) -> StraightProfile | None:
    mid_depth, step, slope = (cut.measures[name] for name in ("mid_depth", "step", "slope"))
    if mid_depth is None or step is None or slope is None:
        return None
    return StraightProfile(mid_depth.estimate, step.estimate, slope.value)
