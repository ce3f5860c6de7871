"""Fronts that are boards of their own: which way their grain runs, and what is cut for them."""

from __future__ import annotations

import pytest

from drawerwright.drawers.box import AppliedFront, Banding
from drawerwright.drawers.front_panels import FalseFront, front_panel
from drawerwright.drawers.parts import PartKind
from drawerwright.wood.stock import Grain, Stock
from drawerwright.wood.thickness import Panel, Thickness


def panel(grain: Grain, *, upright: bool) -> AppliedFront:
    stock = Stock("ash", Panel.OTHER, Thickness(18, ((18.0,),)), grain=grain)
    return AppliedFront(stock, width=500, height=200, grain_upright=upright, oversize=4)


@pytest.mark.parametrize(
    ("grain", "upright", "length", "width"),
    [
        (Grain.LENGTH, False, 500, 200),
        (Grain.LENGTH, True, 200, 500),
        (Grain.NONE, True, 500, 200),
        (Grain.NONE, False, 500, 200),
    ],
)
def test_the_length_of_a_front_runs_along_its_grain(
    grain: Grain, upright: bool, length: float, width: float
) -> None:
    part = front_panel("A1", PartKind.APPLIED_FRONT, panel(grain, upright=upright), Banding())
    assert (part.length, part.width) == (length, width)
    assert part.is_upright is (length == 200)
    assert part.oversize == 4


@pytest.mark.parametrize(("is_banded", "edges"), [(True, 2), (False, 0)])
def test_a_front_is_edged_all_round_or_not_at_all(is_banded: bool, edges: int) -> None:
    banding = Banding(0.6, applied_front=is_banded)
    part = front_panel("A1", PartKind.APPLIED_FRONT, panel(Grain.LENGTH, upright=False), banding)
    assert (part.banded_long_edges, part.banded_short_edges) == (edges, edges)
    assert part.cut_length == pytest.approx(500 - edges * 0.6)
    assert part.cut_width == pytest.approx(200 - edges * 0.6)


@pytest.mark.parametrize("upright", [True, False])
def test_a_false_front_hangs_as_its_grain_runs(upright: bool) -> None:
    front = FalseFront("A2", panel(Grain.LENGTH, upright=upright), Banding(), 3, 7, 0)
    assert front.place.in_drawer((0, 0, 0)) == (3, 0, 7)
    along = tuple(
        end - start for end, start in zip(front.place.in_drawer((10, 0, 0)), (3, 0, 7), strict=True)
    )
    assert along == ((0, 0, 10) if upright else (10, 0, 0))
