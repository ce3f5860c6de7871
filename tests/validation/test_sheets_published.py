"""Published cutting instances: never worse than the best known value, never a bound above a proven one.

Instances and values: tests/validation/data/cutting-instances.json, each with its source; values marked
`computed` in the data were computed with HiGHS for this project, the others read in the source named.
The complete families run in benchmarks/sheets_bars.py.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from drawerwright.sheets.published.instance import solve_instance
from drawerwright.sheets.referee.published_patterns import check_patterns

INSTANCES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parent / "data" / "cutting-instances.json").read_text(encoding="utf-8")
)
SECONDS = 90.0
"""A limit that only a stuck search reaches, on a busy machine too: most instances need a fraction of a second, the
hardest a few."""
COST_GAP = 0.003
"""Several sheet sizes: best known values of the literature are not proven, 0.3 % is the bar."""


def named(instance: dict[str, Any]) -> str:
    return f"{instance['family']}:{instance['name']}"


@pytest.mark.parametrize("instance", [x for x in INSTANCES if x["objective"] != "min_cost"], ids=named)
def test_value_matches_the_best_known_and_the_referee_accepts(instance: dict[str, Any]) -> None:
    """Source: each instance names that of its data and of its best known value (`cutting-instances.json`)."""
    known = instance["best_known"]
    result = solve_instance(instance, time_limit=SECONDS)
    assert check_patterns(instance, result.value, result.patterns) == []
    assert result.value <= known["value"]
    assert result.lower_bound <= result.value
    if known["proven"]:
        assert result.proven
        assert result.value == result.lower_bound == known["value"]


@pytest.mark.parametrize("instance", [x for x in INSTANCES if x["objective"] == "min_cost"], ids=named)
def test_cost_comes_within_the_bar_of_the_best_known(instance: dict[str, Any]) -> None:
    """Source: each instance names that of its data and of its best known value (`cutting-instances.json`)."""
    known = instance["best_known"]
    result = solve_instance(instance, time_limit=1.0)
    assert check_patterns(instance, result.value, result.patterns) == []
    assert result.value <= known["value"] * (1 + COST_GAP)
    assert result.lower_bound <= known["value"]


BETTER = json.loads((Path(__file__).parent / "data" / "better-than-known.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("entry", BETTER, ids=lambda entry: named(entry["instance"]))
def test_a_stored_layout_beats_the_best_known_value(entry: dict[str, Any]) -> None:
    """The layout itself is the proof of the value: the independent check needs no planner. Source of the value that is
    beaten: named with each instance (`better-than-known.json`).
    """
    instance, answer = entry["instance"], entry["answer"]
    assert check_patterns(instance, answer["value"], answer["patterns"]) == []
    assert answer["value"] < instance["best_known"]["value"]
    assert check_patterns(instance, answer["value"], answer["patterns"][1:]) != []
