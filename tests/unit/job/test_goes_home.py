"""Play and standing proud look alike on the calipers: the eye has to say which it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.job.test_cuts.correcting import (
    correct_trial,
    correction_data,
    correction_text,
    next_cut_words,
)
from drawerwright.job.test_cuts.goes_home import home_questions
from drawerwright.job.test_cuts.trial_reading import Trial, read_trial

HEAD = """
format: 1
trial: Drawer of the band room
cutter: {kind: drawer-lock, mid_depth: 6.00 ± 0.08, step: 3.50 ± 0.08, slope: 45 ± 0}
machine:
  router_table: {height_gauge_offset: 0 ± 0.1, fence_gauge_offset: 0 ± 0.1, repeatability: 0.02}
wanted: {flat: 15.0, upright: 15.0}
cuts:
"""
CUT = "  - {height_shown: 12.00, fence_shown: 9.25, "
NUMBERS = {"play": "stands_proud", "stands_proud": "play"}


def trial(*cuts: str) -> Trial:
    return read_trial(HEAD + "\n".join(CUT + cut + "}" for cut in cuts))


def asked(*cuts: str):
    found = trial(*cuts)
    return home_questions(found, correct_trial(found))


@pytest.mark.parametrize(("written", "other"), NUMBERS.items())
def test_a_number_alone_is_asked_about_and_both_answers_are_there(written: str, other: str) -> None:
    (question,) = asked(f"readings: {{{written}: 0.2}}")
    as_other = correct_trial(trial(f"readings: {{{other}: 0.2}}"))
    assert question.cut == 1
    assert question.is_open
    assert question.otherwise is not None
    assert question.otherwise.next_cut == as_other.next_cut
    # Law: 0.2 mm of play is 0.2 mm too low, 0.2 mm proud at 45 degrees is 0.2 mm too high.
    apart = correct_trial(trial(f"readings: {{{written}: 0.2}}")).next_cut.height_shown
    assert abs(apart - question.otherwise.next_cut.height_shown) == pytest.approx(0.4, abs=0.03)


@pytest.mark.parametrize("written", NUMBERS)
def test_nothing_is_promised_before_somebody_looked(written: str) -> None:
    alone, seen = f"readings: {{{written}: 0.2}}", "play" if written == "play" else "proud"
    found = trial(alone)
    correction = correct_trial(found)
    (promise, *_) = next_cut_words(correction, home_questions(found, correction))
    assert promise.startswith("If cut 1 goes home" if written == "play" else "If cut 1 does not go home")
    text = correction_text(found, correction)
    assert "Does the corner of cut 1 go home by hand?" in text
    assert "seen: play" in text
    assert "For the job file, if cut 1" in text
    looked = trial(f"{alone}, seen: {seen}")
    (promise, *_) = next_cut_words(correct_trial(looked), home_questions(looked, correct_trial(looked)))
    assert promise.startswith("The next cut gets both fit and lip right")


@pytest.mark.parametrize("seen", ["play", "tight", "proud", "closes"])
@pytest.mark.parametrize("written", NUMBERS)
def test_whatever_was_seen_answers_the_question(written: str, seen: str) -> None:
    assert asked(f"readings: {{{written}: 0.2}}, seen: {seen}") == ()


@pytest.mark.parametrize(
    ("written", "seen"),
    [("play", "proud"), ("play", "tight"), *(("stands_proud", seen) for seen in ("play", "tight", "closes"))],
)
@pytest.mark.parametrize("size", [0.08, 0.3])
def test_what_was_seen_counts_against_the_number(written: str, seen: str, size: float) -> None:
    """Also where it is small: calipers good to 0.03 mm say that 0.08 mm is not nothing."""
    found = trial(f"readings: {{{written}: {size}}}, seen: {seen}")
    data = correction_data(found, correct_trial(found))
    assert {one["reading"] for one in data["contradictions"]} >= {written}
    assert all(
        reading["left_out"] for reading in data["cuts"][0]["readings"] if reading["reading"] == written
    )
    (advice,) = data["to_find_out"]
    assert "press the corner home by hand" in advice
    assert data["goes_home"] == []


@pytest.mark.parametrize(
    ("written", "seen"), [("play", "play"), ("stands_proud", "proud"), ("play", "closes")]
)
def test_what_was_seen_as_the_number_says_changes_nothing(written: str, seen: str) -> None:
    alone, looked = (
        correct_trial(trial(f"readings: {{{written}: 0.2}}{more}")) for more in ("", f", seen: {seen}")
    )
    assert looked.disagreement.suspects == ()
    assert looked.next_cut.height_shown == pytest.approx(alone.next_cut.height_shown, abs=0.01)


def test_other_readings_may_answer_as_well_and_then_the_odds_stand() -> None:
    """The roof says that the bit stood 0.3 mm low, and both pieces were cut by a cutter known to 0.01 mm."""
    found = trial("readings: {play: 0.3, roof: 3.3}")
    known = replace(found.cutter, mid_depth=replace(found.cutter.mid_depth, uncertainty=0.01))
    found = replace(found, cutter=known)
    correction = correct_trial(found)
    (question,) = home_questions(found, correction)
    assert not question.is_open
    assert next_cut_words(correction, (question,))[0].startswith("The next cut gets both fit and lip right")
    assert "rule out standing proud" in correction_text(found, correction)


def test_a_number_that_agrees_only_as_the_other_is_said_so() -> None:
    """The same low bit, and a length that can only be play is written down as standing proud."""
    found = trial("readings: {stands_proud: 0.3, roof: 3.3}")
    known = replace(found.cutter, mid_depth=replace(found.cutter.mid_depth, uncertainty=0.01))
    found = replace(found, cutter=known)
    correction = correct_trial(found)
    (question,) = home_questions(found, correction)
    assert question.is_ruled_out
    assert question.otherwise is not None
    assert "point to play, not to standing proud" in correction_text(found, correction)


def test_every_cut_is_asked_about_and_the_last_says_what_hangs_on_it() -> None:
    """Two numbers that nobody looked at bear each other out either way; one that was looked at decides."""
    questions = asked("readings: {play: 0.2}", "readings: {play: 0.21}")
    assert [(question.cut, question.is_open) for question in questions] == [(1, False), (2, True)]
    (question,) = asked("readings: {play: 0.2}, seen: play", "readings: {play: 0.21}")
    assert (question.cut, question.is_open) == (2, False)


def test_the_data_name_the_question_and_what_to_dial_in_otherwise() -> None:
    found = trial("readings: {play: 0.2}")
    data = correction_data(found, correct_trial(found))
    (question,) = data["goes_home"]
    assert (question["cut"], question["reading"], question["could_be"]) == (1, "play", "stands_proud")
    assert question["odds_hold"] is False
    assert question["otherwise_dial_in"]["height"] == pytest.approx(11.73, abs=0.02)
    assert data["findings"][0]["code"] == "goes-home-unseen"
