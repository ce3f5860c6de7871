"""Test cuts of fingers and rebates: a shop whose gauges are off cuts them, and the next cut must come out right.

The shop is made here and knows nothing of the evaluation: what it cuts is what was set, less what its gauge reads high,
and a bit that is wider than it says. Positions along a row are added up notch by notch.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.plain_cuts import (
    PlainCut,
    _contradicting,
    _weighed,
    answer,
    check_readings,
    settings_off,
)
from drawerwright.joints.plain_joint import PlainCorner, plain_joint
from drawerwright.joints.setting import CornerGeometry

FINGERS = PlainCorner("finger", CornerGeometry(14.6, 14.6), (("finger", 9.5), ("clearance", 0.1)))
REBATE = PlainCorner("rebate", CornerGeometry(18.2, 14.6, lip=3.0), (("depth", 10.0),))
READ = 0.03


@dataclass(frozen=True)
class Shop:
    """Gauges that read high by so much (mm), a bit wider than 9.55 mm by `bit`, a pin too loose by `creep` a step."""

    pin: float = 0.0
    height: float = 0.0
    fence: float = 0.0
    bit: float = 0.0
    creep: float = 0.0

    def fingers(self, shown: dict[str, float]) -> PlainCut:
        notch, finger = 9.55 + self.bit, shown["tongue"] - self.pin
        starts = [0.0]
        for _step in range(11):  # 228 mm: two end fingers, 23 fingers and gaps between them, so 12 notches
            starts.append(starts[-1] + notch + finger + self.creep)
        proud = (shown["bit_height_flat"] - self.height) - 14.6
        readings = {"notch": notch, "finger": finger, "row": starts[11], "proud": proud}
        return self._cut(shown, readings, 14.6)

    def rebate(self, shown: dict[str, float], thickness: float = 18.2) -> PlainCut:
        width = shown["fence"] - self.fence
        readings = {
            "left": thickness - (shown["bit_height"] - self.height),
            "width": width,
            "lip": width - 14.6,
        }
        return self._cut(shown, readings, thickness)

    def _cut(self, shown: dict[str, float], readings: dict[str, float], thickness: float) -> PlainCut:
        return PlainCut(
            shown,
            Estimate(thickness, READ),
            Estimate(14.6, READ),
            {name: Estimate(value, READ) for name, value in readings.items()},
            228.0 if "tongue" in shown else 0.0,
        )


@pytest.mark.parametrize(
    ("shop", "says"),
    [
        (Shop(pin=-0.12), "Too tight"),
        (Shop(pin=0.15), "Too loose"),
        (Shop(bit=0.2), "Too loose"),
        (Shop(height=-0.2), "stand proud"),
        (Shop(height=0.2), "stop short"),
    ],
)
def test_the_next_row_of_fingers_fits(shop: Shop, says: str) -> None:
    first = answer(FINGERS, 228.0, ()).dial
    assert first == {"tongue": 9.45, "bit_height_flat": 14.6, "bit_height_upright": 14.6}
    told = answer(FINGERS, 228.0, (shop.fingers(first),))
    assert says in told.lines[0]
    second = shop.fingers(told.dial)
    fit = second.readings["notch"].value - second.readings["finger"].value
    assert fit == pytest.approx(0.1, abs=1e-6)
    assert second.readings["proud"].value == pytest.approx(0.0, abs=1e-6)
    after = answer(FINGERS, 228.0, (shop.fingers(first), second))
    assert after.leaves_all
    assert after.lines == ("The test cut is right: nothing to change.",)


def test_a_row_that_creeps_is_told_and_moves_no_gauge() -> None:
    first = answer(FINGERS, 228.0, ()).dial
    told = answer(FINGERS, 228.0, (Shop(creep=0.05).fingers(first),))
    assert "each step is 0.05 mm too long" in told.lines[0]
    assert told.leaves_all


def test_a_row_over_another_count_of_steps_is_asked_about() -> None:
    """228 mm have 11 steps of 19, 209 mm; six of them, or ten, are no creep. A creep of 0.5 mm a step is believed."""
    joint, made = plain_joint(FINGERS.kind), FINGERS
    for row in (114.0, 190.0, 228.0):
        with pytest.raises(InvalidValueError, match=r"209\.0 mm is expected: did you measure over 11 steps"):
            joint.changes(made, 228.0, {"row": row})
    assert joint.changes(made, 228.0, {"row": 214.5})["creep"] == pytest.approx(0.5)


def test_the_next_rebate_fits_in_scraps_of_another_thickness_too() -> None:
    """Where the gauges read high by 0.3 and 0.2 mm; the job's stock is 18.2 mm, the scraps are 17.9 mm."""
    shop = Shop(height=0.3, fence=0.2)
    first = answer(REBATE, 0.0, ()).dial
    assert first == {"bit_height": 10.0, "fence": pytest.approx(17.6)}
    told = answer(REBATE, 0.0, (shop.rebate(first, 17.9),))
    assert [each.off.value for each in told.settings if each.off] == pytest.approx([0.3, 0.2])
    again = shop.rebate(told.dial)
    assert 18.2 - again.readings["left"].value == pytest.approx(10.0)
    assert again.readings["width"].value == pytest.approx(17.6)


def test_what_cuts_taught_serves_other_corners_and_is_surer_the_more_there_are() -> None:
    shop = Shop(height=0.3, fence=0.2)
    first = answer(REBATE, 0.0, ()).dial
    taught = settings_off(REBATE, shop.rebate(first), repeatability=0.03)
    back = PlainCorner("rebate", CornerGeometry(18.2, 14.6), (("depth", 10.0),))
    told = answer(back, 0.0, (), (taught,))
    assert told.dial == {"bit_height": pytest.approx(10.3), "fence": pytest.approx(14.8)}
    twice = answer(back, 0.0, (), (taught, taught))
    one, two = (found.settings[0].off for found in (told, twice))
    assert one is not None
    assert two is not None
    # JCGM 100:2008, 4.2.3: the mean of two has the doubt of one over the root of two.
    assert two.uncertainty == pytest.approx(one.uncertainty / 2**0.5)


def test_cuts_that_cannot_both_be_right_are_named_and_the_last_counts() -> None:
    first = answer(FINGERS, 228.0, ()).dial
    told = answer(FINGERS, 228.0, (Shop(pin=0.4).fingers(first), Shop(pin=-0.4).fingers(first)))
    assert len(told.quarrels) == 1
    assert "by cut 1 it is 0.40 mm off the planned figure, by cut 2 -0.40 mm" in told.quarrels[0].replace(
        "−", "-"
    )
    assert told.dial["tongue"] == pytest.approx(9.45 - 0.4)


def test_a_slip_is_refused() -> None:
    cut = Shop().rebate({"bit_height": 10.0, "fence": 17.6})
    slip = PlainCut(cut.shown, cut.flat_thickness, cut.upright_thickness, {"width": Estimate(1.76)})
    with pytest.raises(InvalidValueError, match="slip"):
        check_readings(REBATE, slip)
    with pytest.raises(InvalidValueError, match="no reading 'roof'"):
        check_readings(
            REBATE, PlainCut({}, cut.flat_thickness, cut.upright_thickness, {"roof": Estimate(3.0)})
        )
    with pytest.raises(InvalidValueError, match="no setting 'tongue'"):
        check_readings(REBATE, PlainCut({"tongue": 9.0}, cut.flat_thickness, cut.upright_thickness, {}))


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        # 0.01 and 0.01 are 0.0141 together; three times that is 0.0424.
        ([0.0, 0.0, 0.0424], None),
        ([0.0, 0.0, 0.0425], (1, 2)),
        ([0.0, 0.0, -0.0425], (1, 2)),
        ([0.1, 0.0, 0.0], (0, 2)),
        ([0.1, 0.2, 0.1], (1, 2)),
        ([0.1], None),
    ],
)
def test_the_last_cut_is_held_against_the_latest_that_denies_it(values, expected):
    assert _contradicting([Estimate(value, 0.01) for value in values]) == expected


def test_cuts_are_weighed_by_their_doubts():
    """1 and 4 by 1 / 0.1² and 1 / 0.2², which is 4 to 1: 1.6, known to 1 / √(100 + 25)."""
    found = _weighed([Estimate(1.0, 0.1), Estimate(4.0, 0.2)])
    assert (found.value, found.uncertainty) == pytest.approx((1.6, 1 / 125**0.5))
    assert _weighed([]) is None
