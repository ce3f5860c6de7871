"""Sections of both pieces: closed at the settings of the law, checked with shapely."""

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon, union_all

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner import Cuts, Place, corner_gaps, flat_section, upright_section
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fit import seat_setting
from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner


def cutter(kind, m, d, slope=45.0):
    return Cutter(kind, mid_depth=Estimate(m), step=Estimate(d), slope=Estimate(slope))


def closed(setting):
    """Sections of the flat and the upright piece pressed home, and the gaps between them."""
    cuts = Cuts.of(setting)
    upright = upright_section(cuts, setting.seated_lip, setting.engagement)
    gaps = corner_gaps(cuts, setting.seated_lip, setting.engagement)
    return Polygon(flat_section(cuts)), Polygon(upright), gaps


@settings(max_examples=60)
@given(
    m=st.floats(4, 8),
    d=st.floats(2, 4),
    slope=st.floats(31, 85),
    flat=st.floats(16.5, 25),
    upright=st.floats(12, 22),
    lip=st.floats(0, 3),
    rule=st.sampled_from(list(FenceRule)),
)
def test_drawer_lock_closes_without_overlap_or_daylight(m, d, slope, flat, upright, lip, rule):
    setting = set_corner(cutter("drawer-lock", m, d, slope), CornerGeometry(flat, upright, lip), rule)
    assume(setting.neck > 0)
    one, other, gaps = closed(setting)
    assert one.is_valid
    assert other.is_valid
    assert one.intersection(other).area == pytest.approx(0, abs=1e-7)
    assert gaps == ()
    # No daylight inside: the union of both has one outline and no hole.
    whole = union_all([one.buffer(1e-6), other.buffer(1e-6)])
    assert whole.geom_type == "Polygon"
    assert not whole.interiors


@settings(max_examples=60)
@given(
    m=st.floats(9, 16),
    d=st.floats(8, 30),
    t=st.floats(10, 16),
    lip=st.floats(0, 2),
    flat_less=st.floats(0, 2),
)
def test_lock_mitre_closes_in_equal_or_thinner_flat_stock(m, d, t, lip, flat_less):
    setting = set_corner(cutter("lock-mitre", m, d), CornerGeometry(t - flat_less, t, lip))
    one, other, gaps = closed(setting)
    assert one.is_valid
    assert other.is_valid
    assert one.intersection(other).area == pytest.approx(0, abs=1e-7)
    assert not [gap for gap in gaps if gap.width > 1e-3]


def test_tip_of_a_lock_mitre_is_flush_with_the_flat_pieces_outer_face():
    setting = set_corner(cutter("lock-mitre", 11, 18), CornerGeometry(15, 15))
    flat, upright, _ = closed(setting)
    assert upright.bounds[3] == pytest.approx(15)
    assert flat.bounds[0] == pytest.approx(0)


def test_pulled_corner_shows_the_gap_at_roof_and_shoulder():
    setting = set_corner(cutter("drawer-lock", 6, 4), CornerGeometry(15, 15))
    gaps = corner_gaps(Cuts.of(setting), lip=0.0, engagement=setting.engagement - 0.3)
    by_place = {gap.place: gap for gap in gaps}
    assert set(by_place) == {Place.ROOF, Place.SHOULDER}
    assert by_place[Place.ROOF].width == pytest.approx(0.3)
    # Roof: as deep as the flat piece's cut. Shoulder: the upright's cut at its shallow part.
    assert by_place[Place.ROOF].area == pytest.approx(0.3 * setting.fence_flat)
    assert by_place[Place.SHOULDER].area == pytest.approx(0.3 * (setting.fence_upright))


@pytest.mark.parametrize("low", [0.1, 0.5, 2.0, 6.0])
def test_gaps_are_all_the_daylight_that_shapely_finds(low):
    """Set too low and pressed home: union of pieces and gaps fills the corner."""
    lock = cutter("drawer-lock", 6, 4, 50)
    cuts = Cuts(lock.profile(), 18, 16, 12 - low, 9.0, 11.0)
    engagement = cuts.bit_height
    flat, upright = flat_section(cuts), upright_section(cuts, 0, engagement)
    gaps = corner_gaps(cuts, 0, engagement)
    filled = union_all([Polygon(flat), Polygon(upright), *(Polygon(gap.outline) for gap in gaps)])
    box = Polygon([(0, 0), (14, 0), (14, 18), (0, 18)])
    assert filled.intersection(box).area == pytest.approx(box.area, abs=1e-6)
    assert sum(gap.area for gap in gaps) == pytest.approx(
        box.area - union_all([Polygon(flat), Polygon(upright)]).intersection(box).area, abs=1e-6
    )


def test_gaps_of_a_bit_too_high_are_called_after_the_faces_they_lie_at():
    """Both faces stand upright there: below the slope at the neck, above it at the head (docs/words.md)."""
    setting = set_corner(cutter("drawer-lock", 4.9, 3.0), CornerGeometry(13, 13))
    high = replace(setting, bit_height=setting.tight_bit_height + 0.25)
    fit = seat_setting(high)
    assert fit.stands_proud == pytest.approx(0.25, abs=1e-6)
    assert [gap.place for gap in fit.pressed.gaps] == [Place.NECK, Place.HEAD]
    assert [gap.width for gap in fit.pressed.gaps] == pytest.approx([0.25, 0.25], abs=1e-6)


def test_a_gap_between_two_mitres_is_called_slope():
    cuts = Cuts.of(set_corner(cutter("lock-mitre", 11, 18), CornerGeometry(15, 15)))
    assert {gap.place for gap in corner_gaps(cuts, -0.2, 15.0)} == {Place.SLOPE}
