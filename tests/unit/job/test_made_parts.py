"""The job changes after cutting began: what is made is held against the plan as it is now."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from drawerwright.cli import main
from drawerwright.drawers.parts import Part
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.made_parts import (
    MadePart,
    Standing,
    compared_parts,
    kept_text,
    made_by,
    of_plan_data,
    read_kept,
)
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(example_text()), time_limit=1)


def made_of(plan: JobPlan) -> tuple[MadePart, ...]:
    """All steps ticked, one after the other, as the page tells them."""
    return read_kept(kept_text(made_by(step.work, plan.parts)) for step in plan.run.steps)


def test_all_steps_make_every_part_as_it_is_listed(plan: JobPlan) -> None:
    made = {part.label: part for part in made_of(plan)}
    assert set(made) == {part.label for part in plan.parts}
    for part in plan.parts:
        assert (made[part.label].length, made[part.label].width) == (part.cut_length, part.cut_width)
        assert bool(made[part.label].ends) == bool(part.ends)
    assert {each.standing for each in compared_parts(made.values(), plan.parts)} == {Standing.FITS}


def test_a_band_that_is_not_ripped_has_no_width_yet(plan: JobPlan) -> None:
    (first, *_) = (
        step for step in plan.run.steps if any(m.width is None for m in made_by(step.work, plan.parts))
    )
    made = made_by(first.work, plan.parts)
    assert all(part.length is not None for part in made)


def standing(text: str, plan: JobPlan) -> dict[str, tuple[Standing, str]]:
    now = draft_job(read_job(text)).parts
    return {each.made.label: (each.standing, each.why or "") for each in compared_parts(made_of(plan), now)}


def test_a_narrower_opening_makes_parts_too_long_and_a_wider_one_too_short(plan: JobPlan) -> None:
    """The first bank's opening becomes 6 narrower: fronts and backs are 6 too long with their ends routed, which is
    less than two ends take; made 6 wider, they are 6 too short. Sides stay as they are."""
    narrow = standing(example_text().replace("{width: 462,", "{width: 456,"), plan)
    assert narrow["A1 front"][0] is narrow["A1 back"][0] is Standing.RECUT
    assert "too long by 6.0 mm: its routed ends would stay" in narrow["A1 front"][1]
    assert narrow["A1 bottom"] == (Standing.CUT_DOWN, "cut 6.0 mm off its length")
    assert narrow["A1 left side"][0] is Standing.FITS
    assert narrow["B1 front"][0] is Standing.FITS
    wide = standing(example_text().replace("{width: 462,", "{width: 468,"), plan)
    assert wide["A1 front"] == (Standing.RECUT, "too short by 6.0 mm")


def test_what_stands_is_too_low_and_what_lies_too_narrow(plan: JobPlan) -> None:
    part = next(each for each in plan.parts if each.label == "A1 front")
    bottom = next(each for each in plan.parts if each.label == "A1 bottom")
    why = []
    for now in (part, bottom):
        made = MadePart(now.label, now.stock.key, now.cut_length, now.cut_width - 3)
        why += [each.why for each in compared_parts([made], [now])]
    assert why == ["too low by 3.0 mm", "too narrow by 3.0 mm"]


def test_a_bottom_lies_and_is_ripped_to_its_width(plan: JobPlan) -> None:
    """It has no upper edge, as a side has."""
    bottom, side = (
        next(each for each in plan.parts if each.label == label) for label in ("A1 bottom", "A1 left side")
    )
    why = []
    for now, longer in ((bottom, 0), (bottom, 2), (side, 0)):
        made = MadePart(now.label, now.stock.key, now.cut_length + longer, now.cut_width + 12.7)
        (compared,) = compared_parts([made], [now])
        why.append(compared.why)
    assert why == [
        "rip 12.7 mm off its width",
        "cut 2.0 mm off its length; rip 12.7 mm off its width",
        "rip 12.7 mm off its upper edge",
    ]


def test_much_longer_parts_lose_their_routed_ends(plan: JobPlan) -> None:
    """40 narrower: 20 go at each end, more than the wood is thick."""
    found = standing(example_text().replace("{width: 462,", "{width: 422,"), plan)["A1 back"]
    assert found == (Standing.CUT_DOWN, "cut off 40.0 mm at both ends, half at each, then rout them")


def test_parts_of_drawers_that_are_gone_are_spare_and_other_stock_is_cut_anew(plan: JobPlan) -> None:
    text = example_text()
    gone = standing(text[: text.index("boxes:")], plan)
    assert gone["Reed tray 1 front"][0] is Standing.SPARE
    other = standing(
        text.replace("bottom: {style: slid, stock: birch6", "bottom: {style: slid, stock: birch15"), plan
    )
    assert other["B1 bottom"] == (Standing.RECUT, "it is now made of birch15")


def test_what_is_kept_may_be_anything() -> None:
    """It comes from a page: what is no list of parts counts for nothing."""
    for text in (
        "",
        "no",
        "7",
        '{"a": 1}',
        "[7]",
        '[["A1 front"]]',
        '[["A1 front", "s", "long", 2, []]]',
        '[["A1 front", "s", NaN, 2, []]]',
        f'[["A1 front", "s", {10**400}, 2, []]]',
        "[" * 99_999,
    ):
        assert read_kept([text]) == ()


def now_of(job: Path) -> tuple[Part, ...]:
    return draft_job(read_job(job.read_text())).parts


def test_the_command_says_the_same(plan: JobPlan, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "plan.json").write_text(json.dumps(plan_report(plan)))
    job = tmp_path / "job.yaml"
    job.write_text(example_text().replace("{width: 462,", "{width: 456,"))
    page = {each.made.label: (each.standing, each.why) for each in compared_parts(made_of(plan), now_of(job))}
    paper = {
        each.made.label: (each.standing, each.why)
        for each in compared_parts(
            of_plan_data(json.loads((tmp_path / "plan.json").read_text())), now_of(job)
        )
    }
    assert page == paper
    given = ["made", str(job), "--as", str(tmp_path / "plan.json"), "--only", "A1 bottom", "A1 left side"]
    assert main(given) == 0
    said = capsys.readouterr().out
    assert "A1 bottom: cut it down: cut 6.0 mm off its length" in said
    assert "1 of 2 parts still fit." in said
    assert main([*given[:-1], "A1 left"]) == 2
    assert (
        "no part 'A1 left': name it as on the parts list, for instance A1 left side"
        in capsys.readouterr().err
    )
    (tmp_path / "plan.json").write_text("[]")
    assert main(given) == 2
