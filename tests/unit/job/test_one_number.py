"""One setting of the machine is one number everywhere: on the terminal, in steps, on cards, pages and in files."""

from __future__ import annotations

import io
import itertools
import re

import pytest
from rich.console import Console

from drawerwright.basics.lengths import LengthStyle
from drawerwright.cli.summary import print_summary
from drawerwright.drawings.setup import draw_passes
from drawerwright.drawings.svg import write_svg
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.setup_cards import setup_cards
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from random_jobs import random_job

STYLES = (LengthStyle(), LengthStyle("in"), LengthStyle("in/64"))
INCHES = "shown: {unit: in}\n"
NO_GAUGE_TELLS = 0.005


def fences_of(draft: JobDraft) -> list[float]:
    return [
        fence for setting in draft.settings.values() for fence in (setting.fence_flat, setting.fence_upright)
    ]


@pytest.mark.parametrize("unit", ["", INCHES])
def test_settings_that_no_gauge_tells_apart_are_one_and_lie_on_marks(unit: str) -> None:
    """0.05 mm from mark to mark where nothing is said, or two thousandths of an inch."""
    mark = 0.05 if not unit else 0.0508
    for seed in range(15):
        draft = draft_job(read_job(random_job(seed) + unit))
        heights = [setting.bit_height for setting in draft.settings.values()]
        for settings in (heights, fences_of(draft)):
            for one, other in itertools.combinations(sorted(set(settings)), 2):
                assert other - one >= NO_GAUGE_TELLS, seed
        readings = [draft.job.table.fence_reading(fence) for fence in fences_of(draft)]
        assert all(
            reading / mark == pytest.approx(round(reading / mark), abs=1e-4) for reading in readings
        ), seed
        assert draft.fences[0].choice.chosen is not None
        assert set(draft.fences[0].choice.chosen.positions) == set(fences_of(draft))
        for setting in draft.settings.values():
            assert abs(setting.lip - setting.corner.lip) <= 0.1 + 1e-6, seed


def shown_for(plan: JobPlan, style: LengthStyle) -> tuple[set[str], set[str]]:
    """Bit heights and fence settings as the corners of a plan have them."""
    settings = plan.draft.settings.values()
    return (
        {style.show(setting.bit_height, fine=True) for setting in settings},
        {style.show(fence, fine=True) for fence in fences_of(plan.draft)},
    )


@pytest.mark.parametrize("seed", [3, 11, 26])
def test_terminal_steps_cards_drawings_and_files_show_the_same_numbers(seed: int) -> None:
    whole = plan_job(read_job(random_job(seed)), time_limit=0.3)
    for style in STYLES:
        plan = whole.shown_in(style)
        heights, fences = shown_for(plan, style)
        steps = " ".join(line for step in plan.run.steps for line in step.lines)
        assert {*re.findall(r"bit height (?:to|at) (.+?)(?: \(gauge|\.(?= |$))", steps)} == heights
        assert {*re.findall(r"the fence to (.+?) \(scale", steps)} == fences
        cards = setup_cards(plan, plan_drawings(plan))
        assert {card.values[0][1] for card in cards} == heights
        assert {card.values[2][1] for card in cards} == fences
        for setup, card in zip(plan.run.setups, cards, strict=True):
            # What the Run page shows beside each step.
            readings = [style.show(value, fine=True) for value in (setup.height_reading, setup.fence_reading)]
            assert [card.values[place][1] for place in (1, 3)] == readings
            drawn = " ".join(write_svg(scene) for scene in draw_passes(setup, style=style))
            assert f"height {style.show(setup.bit_height, fine=True)}" in drawn
        said = io.StringIO()
        print_summary(plan, Console(file=said, width=300))
        table = said.getvalue().split("First cut")[0]
        for setting in plan.draft.settings.values():
            for value in (setting.bit_height, setting.fence_flat, setting.fence_upright):
                assert f" {style.show(value, fine=True, with_unit=False)} " in table
    report = plan_report(whole)
    kept = {setup["fence"] for setup in report["run"]["setups"]}
    assert kept == {corner[name] for corner in report["settings"] for name in ("fence_flat", "fence_upright")}
    used = next(plan for plan in report["fences"][0]["compared"] if plan["used"])
    assert kept == set(used["positions"])
