"""Published thickness limits and usual cutter speeds, typed in again from the tables that are named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.table import RouterTable
from drawerwright.run.cutter_words import speed_words
from drawerwright.run.speeds import advise_speed, rim_speed, usual_speed_limit
from drawerwright.wood.thickness import Panel, published_range


@pytest.mark.parametrize(
    ("nominal", "low", "typical", "high"),
    [
        (6.5, 6.1, 6.4, 6.9),
        (9, 8.8, 9.2, 9.5),
        (12, 11.5, 12.0, 12.5),
        (15, 14.3, 14.9, 15.3),
        (18, 17.1, 17.7, 18.1),
    ],
)
def test_birch_plywood_limits(nominal: float, low: float, typical: float, high: float) -> None:
    """Source: a published birch plywood datasheet, average / lower / upper limits, sanded both sides (read)."""
    limits = published_range(Panel.BIRCH_PLYWOOD, nominal)
    assert limits is not None
    assert (limits.low, limits.typical, limits.high) == (low, typical, high)


@pytest.mark.parametrize(
    ("nominal", "low", "high"),
    [
        (4, 3.5, 4.3),
        (6.5, 6.0, 6.9),
        (9, 8.5, 9.4),
        (12, 11.3, 12.5),
        (15, 14.2, 15.6),
        (18, 17.1, 18.7),
        (21, 20.0, 21.8),
        (24, 22.9, 24.9),
        (27, 25.8, 28.0),
        (30, 28.7, 31.1),
    ],
)
def test_a_second_series_of_birch_plywood(nominal: float, low: float, high: float) -> None:
    """Source: a plywood mill's published size and layer-count table, undated, sanded (read). The first series, which
    states a mean, is the one in use; its mean must lie within the mill's limits, and the lower limits near each other.
    The mill's upper limits are wider in thick panels, and no drawer is made of its unsanded panels."""
    limits = published_range(Panel.BIRCH_PLYWOOD, nominal)
    assert limits is not None
    assert limits.typical is not None
    assert low <= limits.typical <= high
    assert limits.low == pytest.approx(low, abs=0.5)


@pytest.mark.parametrize(
    ("inches", "low", "high"), [(15 / 32, 11.11, 12.70), (19 / 32, 14.29, 15.88), (23 / 32, 17.46, 19.05)]
)
def test_us_performance_categories(inches: float, low: float, high: float) -> None:
    """Source: US Voluntary Product Standard PS 1, thickness table at 9 % MC (read)."""
    limits = published_range(Panel.US_PLYWOOD, inches * 25.4)
    assert limits is not None
    assert (limits.low, limits.high) == (low, high)


def test_general_plywood_limits() -> None:
    """Source: EN 315:2000, sanded, t = 18 gives 17.06 to 18.74 (from memory; agrees with GB/T 9846, read)."""
    limits = published_range(Panel.PLYWOOD, 18)
    assert limits is not None
    assert (limits.low, limits.high) == (17.06, 18.74)
    assert "memory" in limits.source


def test_nothing_is_published_for_solid_wood() -> None:
    """Source: no standard known to us limits how far planed solid wood is off its size (from memory)."""
    assert published_range(Panel.SOLID, 18) is None


@pytest.mark.parametrize(
    ("diameter", "speed"), [(25.4, 24000), (25.5, 18000), (50.8, 18000), (63.5, 16000), (88.9, 12000)]
)
def test_usual_speed_limits(diameter: float, speed: float) -> None:
    """Source: a common-practice table in a general reference article on cutter speeds, about 2010 (read)."""
    limit = usual_speed_limit(diameter)
    assert limit is not None
    assert limit[0] == speed


def test_rim_speed() -> None:
    """Source: standard machining kinematics, v = pi D n / 60000 (any machining handbook; from memory), with its
    worked figure: 50.8 mm at 18000 1/min is 47.9 m/s."""
    assert rim_speed(50.8, 18000) == pytest.approx(47.9, abs=0.05)


def test_advice_tells_the_rim_speed_at_what_is_chosen() -> None:
    """Source: the same formula, worked by hand: 0.044 m × pi is 0.13823 m a turn."""
    cutter = Cutter("drawer-lock", mid_depth=6, step=4, diameter=44, max_speed=12000)
    chosen = advise_speed(cutter, RouterTable(speeds=(8000, 11500, 16000)))
    bounded = advise_speed(cutter, RouterTable())
    unknown = advise_speed(replace(cutter, diameter=None), RouterTable())
    assert chosen is not None
    assert bounded is not None
    assert unknown is not None
    assert chosen.at_the_rim == pytest.approx(0.13823 * 11500 / 60, abs=0.01)
    assert bounded.at_the_rim == pytest.approx(0.13823 * 12000 / 60, abs=0.01)
    assert unknown.at_the_rim is None
    assert "11,500 1/min (26 m/s at the rim). The limit for this cutter is 12,000 1/min (" in speed_words(
        chosen
    )
    assert "at most 12,000 1/min (28 m/s at the rim) for this cutter (" in speed_words(bounded)
    assert "rim" not in speed_words(unknown)


def test_the_marked_speed_governs_when_it_is_lower() -> None:
    """Source: what a maker marks on a cutter is a limit (common practice, no source)."""
    cutter = Cutter("drawer-lock", mid_depth=Estimate(6), step=Estimate(4), diameter=44, max_speed=12000)
    advice = advise_speed(cutter, RouterTable(speeds=(8000, 11500, 16000)))
    assert advice is not None
    assert (advice.limit, advice.choose) == (12000, 11500)
