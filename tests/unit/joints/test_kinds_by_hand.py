"""Plain kinds of joint in round figures, each worked out by hand beside the test from the formulas in docs/joints.md
and docs/law.md: rows of fingers, rebates, panels of boards, and where two kinds change what they say.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest
from shapely import Polygon

from drawerwright.basics.errors import InvalidValueError
from drawerwright.joints import law
from drawerwright.joints.bench_place import BenchPlace
from drawerwright.joints.comb import EdgeLayer, JoinedEdge
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.holding import PullOff
from drawerwright.joints.jigs import Stretch, StripPart
from drawerwright.joints.joint import joint_of
from drawerwright.joints.kinds.finger.finger_findings import row_faults
from drawerwright.joints.kinds.finger.finger_row import FingerRow, whole_widths
from drawerwright.joints.kinds.finger.finger_work import finger_work
from drawerwright.joints.kinds.finger.row_doubt import RowDoubt
from drawerwright.joints.plain_joint import PlainCorner, plain_joint
from drawerwright.joints.reach import Reach
from drawerwright.joints.setting import CornerGeometry, set_corner

FINGERS, REBATE = plain_joint("finger"), plain_joint("rebate")
BOUNDLESS = Reach(math.inf, math.inf)
ROW = FingerRow(100.0, 10.0, 0.4)
"""Between the ends 9 fingers and gaps, since 100 / 10 - 1 = 9 is odd; so the ends are (100 - 90) / 2 = 5 wide. A notch
is 10 + 0.2, a finger 10 - 0.2; a notch begins 0.1 before its place."""


def fingers(lip: float = 0.0, **given: float) -> PlainCorner:
    """Fingers of 10 with a clearance of 0.4, flat piece 15, upright piece 12 thick."""
    measures = FINGERS.checked({"finger": 10.0, "clearance": 0.4, **given})
    return PlainCorner("finger", CornerGeometry(15.0, 12.0, lip), measures)


def rebate(depth: float | None = 9.0, lip: float = 2.0) -> PlainCorner:
    measures = REBATE.checked({} if depth is None else {"depth": depth})
    return PlainCorner("rebate", CornerGeometry(15.0, 12.0, lip), measures)


def close(values: Any) -> Any:
    return pytest.approx(values, abs=1e-9)


# -- a row of fingers --------------------------------------------------------------------------------------


def test_a_row_in_round_figures() -> None:
    assert (ROW.between, ROW.fingers, ROW.has_whole_ends) == (9, 6, False)
    assert (ROW.end, ROW.pitch, ROW.notch, ROW.tongue) == close((5.0, 20.0, 10.2, 9.8))
    assert (ROW.first_notch, ROW.end_notch) == close((4.9, 5.1))
    assert ROW.notches_between == tuple(close((4.9 + 20 * n, 15.1 + 20 * n)) for n in range(5))
    between = tuple(close((14.9 + 20 * n, 25.1 + 20 * n)) for n in range(4))
    assert ROW.notches_at_ends == (close((0.0, 5.1)), *between, close((94.9, 100.0)))
    assert ROW.glued(15.0, 12.0) == close(2 * 5 * 15 * 12)  # five fingers with two flanks each
    assert [ROW.passes(kerf) for kerf in (3.0, 5.1, 10.2, 12.0)] == [4, 2, 1, 1]


@pytest.mark.parametrize(
    ("width", "between", "end"), [(20, 1, 5), (30, 1, 10), (39, 1, 14.5), (40, 3, 5), (110, 9, 10)]
)
def test_ends_lie_between_half_a_finger_and_one_and_a_half(width: float, between: int, end: float) -> None:
    row = FingerRow(width, 10.0)
    assert (row.between, row.end) == (between, end)
    assert row.has_whole_ends is (end == 10)


@pytest.mark.parametrize(
    ("width", "finger", "expected"), [(100, 10, (90, 110)), (90, 10, (90, 110)), (10, 10, (30, 50))]
)
def test_widths_with_whole_ends(width: float, finger: float, expected: tuple[float, float]) -> None:
    assert whole_widths(width, finger) == expected


@pytest.mark.parametrize(
    ("width", "clearance", "is_refused"),
    [(20.0, 0.0, False), (19.99, 0.0, True), (20.0, 2.5, False), (20.0, 2.51, True)],
)
def test_what_is_no_row_is_refused(width: float, clearance: float, is_refused: bool) -> None:
    """Two fingers at least, and no more than a quarter of a finger to spare."""
    if is_refused:
        with pytest.raises(InvalidValueError):
            FingerRow(width, 10.0, clearance)
    else:
        assert FingerRow(width, 10.0, clearance).between == 1


def test_figures_of_fingers_for_the_bench() -> None:
    figures = {one.name: one for one in FINGERS.figures(fingers(), 100.0)}
    assert {name: one.value for name, one in figures.items()} == close(
        {
            "jig_pitch": 20.0,
            "notch": 10.2,
            "tongue": 9.8,
            "end": 5.0,
            "first_notch": 4.9,
            "end_notch": 5.1,
            "bit_height_flat": 12.0,
            "bit_height_upright": 15.0,
        }
    )
    on_a_higher_front = {name: one.at(8.0) - one.value for name, one in figures.items()}
    assert on_a_higher_front == close({name: 8.0 * (name == "first_notch") for name in figures})


@pytest.mark.parametrize(("kerf", "expected", "passes"), [(None, 10.2, 1), (3.0, 3.0, 4)])
def test_a_bit_of_which_nothing_is_said_cuts_a_notch_in_one_pass(
    kerf: float | None, expected: float, passes: int
) -> None:
    data = FINGERS.data(fingers(**({} if kerf is None else {"kerf": kerf})), 100.0)
    assert (data["kerf"], data["passes"], data["fingers"], data["glued_area"]) == (expected, passes, 6, 1800)
    assert data["widths"] == [5.0, *[10.0] * 9, 5.0]
    assert data["whole_finger_widths"] == [90, 110]
    assert (data["row"]["off_at_end"], data["row"]["most_steps"]) == (0.0455, 32)  # both by hand below


def test_usual_measures_of_fingers() -> None:
    """Common practice, no source: fingers of 9.5 with a clearance of 0.1, cut with a bit of 9.55."""
    made = PlainCorner("finger", CornerGeometry(15.0, 12.0))
    assert [FINGERS.measure(made, name) for name in ("finger", "clearance", "kerf")] == close(
        [9.5, 0.1, 9.55]
    )
    assert FINGERS.usual("kerf", made.corner) == close(9.55)
    assert FINGERS.reach(made) == made.engagement == 15.0


def test_sections_of_fingers() -> None:
    made = fingers(lip=1.0)
    assert FINGERS.flat_outline(made, 60.0) == ((60.0, 0.0), (60.0, 15.0), (13.0, 15.0), (13.0, 0.0))
    assert FINGERS.flat_outline(made)[0] == (12.0 + 2 * 15.0, 0.0)
    flanks, bottoms = FINGERS.holding(made, PullOff.ALONG_UPRIGHT).faces
    assert (flanks.area, bottoms.area, bottoms.turn) == close((15.0 * 12.0 / 10.0, (15.0 + 12.0) / 2, 0.0))
    assert flanks.line == ((1.0, 0.0), (13.0, 0.0), (13.0, 15.0), (1.0, 15.0), (1.0, 0.0))
    assert FINGERS.upright_outline(made, 1.0, 15.0) == ((1.0, -9.0), (13.0, -9.0), (13.0, 15.0), (1.0, 15.0))
    (place,) = FINGERS.places(made)
    assert (place.middle, place.room, place.on_upright) == ((7.0, 7.5), (12.0, 15.0), True)
    (height,) = FINGERS.spans(made).left
    assert (height.start, height.end, height.feet) == (0.0, 15.0, (1.0, 1.0))


def layers(found: tuple[EdgeLayer, ...]) -> list[tuple[float, float, Any]]:
    return [(each.low, each.high, each.outline) for each in found]


def test_layers_of_a_flat_piece_begin_where_the_other_stands() -> None:
    """A front of 120 that reaches 8 below its sides of 100, and 12 above."""
    made = fingers()
    whole = ((60.0, 0.0), (60.0, 15.0), (0.0, 15.0), (0.0, 0.0))
    notched = FINGERS.flat_outline(made, 60.0)
    expected, reached = [], 0.0
    for low, high in ((12.9 + 20 * n, 23.1 + 20 * n) for n in range(5)):
        expected += [(close(reached), close(low), whole), (close(low), close(high), notched)]
        reached = high
    expected.append((close(103.1), 120.0, whole))
    assert layers(FINGERS.flat_layers(made, JoinedEdge(120.0, 8.0, 108.0), 60.0)) == expected


def test_layers_of_an_upright_piece_begin_and_end_with_a_notch() -> None:
    made = fingers()
    whole = ((0.0, -50.0), (12.0, -50.0), (12.0, 0.0), (0.0, 0.0))
    notched = ((0.0, -50.0), (12.0, -50.0), (12.0, -15.0), (0.0, -15.0))
    found = layers(FINGERS.upright_layers(made, JoinedEdge(100.0, 0.0, 100.0), 50.0))
    places = [0.0, 5.1, *(place for n in range(4) for place in (14.9 + 20 * n, 25.1 + 20 * n)), 94.9, 100.0]
    assert [(low, high) for low, high, _ in found] == [close(pair) for pair in itertools.pairwise(places)]
    assert [outline for _, _, outline in found] == [notched, whole] * 5 + [notched]


def test_an_edge_without_room_for_a_row_keeps_its_flat_piece_whole() -> None:
    made, low = fingers(), JoinedEdge(15.0, 0.0, 15.0)
    assert FINGERS.row_if_any(made, 15.0) is None
    assert [(a, b) for a, b, _ in layers(FINGERS.flat_layers(made, low, 60.0))] == [(0.0, 15.0)]
    ((_, _, outline),) = layers(FINGERS.upright_layers(made, low, 50.0))
    assert max(y for _, y in outline) == -15.0


def test_the_jig_and_both_edges_at_true_size() -> None:
    jig, flat, upright = FINGERS.jig(fingers(), 100.0)
    assert jig.stretches == (Stretch(0.0, 10.2, StripPart.PIN), Stretch(20.0, 30.2, StripPart.CUTTER))
    assert [(one.start, one.end) for one in jig.spans] == [
        close(pair) for pair in ((0.0, 10.2), (10.2, 20.0), (0.0, 20.0))
    ]
    for strip, notches, spans in (
        (flat, ROW.notches_between, [(0.0, 4.9), (4.9, 15.1)]),
        (upright, ROW.notches_at_ends, [(0.0, 5.1), (5.1, 14.9)]),
    ):
        assert [(one.start, one.end) for one in strip.spans] == [close(pair) for pair in spans]
        cut = [(one.start, one.end) for one in strip.stretches if one.part is StripPart.NOTCH]
        assert cut == list(notches)
        assert strip.stretches[0].start == 0.0
        assert strip.stretches[-1].end == 100.0
        for before, after in itertools.pairwise(strip.stretches):
            assert before.end == after.start
            assert {before.part, after.part} == {StripPart.WOOD, StripPart.NOTCH}


def test_the_combs_of_a_row_stand_up_from_a_broken_edge() -> None:
    """Seven fingers and gaps of a row of 10 are shown: 70 wide, with 5 between ends of 10, or three notches of 10.2. As
    deep as the other piece is thick, above as below."""
    flat, upright = FINGERS.test_pieces(fingers(), 100.0)
    for piece, depth, notches in ((flat, 12.0, 3 * 10.2), (upright, 15.0, 2 * 10.2 + 2 * 10.1)):
        comb = Polygon(piece.outline)
        assert comb.is_valid
        assert comb.bounds == close((0.0, -depth, 70.0, depth))
        assert comb.area == close(70 * 2 * depth - notches * depth)
    assert flat.spans is not None
    assert upright.spans is not None
    # Notches begin 10 - 0.1 from the end, 20 apart; those of the other piece leave a finger from 10.1 to 19.9.
    assert [(one.start, one.end) for one in flat.spans.above] == [close((9.9, 20.1)), close((20.1, 29.9))]
    assert [(one.start, one.end) for one in flat.spans.below] == [close((9.9, 49.9))]
    assert [(one.start, one.end) for one in upright.spans.above] == [close((0, 10.1)), close((10.1, 19.9))]


def test_work_for_a_row_of_fingers() -> None:
    """6 fingers and 5 leave 5 + 6 notches, 10.2 wide: two passes of a kerf of 6 each. Either piece is notched as
    deep as the other is thick, 15 and 12: 13.5 on average. Two ends are held together, so half of both counts."""
    _set_up, cut = finger_work(ROW, CornerGeometry(15.0, 12.0), 6.0, BenchPlace(100.0))
    assert cut.passes == 11 * 2 / 2
    assert cut.metres == close(22 * 0.0135 / 2)


@pytest.mark.parametrize(
    ("name", "given", "is_refused"),
    [
        ("finger", {"finger": 0.5}, False),
        ("finger", {"finger": 0.0}, True),
        ("finger", {"clearance": 0.0}, False),
        ("finger", {"clearance": -0.01}, True),
        ("rebate", {"depth": 0.01}, False),
        ("rebate", {"depth": 0.0}, True),
        ("rebate", {"finger": 1.0}, True),
    ],
)
def test_a_measure_is_more_than_nothing_where_it_may_not_be_none(
    name: str, given: dict[str, float], is_refused: bool
) -> None:
    joint = plain_joint(name)
    if is_refused:
        with pytest.raises(InvalidValueError):
            joint.checked(given)
    else:
        assert joint.checked(given) == tuple(given.items())


def test_what_adds_up_along_a_row() -> None:
    """By hand: a step within 0.05 has a standard uncertainty of 0.05 / √12 = 0.01443; after 4 steps of both pieces
    √8 × 0.01443 = 0.04082, and 4 × 0.005 = 0.02 of the pitch: √(0.02² + 0.04082²) = 0.04546."""
    doubt = RowDoubt()
    assert doubt.step == pytest.approx(0.0144338, abs=1e-6)
    assert doubt.off_at(4) == pytest.approx(0.045461, abs=1e-5)
    assert doubt.off_at(0) == 0.0


@pytest.mark.parametrize("slack", [0.0, 0.05, 0.2])
@pytest.mark.parametrize("pitch", [0.0, 0.005, 0.03])
@pytest.mark.parametrize("clearance", [0.1, 0.4])
def test_the_longest_row_is_the_last_whose_doubt_lies_within_the_clearance(
    slack: float, pitch: float, clearance: float
) -> None:
    doubt = RowDoubt(slack, pitch)
    longest = doubt.longest(clearance)
    if slack == pitch == 0:
        assert longest is None
        return
    assert longest is not None
    assert 2 * doubt.off_at(longest) <= clearance + 1e-6
    assert 2 * doubt.off_at(longest + 1) > clearance


@pytest.mark.parametrize(
    ("doubt", "steps", "clearance", "odds"),
    [
        (RowDoubt(0.1, 0.0), 1, 0.05, 0.75),  # the difference of two even draws: 1 - (1 - 0.05 / 0.1)²
        (RowDoubt(0.1, 0.0), 1, 0.1, 1.0),
        (RowDoubt(0.0, 0.1), 1, 0.1, 0.6827),  # within one standard deviation
        (RowDoubt(0.0, 0.1), 2, 0.1, 0.3829),  # after two steps within half of one
        (RowDoubt(0.0, 0.0), 9, 0.0, 1.0),
        (RowDoubt(0.5, 0.5), 0, 0.0, 1.0),
    ],
)
def test_odds_of_a_row(doubt: RowDoubt, steps: int, clearance: float, odds: float) -> None:
    """Source: both distributions in closed form."""
    assert doubt.goes_together(steps, clearance) == pytest.approx(odds, abs=0.012)


@pytest.mark.parametrize(
    ("read", "expected"),
    [
        ({"finger": 9.9}, {"pin": 0.1}),
        ({"notch": 10.3}, {"pin": -0.1}),
        ({"finger": 9.9, "notch": 10.3}, {"pin": 0.0}),
        ({"row": 80.4}, {"creep": 0.1}),
        ({"row": 80.4, "notch": 10.3}, {"pin": -0.1, "creep": 0.0}),
        ({"proud": 0.2}, {"bit_height": -0.2}),
        ({}, {}),
    ],
)
def test_what_readings_of_a_row_ask_for(read: dict[str, float], expected: dict[str, float]) -> None:
    """Six fingers are four steps of 20 from the first notch to the last; a finger is the notch less the clearance."""
    assert FINGERS.expected(fingers(), 100.0) == close(
        {"notch": 10.2, "finger": 9.8, "row": 80.0, "proud": 0.0}
    )
    assert dict(FINGERS.correction(fingers(), 100.0, read).changes) == close(expected)


def test_a_row_that_is_a_finger_off_was_counted_wrongly() -> None:
    for row in (70.0, 90.0):
        with pytest.raises(InvalidValueError, match="over 4 steps"):
            FINGERS.changes(fingers(), 100.0, {"row": row})
    for row in (70.1, 89.9):
        assert abs(FINGERS.changes(fingers(), 100.0, {"row": row})["creep"]) == close(9.9 / 4)
    assert FINGERS.changes(fingers(), 30.0, {"row": 5.0}) == {}  # two fingers have no steps between them


@pytest.mark.parametrize(("name", "value"), [("finger", 0.0), ("finger", -1.0), ("notch", 0.0)])
def test_a_reading_is_more_than_nothing(name: str, value: float) -> None:
    with pytest.raises(InvalidValueError, match="must be more than 0 mm"):
        FINGERS.correction(fingers(), 100.0, {name: value})
    assert FINGERS.correction(fingers(), 100.0, {"proud": -0.1}).changes == {"bit_height": 0.1}


@pytest.mark.parametrize(
    ("made", "expected"),
    [
        (fingers(), set()),
        (fingers(lip=0.004), set()),
        (fingers(lip=0.006), {"fingers-under-a-lip"}),
        (fingers(lip=-0.006), {"fingers-under-a-lip"}),
        (fingers(kerf=10.204), set()),
        (fingers(kerf=10.206), {"kerf-wider-than-notch"}),
        (fingers(finger=3.0, clearance=0.1), set()),
        (fingers(finger=2.99, clearance=0.1), {"narrow-fingers"}),
        (fingers(finger=18.0), set()),
        (fingers(finger=18.01), {"wide-fingers"}),
    ],
)
def test_what_is_doubtful_about_fingers(made: PlainCorner, expected: set[str]) -> None:
    """A quarter of the thinner piece, 12, and one and a half of it (common practice, no source)."""
    assert {one.code for one in FINGERS.findings(made, "here", BOUNDLESS)} == expected


@pytest.mark.parametrize(
    ("width", "doubt", "expected"),
    [
        (90.0, RowDoubt(0.0, 0.0), set()),
        (90.09, RowDoubt(0.0, 0.0), set()),
        (90.11, RowDoubt(0.0, 0.0), {"uneven-end-fingers"}),
        (19.0, RowDoubt(0.0, 0.0), {"no-room-for-fingers"}),
        (90.0, RowDoubt(0.0, 0.09), {"long-finger-row"}),  # 3 steps within 0.4: 0.4 / 0.27 = 1.48 sigma, 86 %
        (90.0, RowDoubt(0.0, 0.07), set()),  # 0.4 / 0.21 = 1.90 sigma, 94 %
    ],
)
def test_what_is_doubtful_about_a_row(width: float, doubt: RowDoubt, expected: set[str]) -> None:
    assert {one.code for one in row_faults(10.0, 0.4, width, "here", doubt)} == expected


# -- a rebate ----------------------------------------------------------------------------------------------


def test_a_rebate_in_round_figures() -> None:
    """9 deep in 15 leaves 6; as wide as the upright piece, 12, and the lip, 2."""
    made = rebate()
    assert [(one.name, one.value) for one in REBATE.figures(made, 100.0)] == [
        ("bit_height", 9.0),
        ("fence", 14.0),
        ("left", 6.0),
        ("length_lost", 6.0),
    ]
    assert REBATE.data(made, 100.0) == {"depth": 9.0, "width": 14.0, "pins": 2}
    outline = ((60.0, 0.0), (60.0, 15.0), (0.0, 15.0), (0.0, 9.0), (14.0, 9.0), (14.0, 0.0))
    assert REBATE.flat_outline(made, 60.0) == outline
    spans = [(one.start, one.end, one.feet) for one in REBATE.spans(made).left]
    assert spans == [(0.0, 9.0, (2.0, 2.0)), (9.0, 15.0, (2.0, None))]
    (tongue,) = REBATE.places(made)
    assert (tongue.middle, tongue.room, tongue.on_upright) == ((7.0, 12.0), (14.0, 6.0), False)
    assert REBATE.edge_cut(rebate(9.004, 1.996)) == (9.0, 14.0)
    assert REBATE.measure(rebate(None), "depth") == 9.0  # 0.6 of 15


@pytest.mark.parametrize(("height", "pins"), [(20, 2), (84, 2), (113, 2), (115, 3), (144, 3), (204, 4)])
def test_pins_stand_about_sixty_apart(height: float, pins: int) -> None:
    """Between the outer ones, 12 from each edge (common practice, no source)."""
    assert REBATE.data(rebate(), height)["pins"] == pins
    assert REBATE.lines(rebate(), 0.0) == ()
    assert len(REBATE.lines(rebate(), height)) == 1


@pytest.mark.parametrize(
    ("read", "expected"),
    [
        ({"left": 6.3}, {"bit_height": 0.3}),
        ({"width": 13.5}, {"fence": 0.5}),
        ({"lip": 1.6}, {"fence": 0.4}),
        ({"width": 13.5, "lip": 1.6}, {"fence": 0.45}),
        ({"left": 14.9, "width": 7.0}, {"bit_height": 8.9, "fence": 7.0}),
        ({"width": 28.0}, {"fence": -14.0}),
    ],
)
def test_what_readings_of_a_rebate_ask_for(read: dict[str, float], expected: dict[str, float]) -> None:
    assert REBATE.expected(rebate(), 100.0) == {"left": 6.0, "width": 14.0, "lip": 2.0}
    assert dict(REBATE.changes(rebate(), 100.0, read)) == close(expected)


@pytest.mark.parametrize("read", [{"left": 15.0}, {"width": 6.9}, {"width": 28.1}])
def test_readings_that_no_rebate_has(read: dict[str, float]) -> None:
    with pytest.raises(InvalidValueError):
        REBATE.changes(rebate(), 100.0, read)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"bit_height": 0.021}, ["raise"]),
        ({"bit_height": -0.021}, ["lower"]),
        ({"fence": 0.021}, ["open"]),
        ({"fence": -0.021, "bit_height": 0.1}, ["raise", "close"]),
        ({"fence": 0.019, "bit_height": -0.019}, ["nothing to change"]),
    ],
)
def test_what_calipers_tell_apart_is_said(changes: dict[str, float], words: list[str]) -> None:
    said = REBATE.told(changes)
    assert len(said) == len(words)
    for text, word in zip(said, words, strict=True):
        assert word in str(text)


@pytest.mark.parametrize(
    ("depth", "expected"),
    [
        (15.1, {"rebate-through"}),
        (14.996, {"rebate-through"}),
        (14.99, {"deep-rebate"}),
        (11.26, {"deep-rebate"}),
        (11.24, set()),
        (6.01, set()),
        (5.99, {"shallow-rebate"}),
    ],
)
def test_what_is_doubtful_about_a_rebate(depth: float, expected: set[str]) -> None:
    """0.75 of 15 is 11.25, 0.4 is 6 (common practice, no source)."""
    assert {one.code for one in REBATE.findings(rebate(depth), "here", BOUNDLESS)} == expected


def test_a_groove_deeper_than_the_rebate_shows() -> None:
    assert REBATE.groove_shows(rebate(), 9.004) is None
    assert REBATE.groove_shows(rebate(), 9.006) is not None
    assert FINGERS.groove_shows(fingers(), 1.0) is not None


# -- boards edge to edge -----------------------------------------------------------------------------------

EDGE = Cutter(mid_depth=10.0, step=3.0, slope=45.0, kind="edge")


def test_a_panel_of_boards() -> None:
    """Every joint takes its overlap off the width: 3 × 100 - 2 × 3 = 294."""
    assert law.board_width(294.0, 3, 3.0) == 100.0
    assert law.board_width(100.0, 1, 3.0) == 100.0
    assert law.overlap(4.0, 5.0, 3.0) == 6.0
    assert law.outer_size(401.9, [(14.6, 11.3), (14.7, 11.3)]) == close(408.6)


def test_boards_in_section() -> None:
    """Boards of 18: height 10 + 18 / 2 = 19, engagement 18; each fence is the step, 3, so they overlap by 3."""
    made = set_corner(EDGE, CornerGeometry(18.0, 18.0))
    joint = joint_of(EDGE)
    assert (made.bit_height, made.engagement, made.fence_flat, made.fence_upright) == close(
        (19.0, 18.0, 3.0, 3.0)
    )
    (overlap,) = joint.spans(made).above
    assert (overlap.start, overlap.end) == close((0.0, 3.0))
    left, *steps = joint.spans(made).left
    assert (left.start, left.end) == close((0.0, 18.0))
    assert steps == []
    far, below, *face = joint.upright_outline(made, 0.0, made.engagement, 60.0)
    assert (far, below) == (close((-57.0, 18.0)), close((-57.0, 0.0)))
    assert min(x for x, _ in face) == close(0.0)
    assert max(x for x, _ in face) == close(3.0)
    assert (face[0][1], face[-1][1]) == close((0.0, 18.0))
    assert joint.upright_outline(made)[0][0] == close(3.0 - 3 * 18.0)
    _, _, *shallow = joint.upright_outline(replace(made, fence_upright=2.0), 0.0, made.engagement, 60.0)
    assert (min(x for x, _ in shallow), max(x for x, _ in shallow)) == close(
        (1.0, 3.0)
    )  # the step is 1 deeper


def test_a_bit_that_is_off_sets_the_faces_off_by_twice_as_much() -> None:
    made = replace(set_corner(EDGE, CornerGeometry(18.0, 18.0)), bit_height=19.1)
    _, step = joint_of(EDGE).spans(made).left
    assert (step.start, step.end) == close((18.0, 18.2))


@pytest.mark.parametrize(
    ("flat", "upright", "expected"),
    [
        (18.0, 18.04, set()),
        (18.0, 17.94, {"boards-differ"}),
        (18.0, 18.06, {"boards-differ"}),
        (20.0, 20.0, set()),
        (20.01, 20.01, {"cutter-too-short"}),
    ],
)
def test_what_is_doubtful_about_boards(flat: float, upright: float, expected: set[str]) -> None:
    made = set_corner(EDGE, CornerGeometry(flat, upright))
    assert {one.code for one in joint_of(EDGE).findings(made, "here", BOUNDLESS)} == expected
