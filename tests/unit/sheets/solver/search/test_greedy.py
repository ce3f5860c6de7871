"""Plans that fill one sheet after the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import pytest

from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.columns import Band, FilledSheet
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.translation import translate

PROBLEM = SheetProblem(
    "birch 15",
    (SheetSize("2440 × 1220", 2440, 1220),),
    Saw(3.2, 8.0),
    BandRules(14.0, 2, 150.0, 1300.0),
    tuple(
        StripDemand(f"{length} {height}", f"{length}", length, height, 3)
        for length in (310, 365, 402, 448, 520)
        for height in (92, 117, 143, 168, 204)
    ),
)


def are_trimmed(sheets: Sequence[FilledSheet]) -> list[bool]:
    return [
        any(isinstance(band, Band) and band.u < stack.u for stack in sheet.stacks for band in stack.elements)
        for sheet in sheets
    ]


@pytest.mark.parametrize("turns", [0, 2, 5])
def test_in_haste_the_rest_is_planned_without_trimmed_bands(turns: int) -> None:
    """All that is wanted is cut, nothing twice; sheets with trimmed bands come first, as long as there is time."""
    task = translate(PROBLEM).task
    whole = fill_sheets(task, task.areas) or []
    assert any(are_trimmed(whole))
    hastes = iter([False] * turns)
    sheets = fill_sheets(task, task.areas, in_haste=lambda: next(hastes, True), then=task.plain) or []
    held = Counter[int]()
    for sheet in sheets:
        for stack in sheet.stacks:
            held.update(dict(stack.takes))
    assert all(held[demand] == count for demand, count in enumerate(task.demand))
    in_time = next(place for place in range(len(sheets) + 1) if not any(are_trimmed(sheets[place:])))
    assert sheets[:in_time] == whole[:in_time]
    assert in_time <= turns
