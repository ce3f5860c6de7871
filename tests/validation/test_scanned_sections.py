"""Pictures of sections of known truth are read as well as the reader says.

The truth is what was drawn, by `scan_pictures`; its section is held against a second statement of the law that shares
nothing with the package (`virtual_cutter`). More pictures: benchmarks/scan.py.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import cv2
import numpy as np
import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.parts import Role
from drawerwright.joints.profile import Profile
from drawerwright.joints.scan.cut_measures import LENGTHS, MEASURES, ScaleSource, SectionReading, read_section
from drawerwright.joints.scan.face_lines import fit_slope
from drawerwright.joints.scan.mitre_measures import read_mitre
from scan_pictures import INCH, Look, Photo, Truth, any_look, any_truth, picture, plain
from virtual_cutter import VirtualCutter

TRUTH = Truth(mid_depth=5.42, step=3.21, slope=52.0, bit_height=10.9, fence=8.75, thickness=14.3)
PICTURES = 40


def read(made: Photo, **how: object) -> SectionReading:
    how = {"per_mm": made.look.dpi / INCH, **how}
    return read_section(made.pixels, is_flat=made.truth.is_flat, **how)


def errors(reading: SectionReading, truth: Truth) -> dict[str, float]:
    return {name: reading.measures[name].value - getattr(truth, name) for name in MEASURES}


@pytest.mark.parametrize("is_flat", [True, False])
def test_the_drawn_section_is_what_an_independent_cutter_takes_off(is_flat: bool) -> None:
    """Source: docs/law.md, stated a second time in `virtual_cutter`."""
    truth = replace(TRUTH, is_flat=is_flat)
    entry = {"mid_depth": truth.mid_depth, "step": truth.step, "slope": truth.slope, "kind": "drawer-lock"}
    role = Role.FLAT if is_flat else Role.UPRIGHT
    taken = VirtualCutter(entry).path(role, truth.bit_height, truth.fence, truth.thickness)
    along_and_through = [point for point in taken if min(point) >= 0]
    if is_flat:  # the path is along the board and above the table; upright along and from the inside face
        wanted = {(round(x, 6), round(y, 6)) for x, y in along_and_through if x > 0}
    else:
        wanted = {(round(s, 6), round(truth.thickness - q, 6)) for s, q in along_and_through if q > 0}
    drawn = {(round(x, 6), round(y, 6)) for x, y in truth.outline(30.0).tolist()}
    assert len(wanted) >= 4
    assert wanted <= drawn


def test_a_clean_picture_is_read_to_a_hundredth() -> None:
    """Source: what was drawn; the limit is ours, a tenth of a dot at 300 dpi."""
    for seed, is_flat in ((1, True), (2, False)):
        look = plain(
            Look(dpi=300, angle=23.0 + 90 * seed, mirrored=bool(seed % 2), seed=seed, length=27, plies=1)
        )
        off = errors(read(picture(replace(TRUTH, is_flat=is_flat), look)), TRUTH)
        assert all(abs(off[name]) < 0.01 for name in LENGTHS), off
        assert abs(off["slope"]) < 0.2


def test_any_picture_is_read_as_well_as_it_says() -> None:
    """Source: what was drawn.

    At least nine tenths of all errors lie inside the stated 95 % intervals, and none is off by four standard
    uncertainties without a doubt being said. The goals themselves take more pictures than a test has time for.
    """
    refused, inside, count = 0, 0, 0
    lengths = []
    for seed in range(PICTURES):
        rng = np.random.default_rng(7000 + seed)
        truth, look = any_truth(rng, is_flat=seed % 2 == 0), any_look(rng, scanner_scale=0.0012)
        look = replace(
            look,
            dpi=300.0,
            blur=min(look.blur, 1.4),
            length=min(look.length, 24.0),
            margin=min(look.margin, 4.0),
        )
        try:
            reading = read(picture(truth, look))
        except InvalidValueError:
            refused += 1
            continue
        for name, off in errors(reading, truth).items():
            sigma = reading.measures[name].uncertainty
            inside += abs(off) < 1.96 * sigma
            count += 1
            assert abs(off) < 4 * sigma or reading.doubts, (seed, name, off, sigma)
        lengths.append([abs(errors(reading, truth)[name]) for name in ("mid_depth", "step")])
    assert refused <= PICTURES / 10
    assert inside / count > 0.9
    assert np.mean(np.array(lengths) < 0.03) > 0.9


def test_the_thickness_by_caliper_sets_the_scale_where_the_file_says_none() -> None:
    """Source: what was drawn."""
    made = picture(TRUTH, plain(Look(dpi=280, seed=4, length=27)))
    with pytest.raises(InvalidValueError, match="give its dpi"):
        read(made, per_mm=None)
    reading = read(made, per_mm=None, thickness=Estimate(TRUTH.thickness, 0.02))
    assert reading.scale.source is ScaleSource.THICKNESS
    assert abs(errors(reading, TRUTH)["bit_height"]) < 0.03


def test_a_scanner_that_is_a_percent_off_is_found_out_by_the_caliper() -> None:
    """Source: what was drawn, a percent too large: 10.9 mm are seen as 11.009."""
    made = picture(TRUTH, replace(plain(Look(dpi=300, seed=5, length=27)), scale=(1.01, 1.01)))
    alone = read(made)
    assert errors(alone, TRUTH)["bit_height"] == pytest.approx(0.109, abs=0.02)
    checked = read(made, thickness=Estimate(TRUTH.thickness, 0.02))
    assert any("by caliper" in doubt for doubt in checked.doubts)
    assert abs(errors(checked, TRUTH)["bit_height"]) < 0.03


@pytest.mark.parametrize("is_flat", [True, False])
def test_a_lock_mitre_without_a_level_at_either_end_is_read_as_well_as_it_says(is_flat: bool) -> None:
    """Source: what was drawn, a fence 0.35 mm wider than the wood is thick: the upright's tip ends above the table."""
    truth = Truth(11.6, 17.4, 45.0, 20.2, 17.85, 17.5, kind="lock-mitre", is_flat=is_flat)
    made = picture(truth, plain(Look(dpi=300, angle=21, seed=6, length=36, plies=1)))
    reading = read_mitre(made.pixels, is_flat=is_flat, per_mm=300 / INCH)
    tip = reading.measures["mid_to_tip"]
    assert abs(tip.value - (truth.bit_height - truth.mid_depth)) < 2 * tip.uncertainty
    assert tip.uncertainty < (0.05 if is_flat else 0.4)
    for name in ("step", "fence", "slope", "thickness"):
        assert (
            abs(reading.measures[name].value - getattr(truth, name)) < 2 * reading.measures[name].uncertainty
        )


@dataclass(frozen=True)
class Ogee(Truth):
    """A cutter whose slope is half a wave."""

    reach: float = 4.4

    @property
    def profile(self) -> Profile:
        z = np.linspace(0, 20, 401)
        c = self.step / 2 * (1 + np.sin(np.clip((z - self.mid_depth) / self.reach, -1, 1) * np.pi / 2))
        return Profile(tuple(zip(z.tolist(), (c - c.min()).tolist(), strict=True)))


@pytest.mark.parametrize("is_flat", [True, False])
def test_a_curved_profile_is_given_by_its_points_and_that_is_said(is_flat: bool) -> None:
    """Source: the curve that was drawn."""
    truth = Ogee(5.5, 3.2, 45.0, 10.9, 8.9, 15.0, is_flat=is_flat)
    reading = read(picture(truth, Look(dpi=300, roughness=0.004, chips=0, length=30, seed=3, angle=40)))
    assert any("no straight slope" in doubt for doubt in reading.doubts)
    off = errors(reading, truth)
    assert all(abs(off[name]) < 3 * reading.measures[name].uncertainty for name in ("mid_depth", "step"))
    assert max(abs(inset - truth.profile.inset(depth)) for depth, inset in reading.points) < 0.05


def test_wood_of_light_and_dark_plies_is_told_from_a_ground_of_middling_grey() -> None:
    """Source: what was drawn, every other ply nearer to the ground than to its neighbours."""
    look = Look(
        dpi=250, seed=3, length=26, plies=9, contrast=58, glue=1e-3, ground=(75,) * 3, wood=(137,) * 3
    )
    truth = replace(TRUTH, is_flat=False)
    off = errors(read(picture(truth, replace(look, is_grey=True, dust=0, chips=0, fuzz=0))), truth)
    assert all(abs(off[name]) < 0.04 for name in LENGTHS), off


def test_plies_nearly_as_dark_as_the_ground_are_in_doubt() -> None:
    """Source: what was drawn, every other ply with a third of the others' difference from the ground."""
    look = Look(
        dpi=250, seed=3, length=26, plies=9, contrast=5, ground=(110,) * 3, wood=(190,) * 3, is_grey=True
    )
    plain_wood = read(picture(TRUTH, look))
    two_toned = read(picture(TRUTH, replace(look, contrast=40, wood=(150,) * 3)))
    assert not any("another ground" in doubt for doubt in plain_wood.doubts)
    assert any("another ground" in doubt for doubt in two_toned.doubts)


def test_a_face_at_the_picture_s_edge_is_said_to_lie_there() -> None:
    """Source: which part of the drawn picture was kept."""
    made = picture(TRUTH, plain(Look(dpi=250, seed=5, length=26, margin=4)))
    outer = int((4 + 0.03) * 250 / INCH)
    cropped = replace(made, pixels=made.pixels[outer:])
    other = replace(made, pixels=made.pixels[: made.pixels.shape[0] - outer])
    said = []
    for part in (cropped, other):
        with pytest.raises(InvalidValueError, match="room around the slice") as refused:
            read(part)
        said.append(str(refused.value))
    assert any("outer face" in words for words in said)


def test_a_slice_cut_out_closely_is_read() -> None:
    """Source: what was drawn, a picture of 91 rows."""
    truth = Truth(2.6, 2.4, 55.0, 5.2, 5.8, 9.0)
    made = picture(truth, plain(Look(dpi=200, seed=5, length=22, margin=1.3, plies=1)))
    assert min(made.pixels.shape[:2]) < 100
    off = errors(read(made), truth)
    assert all(abs(off[name]) < 0.03 for name in LENGTHS), off


def test_few_points_that_lie_near_a_line_by_chance_are_not_believed() -> None:
    """Source: drawn lines; the error of the angle is what it is said to be, in the mean."""
    rng = np.random.default_rng(1)
    ratios = []
    for _ in range(100):
        z = np.arange(10.0)
        line = fit_slope(z, z + rng.normal(0, 0.2, 10), 1.0, 0.14)
        assert line is not None
        ratios.append((np.arctan2(line.direction[1], line.direction[0]) - np.pi / 4) / line.angle)
    assert np.mean(np.square(ratios)) < 1.4
    assert np.max(np.abs(ratios)) < 4


def test_a_chip_that_takes_half_of_the_slope_turns_it_little() -> None:
    """Source: drawn lines, of whose 60 points 32 in the middle lie up to four pixels deep in a chip."""
    rng = np.random.default_rng(2)
    place = np.arange(60.0)
    chip = 4 * np.clip(1 - ((place - 36) / 16) ** 2, 0, None)
    for _ in range(20):
        z, w = place + chip + rng.normal(0, 0.1, 60), place - chip + rng.normal(0, 0.1, 60)
        line = fit_slope(z, w, 1.0, 0.12)
        assert line is not None
        assert abs(np.degrees(np.arctan2(line.direction[1], line.direction[0])) - 45) < 0.5
        assert abs(line.z - line.w) < 0.2


def test_a_cut_whose_edges_are_softer_than_the_saw_s_is_in_doubt() -> None:
    """Source: what was drawn, the end of the piece three times as soft as the rest; burned wood darkens so."""
    made = picture(TRUTH, plain(Look(dpi=300, seed=8, length=36, plies=1)))
    soft = made.pixels.copy()
    end = int((Look.margin + 11.5) * 300 / INCH)
    soft[:, :end] = cv2.GaussianBlur(soft, (0, 0), 1.8)[:, :end]
    assert not any("softer" in doubt for doubt in read(made).doubts)
    assert any("softer" in doubt for doubt in read(replace(made, pixels=soft)).doubts)


def test_pieces_given_for_each_other_are_refused() -> None:
    """Source: which piece was drawn."""
    made = picture(TRUTH, Look(dpi=300, seed=6, length=30))
    with pytest.raises(InvalidValueError, match="this looks like a flat piece"):
        read_section(made.pixels, is_flat=False, per_mm=300 / INCH)
    made = picture(replace(TRUTH, is_flat=False), Look(dpi=300, seed=6, length=30))
    with pytest.raises(InvalidValueError, match="this looks like an upright piece"):
        read_section(made.pixels, is_flat=True, per_mm=300 / INCH)


@pytest.mark.parametrize(
    "pixels",
    [
        np.full((400, 500, 3), 200, np.uint8),
        np.random.default_rng(1).integers(0, 255, (400, 500), dtype=np.uint8),
        np.pad(np.full((200, 300), 180, np.uint8), 100),  # a plain board
        np.zeros((50, 50), np.uint8),
    ],
    ids=["nothing", "noise", "board", "tiny"],
)
def test_what_is_no_section_is_refused(pixels: np.ndarray) -> None:
    """Source: none needed, there is no section in them."""
    with pytest.raises(InvalidValueError):
        read_section(pixels, is_flat=True, per_mm=300 / INCH)
