"""What holds a corner, as its own section says it."""

import math

import pytest

from drawerwright.joints.cutter import Cutter
from drawerwright.joints.holding import Bond, PlaneName, PullOff, cut_face_glued, hook_of
from drawerwright.joints.joint import joint_of
from drawerwright.joints.plain_joint import PlainCorner, plain_joint
from drawerwright.joints.registry import forget, register
from drawerwright.joints.setting import CornerGeometry, set_corner
from screwed_butt import SCREWED_BUTT as BUTT


def lock(slope=45.0, lip=0.0):
    cutter = Cutter(mid_depth=5.6, step=3.4, slope=slope)
    return set_corner(cutter, CornerGeometry(18.0, 12.0, lip))


@pytest.mark.parametrize("lip", [0.0, 6.0])
@pytest.mark.parametrize("slope", [45.0, 60.0, 89.5])
def test_a_hook_has_the_neck_and_head_of_its_setting(slope, lip):
    """Source: neck and head by docs/law.md, section 2; the slope's rise is its step over run / rise."""
    made = lock(slope, lip)
    hook = joint_of(made.cutter).holding(made, PullOff.ALONG_UPRIGHT).hook
    assert hook.neck - hook.outer == pytest.approx(made.neck)
    assert hook.head - hook.outer == pytest.approx(made.head)
    assert hook.outer == pytest.approx(lip)
    assert hook.middle == pytest.approx(5.6, abs=1e-6)
    assert hook.flank == pytest.approx(1 / math.tan(math.radians(slope)), abs=1e-6)
    assert (hook.shoulder, hook.tip, hook.roof) == pytest.approx((0.0, 11.2, 6.8))


def test_planes_begin_where_the_wood_is_undercut():
    hook = joint_of(lock().cutter).holding(lock(), PullOff.ALONG_UPRIGHT).hook
    planes = {plane.name: plane for plane in hook.planes}
    assert planes[PlaneName.HEAD].start == pytest.approx((4.3, 3.9))
    assert planes[PlaneName.HEAD].end == pytest.approx((4.3, 11.2))
    assert planes[PlaneName.HOOK].start == pytest.approx((7.7, 7.3))
    assert planes[PlaneName.NECK].length == pytest.approx(4.3)
    assert not planes[PlaneName.HOOK].on_upright


def test_glue_lies_all_along_the_cut_face():
    made = lock()
    holding = joint_of(made.cutter).holding(made, PullOff.ALONG_FLAT)
    # Shoulder 12 - 4.3, neck 3.9, slope 3.4 by 3.4, head 11.2 - 7.3, tip 4.3 + 3.4.
    assert holding.faces[0].area == pytest.approx(7.7 + 3.9 + 3.4 * 2**0.5 + 3.9 + 7.7)


def test_a_face_that_widens_downwards_makes_no_hook():
    assert hook_of([(8.0, 0.0), (8.0, 5.0), (5.0, 5.0), (5.0, 10.0)], 0.0, 12.0, 2.0) is None


def test_a_square_end_is_end_grain_as_wide_as_the_piece():
    made = PlainCorner(BUTT.name, CornerGeometry(18.0, 12.0))
    register(BUTT)
    try:
        (face,) = BUTT.holding(made, PullOff.ALONG_UPRIGHT).faces
    finally:
        forget(BUTT.name)
    assert (face.area, face.bond, face.turn) == (12.0, Bond.END, 24.0)


def test_flanks_of_fingers_are_as_large_as_both_thicknesses_make_them():
    """Source: two flanks a pitch; the turn of an area about its middle, added up in small squares."""
    joint = plain_joint("finger")
    made = PlainCorner("finger", CornerGeometry(15.0, 12.0), joint.checked({"finger": 6.0}))
    flanks, bottoms = joint.holding(made, PullOff.ALONG_UPRIGHT).faces
    assert (flanks.area, flanks.bond) == (pytest.approx(15 * 12 / 6), Bond.CROSSED)
    assert bottoms.bond is Bond.END
    step = 0.05
    x = [(i + 0.5) * step - 7.5 for i in range(300)]
    y = [(j + 0.5) * step - 6.0 for j in range(240)]
    second = sum(a * a for a in x) * step**2 * len(y) + sum(b * b for b in y) * step**2 * len(x)
    assert flanks.turn == pytest.approx(second / math.hypot(7.5, 6.0) / 6, rel=1e-3)


def test_a_rebate_glues_its_step_and_the_end_over_it():
    joint = plain_joint("rebate")
    made = PlainCorner("rebate", CornerGeometry(15.0, 12.0), joint.checked({"depth": 9.0}))
    (face,) = joint.holding(made, PullOff.ALONG_UPRIGHT).faces
    assert (face.area, face.bond) == (pytest.approx(12.0 + 9.0), Bond.END)


def test_a_cut_face_is_glued_from_the_shoulder_to_the_tip():
    """From the inside face at 6 along a step of the face to the outer face at 0: 2 + 2 + 5 + 3 + 5 long. As a lever the
    straight line from (6, 0) to (0, 5) counts, a sixth of its square."""
    (face,) = cut_face_glued([(4.0, 0.0), (2.0, 0.0), (2.0, 5.0), (5.0, 5.0)], 0.0, 6.0).faces
    assert face.area == pytest.approx(17.0)
    assert face.turn == pytest.approx((6**2 + 5**2) / 6)
    assert (face.line[0], face.line[-1]) == ((6.0, 0.0), (0.0, 5.0))
