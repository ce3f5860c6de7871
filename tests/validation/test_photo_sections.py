"""Photos of slices on the sheet of marks are read as well as the reader says, and bad ones are refused with what to do.

The truth is what was drawn, by `photo_pictures`, with a camera of its own. More photos: benchmarks/scan.py --photos.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan.cut_measures import LENGTHS, ScaleSource, SectionReading, read_section
from drawerwright.joints.scan.sheet_photo import flatten_photo
from photo_pictures import Shot, SlicePhoto, photo
from scan_pictures import Look, Truth

TRUTH = Truth(mid_depth=5.42, step=3.21, slope=52.0, bit_height=10.9, fence=8.75, thickness=14.3)
LOOK = Look(angle=30.0, length=32.0, seed=7, blur=0.8, noise=2.0, chips=1, fuzz=1)
SMALL = Shot(size=(1100, 825), stand=(0.0, 0.0, 230.0), tilt=(0.0, 0.0))
"""Enough pixels to see the marks, at a fifth of the work."""


def read(made: SlicePhoto) -> SectionReading:
    flat = flatten_photo(
        made.pixels, slice_height=Estimate(made.shot.slice_height, 0.3), focal_35=made.shot.focal_35
    )
    assert flat is not None
    return read_section(
        flat.picture,
        is_flat=made.truth.is_flat,
        per_mm=flat.per_mm,
        source=ScaleSource.SHEET,
        thickness=Estimate(made.truth.thickness, 0.02),
        instrument=flat.instrument,
    )


@pytest.mark.parametrize("is_flat", [True, False])
def test_a_photo_is_read_as_well_as_it_says(is_flat: bool) -> None:
    """Source: what was drawn; 0.08 mm is the goal for photos."""
    shot = Shot(
        focal_35=52.0, stand=(-9.0, 6.0, 400.0), tilt=(2.0, 0.5), bend=(0.02, 0.0), printed=(1.001, 0.999)
    )
    reading = read(photo(replace(TRUTH, is_flat=is_flat), LOOK, shot))
    for name in LENGTHS:
        off = reading.measures[name].value - getattr(TRUTH, name)
        assert abs(off) < 0.08, (name, off)
        assert abs(off) < 3 * reading.measures[name].uncertainty
        assert reading.measures[name].uncertainty < 0.12


def test_what_the_camera_sees_of_a_side_is_taken_off() -> None:
    """Source: geometry. From 25 mm beside it, 6 mm high and 400 mm below, a side shows 6 / 394 of its distance."""
    shot = Shot(focal_35=52.0, stand=(0.0, 25.0, 400.0), tilt=(3.5, 0.0), roll=0.0)
    made = photo(TRUTH, replace(LOOK, angle=0.0, chips=0, fuzz=0), shot)
    flat = flatten_photo(made.pixels, slice_height=Estimate(6.0, 0.3), focal_35=52.0)
    assert flat is not None
    walls = flat.instrument.walls
    assert walls is not None
    assert walls.chance @ walls.rises == pytest.approx(6.0 / 400.0, rel=0.03)
    assert walls.chance @ walls.feet / flat.per_mm == pytest.approx([50.0, 32.0 - 25.0], abs=4.0)
    known = {"is_flat": True, "per_mm": flat.per_mm, "thickness": Estimate(TRUTH.thickness, 0.02)}
    with_sides = read_section(flat.picture, instrument=replace(flat.instrument, walls=None), **known)
    without = read_section(flat.picture, instrument=flat.instrument, **known)
    off = [abs(one.measures["bit_height"].value - TRUTH.bit_height) for one in (with_sides, without)]
    assert off[0] > 0.12  # one of the two faces is seen a third of a millimetre too far out
    assert off[1] < 0.1


def shaded(picture: np.ndarray) -> np.ndarray:
    """With somebody's shadow over the right third."""
    found = picture.astype(np.float64)
    found[:, 2 * found.shape[1] // 3 :] *= 0.3
    return found.astype(np.uint8)


def with_hand(picture: np.ndarray) -> np.ndarray:
    """With a hand over marks at the left."""
    found = picture.copy()
    found[:, : found.shape[1] // 3] = (110, 140, 190)
    return found


@pytest.mark.parametrize(
    ("shot", "spoil", "words"),
    [
        (replace(SMALL, stand=(0.0, -90.0, 260.0), tilt=(-19.0, 0.0)), None, "tilted by 19°"),
        (
            replace(SMALL, stand=(0.0, -220.0, 200.0), tilt=(-47.0, 0.0)),
            None,
            "taken from the side|tilted by 4",
        ),
        (replace(SMALL, exposure=0.15), None, "badly lit"),
        (replace(SMALL, light=(1.5, 0.0), exposure=0.6), None, "unevenly lit"),
        (SMALL, shaded, "unevenly lit.*shadow"),
        (replace(SMALL, covered=6), None, "10 of the sheet's 16 marks can be seen.*at the top"),
        (replace(SMALL, size=(1400, 1050)), with_hand, "on the left: keep hands"),
        (replace(SMALL, stand=(0.0, 0.0, 700.0)), None, "go closer"),
        (replace(SMALL, bow=12.0), None, "lay the sheet flat"),
        (SMALL, lambda seen: seen[:, 180:], "photo was cropped: . of the sheet's 16 marks are cut off"),
        (SMALL, lambda seen: seen[:550, :733], "marks lie outside the picture.*not cropped to the slice"),
    ],
    ids=[
        *(
            "tilted",
            "from the side",
            "dark",
            "lit from one side",
            "shadow",
            "covered",
            "hand",
            "far",
            "bent",
        ),
        *("cut off in an editor", "cut to the slice"),
    ],
)
def test_a_bad_photo_is_refused_with_its_cause_and_what_to_do(
    shot: Shot, spoil: Callable[[np.ndarray], np.ndarray] | None, words: str
) -> None:
    """Source: what was drawn wrong."""
    made = photo(TRUTH, replace(LOOK, length=20.0), shot).pixels
    spoiled = made if spoil is None else np.ascontiguousarray(spoil(made))
    with pytest.raises(InvalidValueError, match=words):
        flatten_photo(spoiled, focal_35=shot.focal_35)


def test_a_photo_that_was_cropped_around_the_marks_is_in_doubt() -> None:
    """Source: what was drawn. The lens's axis no longer meets the middle of what is left of 2000 by 1500 pixels."""
    made = photo(TRUTH, LOOK, Shot(focal_35=52.0, stand=(4.0, -3.0, 400.0), size=(2000, 1500)))
    left = read(replace(made, pixels=np.ascontiguousarray(made.pixels[10:, 200:])))
    whole = read(made)
    assert any("cropped, as 1800 by 1490 pixels" in doubt for doubt in left.doubts)
    assert not any("cropped" in doubt for doubt in whole.doubts)
    for name in LENGTHS:
        off = abs(left.measures[name].value - getattr(TRUTH, name))
        assert off < 2 * left.measures[name].uncertainty, (name, off)


@pytest.mark.parametrize("share", [0.97, 1.03])
def test_a_sheet_that_was_not_printed_at_full_size_is_told_by_its_bars(share: float) -> None:
    """Source: what was drawn; the thickness by caliper tells it."""
    shot = Shot(focal_35=52.0, stand=(2.0, 1.0, 400.0), printed=(share, share))
    with pytest.raises(InvalidValueError, match=f"If they are {100 * share:.0f}\\.. mm long"):
        read(photo(TRUTH, LOOK, shot))


def test_a_blurred_photo_is_refused_with_what_helps_a_camera() -> None:
    """Source: what was drawn, 4 pixels of blur at 7 pixels to a mm."""
    made = photo(TRUTH, replace(LOOK, blur=4.0), Shot(stand=(0.0, 0.0, 280.0), tilt=(0.0, 0.0)))
    with pytest.raises(InvalidValueError, match="hold the camera still"):
        flatten_photo(made.pixels, focal_35=38.0)


def test_a_picture_without_the_sheet_is_no_photo_of_it() -> None:
    """Source: none needed, there is no mark in it."""
    rng = np.random.default_rng(4)
    assert flatten_photo(rng.integers(0, 255, (500, 600, 3), dtype=np.uint8)) is None


def test_a_slice_as_high_as_a_board_is_a_slip() -> None:
    """Source: common practice, no source: a slice is 4 to 10 mm high."""
    with pytest.raises(InvalidValueError, match="stands 55 mm above the sheet"):
        flatten_photo(np.zeros((900, 1200), np.uint8), slice_height=Estimate(55.0, 0.3))


def test_without_the_thickness_a_photo_tells_no_size() -> None:
    """Source: geometry; how high the slice stands is not known well enough."""
    flat = flatten_photo(photo(TRUTH, LOOK, Shot(stand=(0.0, 0.0, 300.0))).pixels, focal_35=38.0)
    assert flat is not None
    with pytest.raises(InvalidValueError, match="by caliper as well"):
        read_section(flat.picture, is_flat=True, per_mm=flat.per_mm, instrument=flat.instrument)
