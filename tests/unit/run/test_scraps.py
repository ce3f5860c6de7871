"""A test cut names the stock of its scraps, and the scrap that a later set-up is tried with."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.drawers.parts import Role
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.scraps import Scraps

EXAMPLES = Path(__file__).parents[3] / "examples"
SCHOOL = (EXAMPLES / "music-school.yaml").read_text("utf-8")


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(SCHOOL.replace("plan: fewest", "plan: tooth")), time_limit=0.3)


def test_each_scrap_is_of_a_stock_that_is_cut_there(plan: JobPlan) -> None:
    for setup in plan.run.setups:
        scraps = Scraps.of(setup, plan.run.setups)
        cut = {(each.role, each.family.stock.name) for each in setup.passes}
        assert {(role, name) for role, names in scraps.stocks for name in names} == cut
        assert "birch15" in str(scraps.words[0])


def test_halves_of_a_corner_are_kept_and_tried_together(plan: JobPlan) -> None:
    """With the tooth alone on the uprights, flat and upright pieces have set-ups of their own."""
    scraps = {setup.number: Scraps.of(setup, plan.run.setups) for setup in plan.run.setups}
    assert any(each.kept_for for each in scraps.values())
    for number, each in scraps.items():
        assert all(number in scraps[later].mated_with for later in each.kept_for)
        assert all(number in scraps[earlier].kept_for for earlier in each.mated_with)
    first = next(each for each in scraps.values() if each.kept_for)
    assert any("Keep the scrap" in str(line) for line in first.words)


def test_a_corner_that_is_made_at_one_setting_keeps_nothing() -> None:
    plan = plan_job(read_job((EXAMPLES / "repair-bench.yaml").read_text("utf-8")), time_limit=0.3)
    (setup,) = plan.run.setups
    scraps = Scraps.of(setup, plan.run.setups)
    assert (scraps.kept_for, scraps.mated_with) == ((), ())
    assert scraps.stocks == ((Role.FLAT, ("birch half",)), (Role.UPRIGHT, ("birch half",)))
