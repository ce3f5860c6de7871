"""The key of a corner: what makes two corners one, and what does not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.lengths import kept_length
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner_key import CornerKey, KeyedCorner, Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness

CUTTER = Cutter("drawer-lock", mid_depth=Estimate(5.4), step=Estimate(3.7), name="lock cutter")
ASH = Stock("ash15", Panel.SOLID, Thickness(15.0, ((14.6, 14.7),)))
BEECH = Stock("beech15", Panel.SOLID, Thickness(15.0, ((14.5, 14.8),)))


def key(**changed: object) -> CornerKey:
    return replace(KeyedCorner.of(CUTTER, ASH, BEECH, 6.0).key, **changed)


@pytest.mark.parametrize(
    "changed",
    [
        {"joint": "lock-mitre"},
        {"cutter": "another"},
        {"flat": "beech15"},
        {"upright": "ash15"},
        {"lip": 6.001},
        {"orientation": Orientation.SIDES_FLAT},
    ],
)
def test_each_part_of_the_key_makes_another_corner(changed: dict[str, object]) -> None:
    assert key(**changed) != key()
    assert key(**changed).token != key().token


def test_equally_thick_stocks_make_two_corners() -> None:
    # 14.649999999999999 and 14.65 mm: what told two corners apart, or made them one, was the last digit.
    assert ASH.thickness.value == pytest.approx(BEECH.thickness.value)
    one, other = (KeyedCorner.of(CUTTER, stock, stock) for stock in (ASH, BEECH))
    assert one != other
    assert one.geometry.fence_sum(CUTTER) == pytest.approx(other.geometry.fence_sum(CUTTER))


def test_measuring_and_renaming_leave_the_corner() -> None:
    measured = replace(ASH, thickness=Thickness(15.0, ((14.61, 14.72, 14.66),)))
    renamed = replace(ASH, name="ash, wide boards", id="ash15")
    known = KeyedCorner.of(CUTTER, ASH, ASH, 6.0)
    for stock in (measured, renamed):
        again = KeyedCorner.of(replace(CUTTER, name="blue cutter", id="lock cutter"), stock, stock, 6.0)
        assert again == known
        assert again.key.token == known.key.token
    assert KeyedCorner.of(CUTTER, measured, measured).geometry.flat_thickness == pytest.approx(
        14.6633, abs=1e-4
    )


@given(
    st.one_of(
        st.integers(0, 40_000).map(lambda steps: steps / 1000),
        st.integers(0, 256).map(lambda parts: parts * 25.4 / 128),
    ),
    st.floats(50, 900),
)
def test_what_reckoning_leaves_in_the_last_digits_parts_no_lips(lip: float, width: float) -> None:
    """A lip out of a subtraction is the lip that was meant, in thousandths of a millimetre and in 1/128 in, of
    which 1/16 in = 1.5875 mm lies half way between two steps."""
    assert kept_length((width + lip) - width) == kept_length(lip)
    assert abs(kept_length(lip) - lip) <= 0.000501
