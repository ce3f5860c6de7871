"""Drawers of random jobs, put together from cut sizes, grooves and joint cuts alone (tests/virtual_drawers.py)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.runner_cuts import NOTHING_CUT
from drawerwright.job.planning.draft import JobDraft
from random_jobs import random_entries
from virtual_drawers import drafted, drafted_of, flaws_of

CHUNK = 20


@pytest.mark.parametrize("first", range(0, 60, CHUNK))
def test_what_is_cut_goes_together(first: int) -> None:
    """Nothing overlaps, bottoms lie in grooves, joints are home, reveals and clearances are kept, drawers pull out.
    Source: geometry alone; `tests/virtual_drawers.py` puts the boxes together from cut sizes, grooves and cuts, and
    shares no formula with the plan.
    """
    found = {
        seed: [str(flaw) for flaw in flaws_of(random_entries(seed), drafted(seed))]
        for seed in range(first, first + CHUNK)
    }
    assert not {seed: flaws for seed, flaws in found.items() if flaws}


def test_fronts_that_cover_unequally_go_together() -> None:
    """Fronts that are part of the box stand further beyond one side than beyond the other. Source: geometry alone, as
    above.
    """
    found, styles = {}, set()
    for seed in range(24):
        entries = random_entries(seed)
        uneven = [bank for bank in entries.get("banks", []) if bank["fronts"]["style"] != "applied"]
        for number, bank in enumerate(uneven):
            overlay, edge = bank["fronts"]["overlay"], ("left", "right")[(seed + number) % 2]
            overlay[edge] = overlay.get("sides", -bank["fronts"]["reveal"]) - 1.5
            bank.pop("orientation", None)
            styles.add(bank["fronts"]["style"])
        if uneven:
            found[seed] = [str(flaw) for flaw in flaws_of(entries, drafted_of(entries))]
    assert styles == {"inset", "lipped"}
    assert not {seed: flaws for seed, flaws in found.items() if flaws}


def changed(draft: JobDraft, **change: object) -> JobDraft:
    """The same job with other boxes behind its fronts."""
    job = draft.job
    boxes = [replace(drawer.box, **change) for drawer in draft.assembled]  # type: ignore[arg-type]
    return replace(draft, assembled=tuple(assemble(box, job.cutters[0].heights) for box in boxes))


def some_seed(wanted: object) -> int:
    """The first job whose only drawers are in one bank, and of this kind."""
    for seed in range(300):
        entries = random_entries(seed)
        banks = entries.get("banks", [])
        if len(banks) == 1 and not entries.get("boxes") and wanted(banks[0]):  # type: ignore[operator]
            return seed
    raise AssertionError


def is_lipped(bank: dict[str, object]) -> bool:
    fronts, bottom = bank["fronts"], bank.get("bottom")
    captured = bottom is not None and bottom["style"] == BottomStyle.CAPTURED  # type: ignore[index]
    return bool(fronts["style"] == "lipped" and captured)  # type: ignore[index]


def test_the_checks_can_fail() -> None:
    """Each way in which a plan could be wrong is seen. Source: none needed; a plan that was right is spoilt by hand,
    one measure at a time.
    """
    seed = some_seed(is_lipped)
    entries, draft = random_entries(seed), drafted(seed)
    assert not list(flaws_of(entries, draft))

    def seen(**change: object) -> str:
        return "; ".join(str(flaw) for flaw in flaws_of(entries, changed(draft, **change)))

    box: DrawerBox = draft.assembled[0].box
    assert box.bottom is not None
    assert "reveal above" in seen(front_below=0.0)
    assert "box off the middle" in seen(width=box.width + 0.02)
    assert "room above the box" in seen(height=box.height + 0.01)
    assert "room behind the box" in seen(depth=box.depth + 0.01)
    assert "bottom not as deep" in seen(bottom=replace(box.bottom, clearance=box.bottom.clearance - 0.01))
    assert "bottom at another height" in seen(bottom=replace(box.bottom, groove_height=30.0))


@pytest.mark.parametrize(
    ("name", "by", "flaw"),
    [
        ("fence_flat", 0.08, "not to the inside"),
        ("fence_flat", -0.08, "take the same room"),
        ("bit_height", 0.02, "not home"),  # within the wanted play, and the sides are short of the deeper cut
        ("bit_height", 0.3, "take the same room"),  # beyond it the slopes meet
        ("bit_height", -0.02, "take the same room"),
    ],
)
def test_a_machine_set_off_is_seen(name: str, by: float, flaw: str) -> None:
    """The lengths follow the setting that was meant, and the cuts another one, by more than the job allows. Source:
    geometry alone, as above.
    """
    entries = random_entries(some_seed(is_lipped))
    entries["machine"]["router_table"] |= {"height_gauge_step": 0.001, "fence_gauge_step": 0.001}
    entries["fences"]["flushness"] = 0.0
    draft = drafted_of(entries)
    assert draft.job.cutters[0].cutter.kind == "drawer-lock"
    assert not list(flaws_of(entries, draft))
    settings = {
        key: replace(setting, **{name: getattr(setting, name) + by})
        for key, setting in draft.settings.items()
    }
    found = "; ".join(str(each) for each in flaws_of(entries, replace(draft, settings=settings)))
    assert flaw in found


def test_a_back_that_is_not_notched_is_seen() -> None:
    """Source: geometry alone; a runner is drawn through the drawer as its sheet says."""

    def is_notched(bank: dict[str, object]) -> bool:
        captured = bank.get("bottom", {}).get("style") == BottomStyle.CAPTURED  # type: ignore[attr-defined]
        return captured and "notch" in bank["runner"]  # type: ignore[operator]

    seed = some_seed(is_notched)
    entries, draft = random_entries(seed), drafted(seed)
    assert not list(flaws_of(entries, draft))
    spoilt = changed(draft, rear=NOTHING_CUT)
    assert "wood in the runner's way" in "; ".join(str(flaw) for flaw in flaws_of(entries, spoilt))
