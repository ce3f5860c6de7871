"""The shopping list of an example, counted by hand from its job file."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from drawerwright.basics.phrases import plain
from drawerwright.job.papers.shopping import EDGING_LOST, ShoppingLine, shopping_lines
from drawerwright.job.planning.job_plan import open_job, plan_job

JOB = Path(__file__).parents[3] / "examples" / "music-school.yaml"


@lru_cache
def lines() -> dict[str, ShoppingLine]:
    plan = plan_job(open_job(JOB), time_limit=0.5)
    return {plain(line.item): line for line in shopping_lines(plan)}


@pytest.mark.parametrize(
    ("item", "quantity"),
    [
        ("wooden runners", "7 pairs"),  # a bank of seven drawers
        ("side-mounted runners", "5 pairs"),  # and one of five
        ("knobs", "7"),
        ("pulls", "5"),
        ("screws for applied fronts", "20"),  # four for each of five fronts, none wider than 600 mm
        (
            "screws for slid bottoms",
            "20",
        ),  # 518.8 mm inside: four spaces of about 150 mm make five screws, five times
    ],
)
def test_what_is_counted(item: str, quantity: str) -> None:
    assert plain(lines()[item].quantity) == quantity


def test_edging_goes_round_five_applied_fronts() -> None:
    """Twice width and height: 588 mm wide, 118 to 180.4 mm high in equal steps (the job file's rule)."""
    run = 5 * 2 * 588.0 + 2 * sum(118.0 + step * 15.6 for step in range(5))
    quantity = plain(lines()["edging 0.6 mm thick"].quantity)
    assert float(quantity.removesuffix(" m")) == pytest.approx(run * (1 + EDGING_LOST) / 1000, abs=0.06)


def test_every_line_says_how_much() -> None:
    assert all(plain(line.quantity) for line in lines().values())
    assert plain(lines()["wood glue"].quantity).endswith(" g")
