"""Columns made anew: the same parts, never wanting more of the sheets; and the dives that they come from."""

from __future__ import annotations

import json
import random
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from drawerwright.sheets.published.instance import read_instance
from drawerwright.sheets.solver.bars.columns_as_bars import column_bars, put_columns
from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.search.dive import Dive
from drawerwright.sheets.solver.search.refining import Refining

DATA = Path(__file__).parents[4] / "validation" / "data" / "cutting-instances.json"
INSTANCES: dict[str, dict[str, Any]] = {
    entry["name"]: entry for entry in json.loads(DATA.read_text(encoding="utf-8"))
}


def taken(stacks: Sequence[Stack]) -> Counter[int]:
    total: Counter[int] = Counter()
    for stack in stacks:
        total.update(dict(stack.takes))
    return total


def dive(name: str, turn: int) -> tuple[Master, list[Stack]]:
    """A programme with all its columns, and the columns of one dive into it."""
    master = Master(read_instance(INSTANCES[name]).task)
    master.generate(now() + 60, closer=True)
    found: list[Stack] = []

    def collect(stacks: Sequence[Stack], allowed: int | None) -> Sequence[FilledSheet] | None:
        found.extend(stacks)
        return None

    watch = Watch(now() + 60)
    Dive(master, watch, random.Random(turn), collect).run(turn, None, 0, settle=False)
    return master, found


@pytest.mark.parametrize("name", ["ATP48-ne", "A1-ne", "A1r"])
@pytest.mark.parametrize("turn", [0, 3])
def test_a_dive_cuts_every_part_in_columns_that_fit(name: str, turn: int) -> None:
    master, stacks = dive(name, turn)
    task = master.task
    assert all(taken(stacks)[demand] >= count for demand, count in enumerate(task.demand))
    assert all(stack.v <= task.frames[0].width and stack.u <= task.frames[0].length for stack in stacks)


def test_a_dive_leaves_the_programme_as_it_was() -> None:
    master = Master(read_instance(INSTANCES["ATP48-ne"]).task)
    master.generate(now() + 60, closer=True)
    before = master.program.solve()[0]
    Dive(master, Watch(now() + 60), random.Random(1), lambda stacks, allowed: None).run(
        1, None, 0, settle=False
    )
    after = master.program.solve()[0]
    assert after <= before + 1e-6
    assert after >= float(master.bound) / master.mean_cost - 1e-6


def test_columns_made_anew_hold_the_same_parts_and_want_less() -> None:
    master, stacks = dive("A1r", 2)
    refining = Refining(master, random.Random(4))
    parts, total, steps = taken(stacks), refining.total(stacks), 0
    for _ in range(6):
        better = refining.step(stacks, 5.0, lambda: False)
        if better is None:
            continue
        assert taken(better) == parts
        assert refining.total(better) < total
        stacks, total, steps = better, refining.total(better), steps + 1
    assert steps


def test_columns_side_by_side_become_bars_and_sheets_again() -> None:
    master, stacks = dive("A1-ne", 0)
    frame = master.task.frames[0]
    bars = column_bars(frame, 0, Counter(stack.u for stack in stacks))
    assert sum(area * count for area, count in zip(bars.areas, bars.demand, strict=True)) == sum(
        stack.u for stack in stacks
    )
    one_each = [
        FilledSheet(0, (stack,))
        for demand, count in enumerate(bars.demand)
        for stack in [bars.sources[False].bars(frame.length).build({demand: 1})]  # type: ignore[union-attr]
        for _ in range(count)
    ]
    sheets = put_columns(one_each, stacks)
    assert sorted(sheet.stacks[0].u for sheet in sheets) == sorted(stack.u for stack in stacks)
    assert taken([stack for sheet in sheets for stack in sheet.stacks]) == taken(stacks)
