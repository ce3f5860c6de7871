"""What the order of work says of corners that are set up at the bench. The figures to expect are sums by hand."""

from __future__ import annotations

from drawerwright.job.file.building import read_job
from drawerwright.job.papers.bench_cards import bench_cards
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.planning.job_plan import plan_job

STOCK = """
format: 1
job: Score chest
stock:
  poplar: {nominal: 15, measured: [15.2], sheets: [{length: 2400, width: 1200}]}
  thin: {nominal: 12, measured: [12.1], sheets: [{length: 2400, width: 1200}]}
"""
SIZE = "outer: {width: 420, depth: 310, height: 104.5}, box: {all: poplar, sides: thin}"


def steps_of(text: str) -> dict[str, str]:
    """The lines of every step by its title, with plain spaces."""
    plan = plan_job(read_job(STOCK + text), time_limit=0.1)
    return {step.title: " ".join(step.lines).replace("\N{NO-BREAK SPACE}", " ") for step in plan.run.steps}


def test_steps_set_what_accepted_test_cuts_have_taught() -> None:
    """Fingers of 9.5 with 0.1 to spare are 9.45 from the pin; a rebate is 9 deep and as wide as the side's 12.1."""
    steps = steps_of(
        "boxes:\n"
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


def test_the_plan_tells_other_programs_what_is_set_otherwise() -> None:
    learnt = "learnt_joints: [{joint: finger, off: {tongue: -0.08 ± 0.03}}]\n"
    text = f"{STOCK}boxes:\n  - {{name: Notes, joint: finger, {SIZE}}}\n"
    for job, off in ((text, {}), (text + learnt, {"tongue": -0.08})):
        corners = plan_report(plan_job(read_job(job), time_limit=0.1))["plain_corners"]
        assert [corner["off"] for corner in corners] == [off]


BANK = """
banks:
  - name: Scores
    opening: {width: 450, height: 400, depth: 420}
    fronts: {style: inset, heights: {equal: 3}, reveal: 2}
    runner: {kind: wooden, side: 1}
    box: {all: poplar}
    joint: JOINT
    bottom: {style: slid, stock: thin, groove_depth: 6, groove_height: 12}
"""


def test_rows_say_where_they_begin_above_each_lower_edge() -> None:
    """Drawers 127.67 high, fronts 129.67 to 1 below: eleven 9.5 leave 11.58 an end, less 0.025 for the clearance.

    Below the back the sides reach by a groove at 12 for a bottom of 12.1 with 0.2 to spare. Above it are 103.37: nine
    9.5 leave 8.93 an end. Red before: no piece's row had a height to begin at, and two lines said "Fronts and backs".
    """
    cut = steps_of(BANK.replace("JOINT", "finger"))["Cut the fingers"]
    assert "Fronts and backs" not in cut
    assert "Box fronts: bit 15.20 mm high. First notch 12.56 mm from the lower edge" in cut
    assert "Sides, front ends: bit 15.20 mm high. Notch 11.61 mm wide at the lower edge" in cut
    assert "Box backs: bit 15.20 mm high. First notch 8.91 mm from the lower edge" in cut
    assert "Sides, back ends: bit 15.20 mm high. First notch from 24.30 mm to 33.26 mm above the lower" in cut


def test_cards_say_where_a_row_begins() -> None:
    plan = plan_job(read_job(STOCK + BANK.replace("JOINT", "finger")), time_limit=0.1)
    notes = [note.replace("\N{NO-BREAK SPACE}", " ") for card in bench_cards(plan, {}) for note in card.notes]
    said = [note for note in notes if "the row begins" in note]
    assert len(said) == 2
    assert any(note.startswith("Box fronts") and "begins 1.00 mm above" in note for note in said)
    assert any(note.startswith("Sides, back ends") and "begins 24.30 mm above" in note for note in said)


def test_card_and_steps_name_one_place_for_the_first_notch() -> None:
    """12.56 for the fronts, which begin 1 below the sides; 8.91 for the backs, which begin with them."""
    plan = plan_job(read_job(STOCK + BANK.replace("JOINT", "finger")), time_limit=0.1)
    table = bench_cards(plan, {})[0].passes
    assert table is not None
    column = [str(words) for words in table.head].index("flat piece: edge to first notch")
    found = [(row[1], row[column].replace("\N{NO-BREAK SPACE}", " ")) for row in table.rows]
    assert found == [("A1–A3", "12.56 mm"), ("A1–A3", "8.91 mm")]


def test_pins_say_at_which_end_they_are() -> None:
    """Of three pins and two, which were both said to go "into the front or back"."""
    steps = steps_of(BANK.replace("JOINT", "rebate"))
    assert "3 pins a corner, through the side into the front," in steps["Drill for pins"]
    assert "2 pins a corner, through the side into the back," in steps["Drill for pins"]
