from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.drawers.bank import Bank, FrontStyle, Overlay, Pull
from drawerwright.drawers.carcase import pull_places, runner_lines
from drawerwright.drawers.front_heights import EqualHeights
from drawerwright.drawers.opening import Opening
from drawerwright.drawers.runner_findings import runner_findings
from drawerwright.drawers.runners import STANDARD_RUNNERS, Runner, RunnerKind

OVERLAID = Bank(
    name="parts",
    mark="A",
    opening=Opening(500, 600, 450),
    style=FrontStyle.APPLIED,
    heights=EqualHeights(3),
    reveal=3,
    overlay=Overlay(8, 6, 6),
    runner=Runner(RunnerKind.SIDE, side=13, top=8, bottom=4, back=3, line=35, length=400),
    front_thickness=15,
    side_thickness=12,
)


def test_fronts_and_reveals_fill_opening_and_overlay() -> None:
    fronts = OVERLAID.front_places()
    assert [front.width for front in fronts] == [516] * 3
    assert fronts[0].top == pytest.approx(606)
    assert fronts[-1].z == pytest.approx(-6)
    for above, below in itertools.pairwise(fronts):
        assert above.z - below.top == pytest.approx(3)


def test_box_behind_an_overlaid_front() -> None:
    box = OVERLAID.places()[-1].box
    assert (box.x, box.width, box.depth) == (13, 474, 400)
    assert box.z == pytest.approx(4)  # the front reaches below the opening, the box must not
    assert box.top == pytest.approx(OVERLAID.front_places()[-1].top - 8)


def test_depth_counts_the_front_that_shows() -> None:
    full = replace(OVERLAID, runner=replace(OVERLAID.runner, length=None))
    assert full.places()[0].box.depth == 447
    inside = replace(full, overlay=Overlay(-2, -2, -2))
    assert inside.places()[0].box.depth == 447 - 15
    lipped = replace(full, style=FrontStyle.LIPPED)
    assert lipped.places()[0].box.depth == 447 + 15
    lipped_inside = replace(lipped, overlay=Overlay(-2, -2, -2))
    assert lipped_inside.places()[0].box.depth == 447


@pytest.mark.parametrize(("runner", "beside"), [("side-mounted", 13.0), ("wooden", 2.0), ("none", 2.0)])
def test_an_inset_front_leaves_its_runners_their_room(runner: str, beside: float) -> None:
    """13 mm is the standing clearance of side-mounted runners; others fit behind the reveal of 2 mm."""
    inset = replace(
        OVERLAID,
        style=FrontStyle.INSET,
        overlay=Overlay(-2, -2, -2),
        runner=STANDARD_RUNNERS[RunnerKind(runner)],
    )
    place = inset.places()[0]
    assert place.front.width == inset.opening.width - 4
    assert (inset.opening.width - place.box.width) / 2 == pytest.approx(beside)
    assert place.beside_box == pytest.approx((beside - 2, beside - 2))


def test_an_inset_front_stands_where_its_gaps_leave_it() -> None:
    """2 on the left and 5 on the right of 500. Boxes without runners are as wide as their front; side-mounted runners
    of 13 leave 474 in the middle, 11 and 8 inside the ends of the front. Gaps of 16 and 5 take 3 from the left runner.
    Worked by hand."""
    inset = replace(OVERLAID, style=FrontStyle.INSET, overlay=Overlay(-2, -2, -2, right=-5))
    place = replace(inset, runner=STANDARD_RUNNERS[RunnerKind.NONE]).places()[0]
    assert (place.front.x, place.front.width, place.box.x, place.box.width) == (2, 493, 2, 493)
    runner = STANDARD_RUNNERS[RunnerKind.SIDE]
    place = replace(inset, runner=runner).places()[0]
    assert (place.box.x, place.box.width, place.beside_box) == (13, 474, (11, 8))
    narrow = replace(inset, overlay=Overlay(-16, -2, -2, right=-5), runner=runner)
    assert [place.box.x for place in narrow.places()] == [16] * len(narrow.places())
    (found,) = runner_findings(narrow, ())
    assert found.code == "box-narrower-than-runners"
    assert "by 3.0 mm on the left and 0.0 mm on the right" in found.text
    assert not runner_findings(replace(inset, runner=runner), ())


@pytest.mark.parametrize(("width", "reveal"), [(613.0, 6.1), (500.0, 2.7), (417.3, 0.9), (362.9, 1.9)])
def test_a_box_as_wide_as_its_inset_front_has_no_lip_at_all(width: float, reveal: float) -> None:
    """Not one of 1e-14 mm either: with a lip the front must be the flat piece, and sides could not lie flat."""
    inset = replace(
        OVERLAID,
        opening=replace(OVERLAID.opening, width=width),
        style=FrontStyle.INSET,
        overlay=Overlay(-reveal, -reveal, -reveal),
        runner=replace(STANDARD_RUNNERS[RunnerKind.NONE], side=0.5),
    )
    place = inset.places()[0]
    assert place.box.width == place.front.width
    assert place.beside_box == (0, 0)


def test_inside_deduction_fixes_the_inside_width() -> None:
    """Common practice, no source: concealed runners fix the opening less the inside width (42 mm here)."""
    under = replace(OVERLAID, runner=replace(STANDARD_RUNNERS[RunnerKind.UNDER], length=400))
    box = under.places()[0].box
    assert box.width - 2 * 12 == 500 - 42


def test_no_room_is_said() -> None:
    long = replace(OVERLAID, runner=replace(OVERLAID.runner, length=460))
    tall = replace(OVERLAID, side_height=250)
    narrow = replace(OVERLAID, opening=Opening(45, 600, 450))
    for bank, words in ((long, "choose a shorter runner"), (tall, "leaves"), (narrow, "between the runners")):
        with pytest.raises(InvalidValueError, match=words):
            bank.places()


def test_runner_lines_count_from_the_opening() -> None:
    lines = runner_lines(OVERLAID)
    assert [line.drawer for line in lines] == ["A1", "A2", "A3"]
    assert lines[-1].height == pytest.approx(4 + 35)
    assert runner_lines(replace(OVERLAID, runner=replace(OVERLAID.runner, line=None))) == ()


def test_pulls_stand_in_the_middle_of_the_front() -> None:
    bank = replace(OVERLAID, pull=Pull(spacing=96, below_top=40, hole=5))
    left, right, *_ = pull_places(bank)
    assert (left.x + right.x) / 2 == pytest.approx(500 / 2)
    assert right.x - left.x == pytest.approx(96)
    assert left.z == pytest.approx(bank.front_places()[0].top - 40)
    assert len(pull_places(replace(OVERLAID, pull=Pull(spacing=0, below_top=None, hole=5)))) == 3


def test_fronts_that_cover_the_carcase_anywhere_stand_before_it() -> None:
    """A front over the top edge cannot sit in the opening, however wide it is."""
    low = replace(OVERLAID, overlay=Overlay(-2, 6, -2))
    assert not low.is_inside
    assert low.places()[0].inner_face == 0
    inside = replace(OVERLAID, overlay=Overlay(-2, 0, -2))
    assert inside.is_inside
    assert inside.places()[0].inner_face == 15


def test_a_bottom_below_the_sides_takes_its_room_from_them() -> None:
    fixed = replace(OVERLAID, below_sides=6.4)
    for plain, hung in zip(OVERLAID.places(), fixed.places(), strict=True):
        assert hung.box.z == pytest.approx(plain.box.z + 6.4)
        assert hung.box.top == pytest.approx(plain.box.top)
        assert hung.below_box == pytest.approx(plain.below_box + 6.4)


def test_a_side_height_leaves_the_runner_its_room_above() -> None:
    """Of fronts of 202 mm the top one covers 6 mm of the carcase; 8 and 4 mm of room leave 184 mm, no more."""
    assert OVERLAID.front_places()[0].height == pytest.approx(202)
    fits = replace(OVERLAID, side_height=184)
    assert [place.box.height for place in fits.places()] == [184] * 3
    with pytest.raises(InvalidValueError, match=r"leaves 184\.0 mm for the sides, not 185\.0 mm"):
        replace(OVERLAID, side_height=185).places()
