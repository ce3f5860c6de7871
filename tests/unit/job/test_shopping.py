"""The shopping list of an example, counted by hand from its job file."""

from __future__ import annotations

import io
import re
from functools import lru_cache
from pathlib import Path

import pytest
from rich.console import Console

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import plain
from drawerwright.cli.summary import print_summary
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.shopping import (
    EDGING_LOST,
    ShoppingLine,
    shopping_data,
    shopping_lines,
    shopping_table,
)
from drawerwright.job.planning.job_plan import JobPlan, open_job, plan_job

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
        # 518.8 mm inside: four spaces of about 150 mm make five screws, five times; round each of three trays
        # of 268 by 206 mm six
        ("screws for slid bottoms, fixed bottoms", "38"),
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


PRICED = """
prices:
  screws: {price: 5.5, count: 15}
  edging: {price: 18, length: 5000}
  glue: {price: 9.8, grams: 250}
"""


@lru_cache
def priced() -> JobPlan:
    """Pulls at 4.25, runners of 450 at 21 a pair (of 400 at the sheet's 19), and packs."""
    text = JOB.read_text("utf-8") + PRICED
    for old, new in (
        ("pull: {spacing: 128", "pull: {price: 4.25, spacing: 128"),
        ("side-mounted, length: 400", "side-mounted, price: 19, length: 400"),
    ):
        assert old in text
        text = text.replace(old, new)
    return plan_job(read_job(text), time_limit=0.5)


def test_costs_are_those_of_whole_packs_and_of_single_things() -> None:
    """By hand: 38 screws of one length are three boxes of 15, for whatever they are; five pairs and five pulls."""
    found = {plain(line.item): line for line in shopping_lines(priced())}
    assert found["pulls"].cost == pytest.approx(5 * 4.25)
    assert found["side-mounted runners"].cost == pytest.approx(5 * 19.0)
    assert found["screws for slid bottoms, fixed bottoms"].cost == pytest.approx(3 * 5.5)
    assert plain(found["screws for slid bottoms, fixed bottoms"].remark) == "3 boxes of 15"
    metres = float(plain(found["edging 0.6 mm thick"].quantity).removesuffix(" m"))
    assert metres > 5
    assert found["edging 0.6 mm thick"].cost == pytest.approx(-(-metres // 5) * 18)
    grams = int(plain(found["wood glue"].quantity).removesuffix(" g"))
    assert found["wood glue"].cost == pytest.approx(-(-grams // 250) * 9.8)
    assert found["knobs"].cost is None


def test_packet_and_workbook_tell_the_same_list() -> None:
    table, data = shopping_table(priced()), shopping_data(priced())
    names = [column.name for column in data.columns]
    assert [row[0] for row in data.rows] == [row[0] for row in table.rows[:-1]]
    costs = [row[names.index("cost")] for row in data.rows]
    assert plain(table.rows[-1][3]) == f"{sum(float(cost) for cost in costs if cost is not None):.2f}"
    by_item = {plain(str(row[0])): dict(zip(names, row, strict=True)) for row in data.rows}
    assert (by_item["pulls"]["amount"], by_item["pulls"]["price"]) == (5, 4.25)
    assert (by_item["side-mounted runners"]["length"], by_item["side-mounted runners"]["amount"]) == (400, 5)
    assert by_item["screws for slid bottoms, fixed bottoms"]["packs"] == 3


def test_glue_is_told_in_ounces_to_who_reads_inches() -> None:
    """28.35 g to the ounce (international avoirdupois pound of 1959)."""
    table, data = (make(priced().shown_in(LengthStyle("in"))) for make in (shopping_table, shopping_data))
    glue = next(row for row in data.rows if plain(str(row[0])) == "wood glue")
    assert glue[5] == "oz"
    assert glue[4] == pytest.approx(lines()["wood glue"].amount / 28.35, abs=0.06)
    told = next(row[2] for row in table.rows if plain(row[0]) == "wood glue")
    assert LengthStyle("in").say(told) == f"{glue[4]} oz"


def test_the_terminal_keeps_the_decimal_sign_of_prices_and_hours() -> None:
    said = io.StringIO()
    print_summary(priced().shown_in(LengthStyle(decimal_sign=",")), Console(file=said, width=300))
    sheets = said.getvalue().split("Sheets")[1].split("How equal")[0]
    assert re.search(r"\d,\d\d\b", sheets)
    assert not re.search(r"\d\.\d\d\b", sheets)
    assert re.search(r"about \d+,\d h of work", said.getvalue())


def test_what_nobody_priced_costs_nothing_that_is_told() -> None:
    assert all(line.cost is None for line in lines().values() if plain(line.item) in ("pulls", "wood glue"))
    assert lines()["screws for slid bottoms, fixed bottoms"].packs is None
