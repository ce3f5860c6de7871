"""From the example's parts to set-ups and the order of work."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.drawers.parts import PartKind, Role
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.setup_cards import setup_cards
from drawerwright.job.planning.job_plan import JobPlan, open_job, plan_job
from drawerwright.joints.joint import expected_readings
from drawerwright.run.cautions import cautions
from drawerwright.run.times import Rates, routing_effort
from drawerwright.run.work import Rout

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"
MITRED = """\
format: 1
job: Tea box
cutter: {kind: lock-mitre, mid_depth: 11.4, step: 14.08, slope: 45}
stock:
  oak: {nominal: 14, measured: [[14.08]], sheets: [{length: 2000, width: 300}]}
boxes:
  - {name: Tea, outer: {width: 300, depth: 200, height: 90}, box: {all: oak}}
"""


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(open_job(EXAMPLE))


def test_every_routed_end_is_cut_once_in_its_set_up(plan: JobPlan) -> None:
    """Each end of each part gets its corner's bit height and fence, in exactly one set-up."""
    settings = {corner.key: corner.setting for corner in plan.corners}
    for part in plan.parts:
        for index, end in enumerate(part.ends):
            setting = settings[end.corner]
            wanted = setting.fence_flat if end.role is Role.FLAT else setting.fence_upright
            hits = [
                setup
                for setup in plan.run.setups
                for cut in setup.passes
                if part in cut.family.parts
                and cut.edges in ("both edges", part.end_names[index].replace("end", "edge"))
                and setup.fence == pytest.approx(wanted, abs=0.006)
                and setup.bit_height == pytest.approx(setting.bit_height, abs=0.006)
            ]
            assert len(hits) == 1, part.label


def test_no_set_up_is_visited_twice(plan: JobPlan) -> None:
    places = [(round(s.bit_height, 2), round(s.fence, 2)) for s in plan.run.setups]
    assert len(set(places)) == len(places)
    numbers = [step.setup for step in plan.run.steps if step.setup is not None]
    assert numbers == sorted(numbers)


def test_flat_bands_come_before_upright_ones_and_ripping_after_both(plan: JobPlan) -> None:
    titles = [step.title for step in plan.run.steps]
    rip = next(i for i, title in enumerate(titles) if title.startswith("Rip the bands"))
    routs = [i for i, title in enumerate(titles) if title.startswith("Rout")]
    grooves = [i for i, title in enumerate(titles) if "groove" in title]
    glue = next(i for i, title in enumerate(titles) if title.startswith("Glue"))
    assert max(routs) < rip < min(grooves) < glue
    for setup in plan.run.setups:
        mine = [step.title for step in plan.run.steps if step.setup == setup.number and "Rout" in step.title]
        assert mine == sorted(mine, key=lambda title: "upright" in title)


def test_gauge_offsets_are_dialled_in(plan: JobPlan) -> None:
    for setup in plan.run.setups:
        assert setup.height_reading - setup.bit_height == pytest.approx(0.05)


def test_demand_is_met_exactly(plan: JobPlan) -> None:
    cut: Counter[str] = Counter()
    for stock in plan.stocks:
        for layout in stock.sheets.layouts:
            cut.update(
                stock.blanks.part(strip.key, strip.number).label
                for band in layout.bands
                for strip in band.strips
            )
            cut.update(stock.blanks.part(part.key, part.number).label for part in layout.loose)
    assert cut == Counter(part.label for part in plan.parts)


def test_bands_save_passes(plan: JobPlan) -> None:
    effort = plan.run.effort
    routed = sum(part.kind not in (PartKind.BOTTOM, PartKind.APPLIED_FRONT) for part in plan.parts)
    deep = 7  # the lipped fronts of the first bank: 9.05 and the lip of 7.5 is more than a pass of 12 takes
    assert effort.by_parts.passes == 2 * (routed + deep)
    assert effort.by_bands.passes < effort.by_parts.passes / 3
    assert effort.by_bands.metres == pytest.approx(
        sum(cut.routed_length for setup in plan.run.setups for cut in setup.passes) / 1000
    )


def test_rates_are_editable() -> None:
    slow, quick = Rates(router_pass=1, feed_m_per_min=1), Rates(router_pass=0, feed_m_per_min=4)
    assert routing_effort(4, 2000, slow).minutes == pytest.approx(4 + 2)
    assert routing_effort(4, 2000, quick).minutes == pytest.approx(0.5)


def test_a_deep_cut_takes_more_passes_on_card_and_in_step(plan: JobPlan) -> None:
    """At most 12 mm in a pass (common practice, no source); a flush corner is cut 9.05 deep, a lipped one 16.55."""
    joint = plan.run.setups[0].passes[0].joint
    assert [joint.passes_at(depth) for depth in (3.0, 12.0, 12.1, 16.55, 24.0, 24.1)] == [1, 1, 2, 2, 2, 3]
    cards = setup_cards(plan, plan_drawings(plan))
    for setup, card in zip(plan.run.setups, cards, strict=True):
        times = 1 if setup.fence < 12 else 2
        assert {cut.times for cut in setup.passes} == {times}
        assert any(note.startswith(f"{times} pass") for note in map(str, card.notes)), card.notes
    assert {setup.fence > 12 for setup in plan.run.setups} == {True, False}
    said = [str(line) for step in plan.run.steps for line in step.lines]
    assert any(line.startswith("Reach the full depth in 2 passes: packing on the fence") for line in said)


def test_a_lock_mitre_is_cut_in_two_passes() -> None:
    """It takes the whole end of the wood, as deep as the stock is thick: one pass of 14 mm is too much for a large
    cutter (common practice, no source). Cards, steps and times say the same."""
    mitred = plan_job(read_job(MITRED), time_limit=1.0)
    effort, setups = mitred.run.effort, mitred.run.setups
    edges = [cut.edges.how_many * len(cut.bands) for setup in setups for cut in setup.passes]
    assert effort.by_bands.passes == 2 * sum(edges)
    assert effort.by_parts.passes == 4 * 2 * 2  # four parts with two ends each
    routed = sum(
        step.minutes for step in mitred.run.steps if any(isinstance(work, Rout) for work in step.work)
    )
    assert routed == pytest.approx(effort.by_bands.minutes)
    for setup, card in zip(setups, setup_cards(mitred, plan_drawings(mitred)), strict=True):
        assert setup.fence > 14
        assert any(note.startswith("2 passes for each edge, ") for note in map(str, card.notes)), card.notes


def test_cautions_name_the_speed(plan: JobPlan) -> None:
    said = " ".join(cautions((plan.job.cutters[0].cutter,), plan.job.table, 150))
    assert "14,000 1/min" in said  # the fastest of the example's speeds within 16,000
    for word in ("feather board", "push", "guard", "dust", "manual", "local rules", "150 mm"):
        assert word in said.lower()
    unknown = replace(plan.job.cutters[0].cutter, diameter=None, max_speed=None)
    assert "never exceed" in " ".join(cautions((unknown,), plan.job.table, 150))


def test_expected_readings_follow_the_table_of_the_law(plan: JobPlan) -> None:
    """The linear readings of a test cut, at the example's flush corner."""
    setting = next(corner.setting for corner in plan.corners if not corner.setting.corner.lip)
    # The height gauge shows 0.05 too much and has marks every 0.05: of 11.3, the law's, 0.1 is play.
    thickness, height, step = setting.corner.flat_thickness, 2 * 5.65 - 0.1, 3.45
    values = {(reading.piece, reading.what): reading.value for reading in expected_readings(setting)}
    assert values["flat", "roof, left over the cut"] == pytest.approx(thickness - height)
    assert values["flat", "deepest cut from the end"] == pytest.approx(setting.fence_flat)
    assert values["flat", "shallow cut from the end"] == pytest.approx(setting.fence_flat - step)
    assert values["upright", "neck, thinnest part"] == pytest.approx(thickness - setting.fence_upright)
    assert values["upright", "head, thickness at the tip"] == pytest.approx(
        thickness - setting.fence_upright + step
    )
    assert values["upright", "tip to the middle of the slope"] == pytest.approx(height - 5.65)
