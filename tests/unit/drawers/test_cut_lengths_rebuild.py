"""Cut lengths put together make the outer size that was asked for, within the step in which they are cut.

Drawers are those of `random_jobs`; what a plain box has to measure is read from its entries. A joint takes from each
upright piece as much as it does not reach into the flat one (docs/law.md, written down here a second time).
"""

from __future__ import annotations

import pytest

from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.parts import PartKind
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.joints.corner_key import Orientation
from random_jobs import random_entries, text_of

SEEDS = range(24)
STEPS = (0.1, 0.5, 1.0, 25.4 / 16, 0.005 * 25.4)
ROUNDING = 1e-6


@pytest.mark.parametrize("seed", SEEDS)
def test_cut_lengths_rebuild_the_outer_size_within_the_step(seed: int) -> None:
    entries = random_entries(seed)
    job = read_job(text_of(entries))
    draft = draft_job(job)
    wanted = {
        name: (entry["outer"]["width"], entry["outer"]["depth"])
        for entry in entries.get("boxes", ())
        for name in (
            [entry["name"]]
            if entry.get("count", 1) == 1
            else [f"{entry['name']} {number}" for number in range(1, entry["count"] + 1)]
        )
    }
    assert draft.assembled
    for step in STEPS:
        for box in job.all_boxes:
            drawer = assemble(box, job.heights_of(box), step)
            width, depth = wanted.get(box.name, (box.width, box.depth))
            front, back, side = (drawer[kind].part for kind in (PartKind.FRONT, PartKind.BACK, PartKind.LEFT))
            left_over = [  # what each upright piece lacks to the outer face of the flat one
                flat - draft.made[corner.key].engagement
                for corner, flat in zip(
                    box.corners[::2],
                    (box.side.thickness.value,) * 2
                    if box.orientation is Orientation.SIDES_FLAT
                    else (box.front.thickness.value, box.back.thickness.value),
                    strict=True,
                )
            ]
            if box.orientation is Orientation.SIDES_FLAT:
                rebuilt = [
                    (front.cut_length + 2 * left_over[0], width),
                    (back.cut_length + 2 * left_over[1], width),
                    (side.cut_length, depth),
                ]
            else:
                rebuilt = [
                    (front.cut_length - sum(box.lips), width),
                    (back.cut_length, width),
                    (side.cut_length + sum(left_over), depth),
                ]
            for got, asked in rebuilt:
                assert abs(got - asked) <= step / 2 + ROUNDING, (box.name, step, got, asked)
