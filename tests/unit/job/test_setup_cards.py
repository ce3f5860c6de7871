"""The set-up cards: the letters of the drawing and those of the table of readings are the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.drawings.scene import Layer
from drawerwright.job.drawing import plan_drawings
from drawerwright.job.planning import JobPlan, open_job, plan_job
from drawerwright.job.setup_cards import setup_cards

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(open_job(EXAMPLE))


def test_each_reading_of_the_table_is_lettered_in_the_drawing(plan: JobPlan) -> None:
    cards = setup_cards(plan, plan_drawings(plan))
    assert len(cards) == 2
    for card, pieces in zip(cards, (("flat", "upright"), ("flat",)), strict=True):
        assert card.pieces is not None
        assert card.targets is not None
        drawn = sorted(t.text for t in card.pieces.scene.texts if t.layer is Layer.DIMENSION)
        assert drawn == sorted({row[0] for row in card.targets.rows})
        named = [t.text for t in card.pieces.scene.texts if t.bold]
        assert named == [f"{piece} piece" for piece in pieces], "only what is cut in this set-up"
