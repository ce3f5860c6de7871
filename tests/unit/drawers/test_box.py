from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.bottom import Bottom, BottomStyle
from drawerwright.drawers.box import AppliedFront, Banding, DrawerBox
from drawerwright.drawers.drawer_findings import drawer_findings
from drawerwright.drawers.parts import Part, PartKind, Role
from drawerwright.joints import law
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness

CUTTER = Cutter("drawer-lock", mid_depth=Estimate(5.7), step=Estimate(3.5))


def board(thickness: float) -> Stock:
    return Stock(f"board {thickness}", Panel.OTHER, Thickness(thickness, ((thickness,),)))


SHEET = board(6.4)
BOTTOM = Bottom(BottomStyle.CAPTURED, SHEET, groove_depth=6, groove_height=10, groove_play=0.2, clearance=1.5)
BOX = DrawerBox(
    "A1",
    width=400,
    depth=350,
    height=110,
    front_height=110,
    front=board(15.2),
    side=board(14.6),
    back=board(14.4),
    made_by=CUTTER,
    bottom=BOTTOM,
)


def part(box: DrawerBox, kind: PartKind, cutter: Cutter = CUTTER) -> Part:
    return next(p for p in assemble(replace(box, made_by=cutter)).parts if p.kind is kind)


@given(
    st.floats(120, 900),
    st.floats(120, 700),
    st.floats(0, 20),
    st.sampled_from(["drawer-lock", "lock-mitre"]),
    st.tuples(st.floats(14, 20), st.floats(14, 20), st.floats(14, 20)),
)
def test_assembled_parts_give_the_outer_size(
    width: float, depth: float, lip: float, kind: str, t: tuple[float, float, float]
) -> None:
    cutter = replace(CUTTER, kind=kind)
    box = replace(
        BOX,
        width=width,
        depth=depth,
        lip=lip,
        front=board(t[0]),
        side=board(t[1]),
        back=board(t[2]),
        bottom=None,
    )
    reach = [law.engagement(cutter.bit_height(end), cutter.mid_depth.value) for end in (t[0], t[2])]
    side = part(box, PartKind.LEFT, cutter)
    assert law.outer_size(side.length, [(t[0], reach[0]), (t[2], reach[1])]) == pytest.approx(depth)
    assert part(box, PartKind.FRONT, cutter).length == pytest.approx(width + 2 * lip)
    assert part(box, PartKind.BACK, cutter).length == pytest.approx(width)


def test_sides_flat_swaps_the_lengths() -> None:
    box = replace(BOX, orientation=Orientation.SIDES_FLAT)
    assert part(box, PartKind.LEFT).length == 350
    assert part(box, PartKind.FRONT).length == pytest.approx(400 - 2 * 14.6 + 2 * 11.4)
    assert part(box, PartKind.FRONT).ends[0].role is Role.UPRIGHT
    assert "front-is-upright" in [finding.code for finding in drawer_findings(assemble(box))]
    with pytest.raises(InvalidValueError, match="must be the flat piece"):
        replace(box, lip=3)


def as_mirrored(side: Part, central: bool, top_banded: bool) -> set[tuple[object, ...]]:
    """A side seen from its inside in the two ways it can lie: ends left and right, edges below and above."""
    low, high = ("plain", "plain") if central else ("groove", "plain")
    high += " banded" if top_banded else ""
    left, right = side.ends
    return {(left, right, low, high), (right, left, high, low)}


@pytest.mark.parametrize("back", [BOX.back, BOX.front], ids=["ends differ", "ends alike"])
@pytest.mark.parametrize("central", [True, False], ids=["groove in the middle", "groove low"])
@pytest.mark.parametrize("banding", [Banding(), Banding(0.6, box_top=True)], ids=["bare", "banded above"])
def test_sides_are_handed_when_no_turning_makes_one_of_the_other(
    back: Stock, central: bool, banding: Banding
) -> None:
    """A right side is a left one seen in a mirror: its ends are exchanged, its edges are not."""
    bottom = replace(BOTTOM, groove_height=(110 - 6.6) / 2 if central else 10)
    box = replace(BOX, back=back, bottom=bottom, banding=banding)
    side = part(box, PartKind.LEFT)
    mirrored = {
        (right, left, low, high) for left, right, low, high in as_mirrored(side, central, banding.box_top)
    }
    assert side.is_handed is (mirrored != as_mirrored(side, central, banding.box_top))
    assert part(box, PartKind.RIGHT).is_handed is side.is_handed
    assert not part(box, PartKind.FRONT).is_handed


@pytest.mark.parametrize(
    ("style", "size", "back_height"),
    [
        (BottomStyle.CAPTURED, (400 - 2 * 14.6 + 12 - 1.5, 350 - 15.2 - 14.4 + 12 - 1.5), 110),
        (BottomStyle.SLID, (400 - 2 * 14.6 + 12 - 1.5, 350 - 15.2 + 6 - 1.5), 110 - 10 - 6.6),
        (BottomStyle.FIXED, (400 - 1.5, 350 - 1.5), 110),
    ],
)
def test_bottoms(style: BottomStyle, size: tuple[float, float], back_height: float) -> None:
    box = replace(BOX, bottom=replace(BOTTOM, style=style))
    bottom = part(box, PartKind.BOTTOM)
    assert (bottom.length, bottom.width) == pytest.approx(size)
    assert part(box, PartKind.BACK).width == pytest.approx(back_height)
    assert (part(box, PartKind.BACK).groove is not None) == (style is BottomStyle.CAPTURED)
    assert (part(box, PartKind.LEFT).groove is not None) == (style is not BottomStyle.FIXED)


def test_banding_makes_the_cut_size_smaller() -> None:
    box = replace(
        BOX,
        applied=AppliedFront(board(15), 480, 150),
        banding=Banding(0.8, applied_front=True, box_top=True),
    )
    front = part(box, PartKind.APPLIED_FRONT)
    assert (front.length, front.width) == (480, 150)
    assert (front.cut_length, front.cut_width) == pytest.approx((478.4, 148.4))
    assert part(box, PartKind.LEFT).cut_width == pytest.approx(109.2)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"front_height": 130}, "front-taller-than-sides"),
        ({"height": 45, "front_height": 45}, "low-box"),
        ({"bottom": replace(BOTTOM, groove_depth=12)}, "groove-shows"),
        ({"bottom": replace(BOTTOM, groove_depth=8)}, "deep-groove"),
        ({"bottom": replace(BOTTOM, groove_height=4)}, "groove-near-edge"),
        ({"bottom": replace(BOTTOM, groove_height=108)}, "groove-outside"),
    ],
)
def test_doubtful_boxes_are_found(change: dict[str, object], code: str) -> None:
    assert drawer_findings(assemble(BOX)) == ()
    box = replace(BOX, **change)  # type: ignore[arg-type]
    assert code in [finding.code for finding in drawer_findings(assemble(box))]


def test_a_box_without_inside_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="leave no room inside"):
        replace(BOX, width=29)
