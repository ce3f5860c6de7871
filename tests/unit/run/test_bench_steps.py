"""What the order of work says of corners that are set up at the bench. The figures to expect are sums by hand."""

from __future__ import annotations

from drawerwright.job.file.building import read_job
from drawerwright.job.planning.job_plan import plan_job

STOCK = """
format: 1
job: Score chest
stock:
  poplar: {nominal: 15, measured: [15.2], sheets: [{length: 2400, width: 1200}]}
  thin: {nominal: 12, measured: [12.1], sheets: [{length: 2400, width: 1200}]}
boxes:
"""
SIZE = "outer: {width: 420, depth: 310, height: 104.5}, box: {all: poplar, sides: thin}"


def steps_of(text: str) -> dict[str, str]:
    """The lines of every step by its title, with plain spaces."""
    plan = plan_job(read_job(STOCK + text), time_limit=0.1)
    return {step.title: " ".join(step.lines).replace("\N{NO-BREAK SPACE}", " ") for step in plan.run.steps}


def test_steps_set_what_accepted_test_cuts_have_taught() -> None:
    """Fingers of 9.5 with 0.1 to spare are 9.45 from the pin; a rebate is 9 deep and as wide as the side's 12.1."""
    steps = steps_of(
        f"  - {{name: Notes, joint: finger, {SIZE}}}\n"
        f"  - {{name: Reeds, joint: {{kind: rebate, depth: 9}}, {SIZE}}}\n"
        "learnt_joints:\n"
        "  - {joint: finger, off: {tongue: -0.08 ± 0.03, bit_height_flat: -0.1 ± 0.03, "
        "bit_height_upright: 0.2 ± 0.03}}\n"
        "  - {joint: {kind: rebate, depth: 9}, off: {bit_height: 0.4 ± 0.02, fence: -0.3 ± 0.02}}\n"
    )
    assert "9.37 mm from pin to cutter" in steps["Set up the finger jig"]
    assert "Fronts and backs: bit 12.00 mm high" in steps["Cut the fingers"]
    assert "Sides: bit 15.40 mm high" in steps["Cut the fingers"]
    rebate = steps["Set up for the rebates"]
    assert "9.40 mm high, fence 11.80 mm to" in rebate
    assert "6.20 mm must be left" in rebate  # of 15.2: what is wanted stays
