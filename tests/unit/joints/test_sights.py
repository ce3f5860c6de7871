"""A number for play or standing proud, and whether anybody saw the corner go home."""

from dataclasses import replace

import pytest
from trial_cases import cut

from drawerwright.joints.sights import clashes, deviation, expected_beside, read_otherwise, unseen

GOES = ("play", 0.2), ("shoulder_gap", 0.2)
SEEN_PLAY, SEEN_PROUD = ("play", None), ("stands_proud", None)
TIGHT = ("play", 0.0), ("stands_proud", 0.0)


@pytest.mark.parametrize("number", GOES)
@pytest.mark.parametrize("seen", [(SEEN_PROUD,), TIGHT, (("stands_proud", 0.3),)])
def test_a_number_for_play_is_held_against_what_was_seen(number, seen):
    (clash,) = clashes((cut(), cut(("roof", 3.0), number, *seen)))
    assert clash.cut == 1
    assert 1 in clash.readings
    assert 0 not in clash.readings
    assert len(clash.readings) == 2


@pytest.mark.parametrize("seen", [(SEEN_PLAY,), TIGHT, (("stands_proud", 0.0),), (("shoulder_gap", 0.3),)])
def test_a_number_for_standing_proud_is_held_against_what_was_seen(seen):
    (clash,) = clashes((cut(("stands_proud", 0.2), *seen),))
    assert clash.readings[0] == 0
    assert len(clash.readings) == 2


@pytest.mark.parametrize(
    "readings",
    [
        (("play", 0.2), SEEN_PLAY),
        (("play", 0.2), ("shoulder_gap", 0.25), ("stands_proud", 0.0)),
        (("stands_proud", 0.2), SEEN_PROUD),
        (("stands_proud", 0.2), ("play", 0.0)),
        (("roof", 3.0), ("lip", 0.2), SEEN_PROUD),
        (("play", 0.05), SEEN_PROUD),  # 0.05 with 0.03 of doubt may be nothing
        TIGHT,
    ],
)
def test_what_agrees_does_not_clash(readings):
    assert clashes((cut(*readings),)) == ()


@pytest.mark.parametrize("kind", ["play", "stands_proud"])
def test_a_number_alone_may_be_the_other(kind):
    cuts = (cut((kind, 0.2), SEEN_PLAY), cut(("roof", 3.0), (kind, 0.2)))
    (doubt,) = unseen(cuts)
    assert doubt.place == (1, 1)
    first, second = read_otherwise(cuts, [doubt])
    assert first == cuts[0]
    assert second.readings[0] == cuts[1].readings[0]
    assert {str(doubt.reading.kind), str(second.readings[1].kind)} == {"play", "stands_proud"}
    assert second.readings[1].value == 0.2


@pytest.mark.parametrize(
    "readings",
    [
        (("roof", 3.0),),
        (SEEN_PLAY,),
        (("play", 0.0),),
        (("play", 0.2), SEEN_PROUD),
        (("play", 0.2), ("stands_proud", 0.0)),
        (("shoulder_gap", 0.2),),
    ],
)
def test_nothing_is_asked_where_somebody_looked(readings):
    assert unseen((cut(*readings),)) == ()


@pytest.mark.parametrize(
    ("reading", "others", "expected"),
    [
        # What is seen to be nothing is held against the number of the same thing; a number against nothing.
        (("play", 0.0), (("shoulder_gap", 0.3),), 0.3),
        (("play", 0.2), (("stands_proud", 0.4),), 0.0),
        (("play", 0.2), (("shoulder_gap", 0.3), SEEN_PROUD), 0.0),
        (SEEN_PROUD, (("play", 0.2),), 0.0),
        (("stands_proud", 0.0), (("stands_proud", 0.4),), 0.4),
    ],
)
def test_what_the_others_say_about_the_same_thing(reading, others, expected):
    one, *rest = cut(reading, *others).readings
    said = expected_beside(one, rest)
    assert said.value == expected
    assert said.uncertainty == min(other.uncertainty for other in rest)


def test_how_far_apart_a_clash_is():
    """The number over both standard uncertainties, 0.2 / √(0.03² + 0.04²) = 4; of two numbers the larger counts."""
    play, proud, other = cut(("play", 0.2), SEEN_PROUD, ("stands_proud", 0.35)).readings
    play, proud, other = (
        replace(one, uncertainty=spread) for one, spread in ((play, 0.03), (proud, 0.04), (other, 0.04))
    )
    assert deviation(play, [proud]) == pytest.approx(4.0)
    assert deviation(proud, [play]) == pytest.approx(4.0)
    assert deviation(play, [other]) == pytest.approx(7.0)
    assert deviation(proud, [other]) == 0.0  # both say that it stays out
