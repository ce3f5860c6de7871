"""One front typed at its height: the others stay, and the rest goes to one of them."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.fresh_entries import with_heights_by
from drawerwright.job.file.front_height_entry import with_front_height
from drawerwright.job.file.reading import entries_of


def heights_of(text: str, bank: int) -> list[float]:
    return [place.height for place in read_job(text).banks[bank].bank.front_places()]


def test_a_bank_of_equal_fronts_keeps_all_others_but_the_lowest() -> None:
    before = heights_of(example_text(), 0)
    text = with_front_height(example_text(), 0, 2, 120, before)
    after = heights_of(text, 0)
    assert after[2] == 120
    assert after[:2] == pytest.approx(before[:2], abs=0.05)
    assert after[3:6] == pytest.approx(before[3:6], abs=0.05)
    assert sum(after) == pytest.approx(sum(before), abs=1e-6)
    assert entries_of(text)["banks"][0]["fronts"]["heights"]["given"][-1] == "rest"
    assert "# above and below, the fronts sit inside the opening" in text


INCHES = """\
format: 1
job: Bench of the instrument maker
units: in
cutter: {mid_depth: 0.222, step: 0.136}
stock:
  half: {nominal: 1/2, sheets: [{length: 96, width: 48}]}
banks:
  - name: chest
    opening: {width: 20, height: 32, depth: 18}
    fronts: {style: inset, reveal: 1/8, heights: {equal: 5}}
    box: {all: half}
"""
"""Five fronts of 6 1/4 in: 32 less six reveals of 1/8, by five."""


def test_what_is_round_in_inches_stays_round() -> None:
    text = with_front_height(INCHES, 0, 2, 7.5, heights_of(INCHES, 0))
    assert entries_of(text)["banks"][0]["fronts"]["heights"]["given"] == [6.25, 6.25, 7.5, 6.25, "rest"]
    assert heights_of(text, 0)[-1] == pytest.approx(5 * 25.4)


def test_one_by_one_begins_with_the_heights_as_they_are() -> None:
    path = ("banks", 0, "fronts", "heights")
    for unit, text in (("mm", example_text()), ("in", INCHES)):
        before = heights_of(text, 0)
        after = heights_of(with_heights_by("given", text, path, before), 0)
        assert after == pytest.approx(before, abs=0.31 if unit == "mm" else 0.01)
    given = with_heights_by("given", INCHES, path, heights_of(INCHES, 0))
    assert entries_of(given)["banks"][0]["fronts"]["heights"]["given"] == [6.25] * 4 + ["rest"]


def test_the_rest_stays_where_it_is() -> None:
    text = with_front_height(example_text(), 1, 4, 200, heights_of(example_text(), 1))
    assert entries_of(text)["banks"][1]["fronts"]["heights"]["given"][3] == "rest"
    again = with_front_height(text, 1, 0, "5 in", heights_of(text, 1))
    assert entries_of(again)["banks"][1]["fronts"]["heights"]["given"][3] == "rest"
    assert heights_of(again, 1)[0] == pytest.approx(127.0)
    own = with_front_height(again, 1, 3, 150, heights_of(again, 1))
    assert entries_of(own)["banks"][1]["fronts"]["heights"]["given"][3:] == [150, "rest"]


def test_an_only_front_has_no_other_to_follow() -> None:
    text = example_text().replace("{equal: 7}", "{equal: 1}")
    with pytest.raises(InvalidValueError, match="the only front of a bank"):
        with_front_height(text, 0, 0, 100, heights_of(text, 0))


def test_there_must_be_such_a_front() -> None:
    with pytest.raises(InvalidValueError, match="no front 9"):
        with_front_height(example_text(), 0, 8, 100, heights_of(example_text(), 0))
