"""An opening that was measured at several places: what rules the box, and which side is shimmed by how much.

The corners are laid out on paper and every reading is taken between them with Pythagoras, so nothing here shares the
formula of the lean.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from drawerwright.basics.findings import Severity
from drawerwright.drawers.opening import Opening
from drawerwright.drawers.opening_findings import reading_findings
from drawerwright.drawers.opening_readings import OpeningReadings

Point = tuple[float, float]


def measured(lower_right: float, upper_left: Point, upper_right: Point) -> OpeningReadings:
    """What a tape reads in an opening whose lower left corner is at 0, 0."""
    return OpeningReadings(
        front_below=lower_right,
        front_above=upper_right[0] - upper_left[0],
        diagonal_up=hypot(*upper_right),
        diagonal_down=hypot(lower_right - upper_left[0], upper_left[1]),
    )


@pytest.mark.parametrize(
    ("corners", "left", "right", "width"),
    [
        # both sides lean 3 to the right: 3 below on the left, 3 above on the right
        ((500, (3, 700), (503, 700)), (3, 0), (0, 3), 497),
        # both lean 2 to the left
        ((500, (-2, 700), (498, 700)), (0, 2), (2, 0), 498),
        # only the right side leans, outwards: it is packed out above
        ((500, (0, 700), (504, 700)), (0, 0), (0, 4), 500),
        # only the left side leans, inwards: the upper width rules, the left is packed out below
        ((500, (2.5, 700), (500, 700)), (2.5, 0), (0, 0), 497.5),
        ((500, (0, 700), (500, 700)), (0, 0), (0, 0), 500),
    ],
)
def test_shims_make_the_sides_upright(
    corners: tuple[float, Point, Point],
    left: tuple[float, float],
    right: tuple[float, float],
    width: float,
) -> None:
    readings = measured(*corners)
    shims = readings.shims(500)
    assert shims is not None
    assert (shims.left_below, shims.left_above) == pytest.approx(left, abs=1e-9)
    assert (shims.right_below, shims.right_above) == pytest.approx(right, abs=1e-9)
    assert readings.clear_width(500) == pytest.approx(width)


def test_the_smallest_reading_rules() -> None:
    opening = Opening(600, 700, 450).measured(
        OpeningReadings(front_above=600.4, back_below=599.2, back_above=601, left=699, right=701)
    )
    assert (opening.width, opening.height, opening.depth) == (599.2, 699, 450)
    assert Opening(600, 700, 450).measured(OpeningReadings()).width == 600


def findings(readings: OpeningReadings, play: float = 1.0) -> dict[str, str]:
    used = Opening(600, 700, 450).measured(readings).width
    found = list(reading_findings("Scores", readings, used, play, ("A1",)))
    assert all(each.severity is not Severity.STOP and each.drawers == ("A1",) for each in found)
    return {each.code: f"{each.text} {each.remedy}" for each in found}


def test_what_exceeds_the_play_says_where_to_shim() -> None:
    """602 against 600: 2 more than where it is narrowest, 1 on each side."""
    readings = OpeningReadings(front_above=600, front_below=600.8, back_above=602)
    said = findings(readings)
    assert set(said) == {"opening-uneven"}
    assert "at the back above it is 2.0 mm wider than the 600.0 mm used" in said["opening-uneven"]
    assert "by 1.0 mm on each side, or by 2.0 mm on the side that is out of line" in said["opening-uneven"]
    assert findings(readings, play=2.0) == {}


def test_out_of_square_says_which_side_and_by_how_much() -> None:
    said = findings(measured(600, (3, 700), (603, 700)))
    assert set(said) == {"opening-out-of-square"}
    assert (
        "Shim the runners: on the left 3.0 mm below, on the right 3.0 mm above"
        in said["opening-out-of-square"]
    )
    assert "600.0 mm, less 3.0 mm for the lean of its sides leaves 597.0 mm" in said["opening-out-of-square"]
    assert findings(measured(600, (0.9, 700), (600.9, 700))) == {}


def test_every_shim_leaves_the_width_that_the_boxes_are_made_for() -> None:
    """Sides that lean 3 leave 597 of 600; at the back, 600.5 and 602 are 3.5 and 5 more than that."""
    leaning = measured(600, (3, 700), (603, 700))
    said = [
        f"{each.text} {each.remedy}"
        for each in reading_findings(
            "Scores", replace(leaning, back_above=602, back_below=600.5), 597, 1.0, ("A1",)
        )
    ]
    assert [text.split(";")[0] for text in said[:2]] == [
        "at the back above it is 5.0 mm wider than the 597.0 mm used",
        "at the back below it is 3.5 mm wider than the 597.0 mm used",
    ]
    assert len(said) == 3


def test_a_narrower_back_thickens_the_shims_of_the_front() -> None:
    """Upright sides leave 597 at the front and the back only 595: one more on each side."""
    said = findings(replace(measured(600, (3, 700), (603, 700)), back_above=595))
    assert set(said) == {"opening-out-of-square"}
    assert (
        "on the left 4.0 mm below, on the left 1.0 mm above, on the right 1.0 mm below, on the right 4.0 mm above"
        in said["opening-out-of-square"]
    )
    assert "lean of its sides" not in said["opening-out-of-square"], "the back was read as it is used"


def test_heights_that_differ_are_noted() -> None:
    assert set(findings(OpeningReadings(left=700, right=702))) == {"opening-not-level"}
    assert findings(OpeningReadings(left=700, right=700.9)) == {}
