"""Drawers of a bank that carry something else than the rest, or have another joint."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawers.duty import Contents, Use
from drawerwright.job.file.building import read_job
from drawerwright.job.file.cutter_entries import call_cutter, remove_cutter
from drawerwright.job.file.joint_entries import take_joint
from drawerwright.job.file.single_drawer_entries import with_single_drawer

CHEST = """\
format: 1
job: Chest
cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}
stock: {birch: {nominal: 15, sheets: [{length: 2400, width: 1200}]}}
banks:
  - name: Scores
    count: 2
    opening: {width: 500, height: 600, depth: 450}
    fronts: {style: inset, heights: {equal: 4}, false_fronts: [1]}
    box: {all: birch}
    load: 4
    use: daily
    single_drawers:   # the low ones
      - {number: 4, load: 30, use: heavy, joint: finger}
      - {number: 3, contents: paper}
  - name: Parts
    like: Scores
    fronts: {heights: {equal: 5}}
"""
ROW = ("banks", 0, "single_drawers", 1)


def faults(text: str) -> list[str]:
    with pytest.raises(FaultyInputError) as told:
        read_job(text)
    return [str(fault) for fault in told.value.faults]


def test_a_single_drawer_says_where_it_differs() -> None:
    job = read_job(CHEST)
    for bank in job.banks:  # both copies, and the bank that is like them
        rest, paper, full = bank.boxes[:3]
        assert (rest.duty.load, rest.duty.use, rest.joint) == (4.0, Use.DAILY, "drawer-lock")
        assert (paper.duty.load, paper.duty.contents, paper.duty.use) == (None, Contents.PAPER, Use.DAILY)
        assert (full.duty.load, full.duty.use, full.joint) == (30.0, Use.HEAVY, "finger")
    assert [box.name for box in job.banks[2].boxes] == ["C2", "C3", "C4", "C5"]


@pytest.mark.parametrize(
    ("was", "wrong", "words"),
    [
        ("number: 3", "number: 1", "number: is 1, but the bank has no such drawer: it has 2, 3, 4"),
        ("number: 3", "number: 9", "number: is 9, but the bank has no such drawer"),
        ("number: 3", "number: 4", "number: is 4 a second time"),
        ("contents: paper", "contents: paper, load: 3", "contents: is given as well as 'load'"),
        ("contents: paper", "cutter: other", "cutter: there is no cutter 'other'"),
        ("contents: paper", "cutter: cutter, joint: rebate", "joint: is given as well as 'cutter'"),
    ],
)
def test_a_fault_says_where_it_stands(was: str, wrong: str, words: str) -> None:
    own = CHEST.split("  - name: Parts")[0]
    (fault,) = faults(own.replace(was, wrong))
    assert f"banks[1].single_drawers[2].{words}" in fault


def test_a_job_whose_banks_have_fingers_needs_a_cutter_for_the_one_that_names_it() -> None:
    fingers = CHEST.replace("    use: daily\n", "    joint: finger\n").replace(
        "joint: finger}", "cutter: cutter}"
    )
    assert read_job(fingers).banks[0].boxes[2].joint == "drawer-lock"
    without = fingers.replace("cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}\n", "")
    assert any("cutter: is missing" in fault for fault in faults(without))


def test_a_cutter_is_renamed_and_kept_where_a_single_drawer_names_it() -> None:
    named = CHEST.replace("contents: paper", "cutter: cutter").replace(
        "cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}",
        "cutters: {cutter: {mid_depth: 5.6, step: 3.4}, other: {mid_depth: 5, step: 3}}",
    )
    named = named.replace("    use: daily\n", "    cutter: other\n")
    assert "{number: 3, cutter: lock}" in call_cutter(named, "cutter", "lock")
    with pytest.raises(Exception, match="Scores uses it"):
        remove_cutter(named, "cutter")


def test_a_drawer_has_a_load_or_what_fills_it_a_joint_or_a_cutter() -> None:
    assert "{number: 3, load: 5}" in with_single_drawer(CHEST, (*ROW, "load"), 5)
    lock = with_single_drawer(CHEST, ("banks", 0, "single_drawers", 0, "cutter"), "cutter")
    assert "{number: 4, load: 30, use: heavy, cutter: cutter}" in lock


def test_without_its_number_a_drawer_is_as_the_rest() -> None:
    one = with_single_drawer(CHEST, (*ROW, "number"), None)
    assert "contents" not in one
    none = with_single_drawer(one, ("banks", 0, "single_drawers", 0, "number"), None)
    assert "single_drawers" not in none
    assert "load: 4\n" in none


def test_a_list_taken_over_from_another_bank_becomes_its_own() -> None:
    changed = with_single_drawer(CHEST, ("banks", 1, "single_drawers", 1, "load"), 7)
    job = read_job(changed)
    assert job.banks[0].boxes[1].duty.load is None
    assert job.banks[2].boxes[1].duty.load == 7.0
    assert job.banks[2].boxes[2].joint == "finger"


def test_a_joint_for_some_drawers_of_a_bank_stands_with_them_alone() -> None:
    both = take_joint(CHEST, ["A3", "B3"], "rebate")
    assert "{number: 3, contents: paper, joint: rebate}" in both
    assert take_joint(CHEST, ["A3"], "rebate") == CHEST  # its copy would change with it
    fresh = take_joint(CHEST, ["C5", "C2"], "finger")
    assert [box.joint == "finger" for box in read_job(fresh).banks[2].boxes] == [True, False, True, True]


def test_a_joint_for_a_whole_bank_takes_the_place_of_those_of_its_drawers() -> None:
    every = [f"{mark}{number}" for mark in "AB" for number in range(1, 5)]
    rebated = take_joint(CHEST, every, "rebate")
    assert {box.joint for box in read_job(rebated).banks[0].boxes} == {"rebate"}
    assert "{number: 4, load: 30, use: heavy}" in rebated
