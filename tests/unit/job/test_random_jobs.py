"""The random jobs that other tests build on: readable, always the same, and of every kind."""

from __future__ import annotations

from collections import Counter

from drawerwright.drawers.bank import FrontStyle
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.runners import RunnerKind
from drawerwright.job.file.building import read_job
from random_jobs import random_entries, random_job


def test_a_seed_gives_one_job_that_can_be_read() -> None:
    texts = [random_job(seed) for seed in range(20)]
    assert texts == [random_job(seed) for seed in range(20)]
    assert all(read_job(text).all_boxes for text in texts)


def test_every_kind_occurs() -> None:
    kinds: Counter[str] = Counter()
    for seed in range(300):
        entries = random_entries(seed)
        banks, boxes = entries.get("banks", []), entries.get("boxes", [])
        kinds[entries["cutter"]["kind"]] += 1
        kinds["two stocks"] += "stout" in entries["stock"]
        kinds["two in one bank"] += any(next(iter(bank["fronts"]["heights"].values())) != 1 for bank in banks)
        kinds["higher front"] += any("front_height" in box for box in boxes)
        kinds["lip"] += any("lip" in box for box in boxes)
        for bank in banks:
            fronts = bank["fronts"]
            kinds[fronts["style"]] += 1
            kinds[bank["runner"]["kind"]] += 1
            kinds[bank.get("bottom", {}).get("style", "no bottom")] += 1
            kinds[bank.get("orientation", "fronts-flat")] += 1
            kinds["pull"] += "pull" in fronts
            kinds[f"{fronts['style']} over the bottom"] += fronts["overlay"].get("bottom", -1) > 0
    wanted = [
        *FrontStyle,
        *RunnerKind,
        *BottomStyle,
        "drawer-lock",
        "lock-mitre",
        "sides-flat",
        "fronts-flat",
    ]
    wanted += ["two stocks", "two in one bank", "higher front", "lip", "pull", "no bottom"]
    wanted += ["applied over the bottom", "lipped over the bottom"]
    assert all(kinds[str(kind)] >= 10 for kind in wanted), kinds
