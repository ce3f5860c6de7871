"""Which joint each drawer should have: figures are those of the real plan, reasons those that were meant."""

from __future__ import annotations

import pytest

from drawerwright.basics.phrases import phrase
from drawerwright.drawers.duty import Use
from drawerwright.job.file.building import read_job
from drawerwright.job.file.joint_entries import take_joint
from drawerwright.job.papers.joint_data import comparison_data, for_use_data
from drawerwright.job.planning.corner_strengths import job_strengths
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.job.planning.joint_outcome import DrawerBears, JointChoice, JointOutcome, WorkTaken
from drawerwright.job.planning.joint_verdict import recommended
from drawerwright.job.planning.joints_for_use import joints_for_use
from drawerwright.job.planning.other_joints import joint_choices
from drawerwright.job.planning.which_joint import DrawerAdvice, JointComparison, compare_joints, outcome_of
from drawerwright.joints.plain_joint import ChosenJoint, plain_joints
from drawerwright.strength.bounds import Bounds

SAWING = 0.1
"""Two searches for sheets may end with different cuts; a set-up more or less is over this share."""
CUTTER = "cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}\n"
JOB = """
format: 1
job: Score chest
cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}
stock:
  maple: {nominal: 15, measured: [15.2], panel: solid, species: "maple, sugar", sheets: [{length: 2400, width: 1200}]}
boxes:
  - name: Scores
    count: 3
    load: 30
    use: heavy
    outer: {width: 500, depth: 450, height: 142.5}
    box: {all: maple}
  - name: Reeds
    load: 1
    use: occasional
    outer: {width: 300, depth: 310, height: 85.5}
    box: {all: maple}
"""


@pytest.fixture(scope="module")
def heavy() -> str:
    """The job with a load between what the lock and what fingers bear: what the stop asks grows with the load."""
    scores = compare_joints(read_job(JOB.split("  - name: Reeds")[0])).batches[0]
    bears = {outcome.choice.joint: outcome.bears or 0.0 for outcome in scores.outcomes}
    assert bears["finger"] > bears[""]
    return JOB.replace("load: 30", f"load: {30 * (bears['finger'] * bears['']) ** 0.5:.1f}")


@pytest.fixture(scope="module")
def found(heavy: str) -> JointComparison:
    return compare_joints(read_job(heavy))


def first(text: str) -> DrawerAdvice:
    """What the first drawers of a job should have."""
    return compare_joints(read_job(text)).batches[0].advice[0]


def test_boxes_of_one_make_are_one_batch(found: JointComparison) -> None:
    assert [each.drawers for each in found.batches] == [("Scores 1", "Scores 2", "Scores 3"), ("Reeds",)]
    assert [each.load for batch in found.batches for each in batch.advice][1] == 1.0


def test_the_joint_at_hand_comes_first_and_every_other_once(found: JointComparison) -> None:
    for each in found.batches:
        names = [outcome.choice.joint or outcome.choice.cutter for outcome in each.outcomes]
        assert names == ["cutter", "finger", "rebate"]


def test_what_if_and_strength_say_one_pull_off() -> None:
    """Alone, the box of thicker stock would be cut at one fence position, half of its sum. Beside lipped fronts, whose
    lip is what it is thicker, it needs none of its own: its sides go past the others', which leaves a thicker neck."""
    oak = (
        "{nominal: 18, measured: [18.3], panel: solid, species: beech, sheets: [{length: 2400, width: 1200}]}"
    )
    thicker = f"  oak: {oak}\nboxes:\n"
    first, reeds = JOB.replace("boxes:\n", thicker).split("  - name: Reeds")
    job = read_job(f"{first}    lip: 3.1\n  - name: Reeds{reeds.replace('maple', 'oak')}")
    whole, alone = (
        next(each for each in job_strengths(draft_job(some)).joints if each.drawer == "Reeds")
        for some in (job, job.only(["Reeds"]))
    )
    assert whole.pull_off is not None
    assert alone.pull_off is not None
    assert whole.pull_off.middle > 1.02 * alone.pull_off.middle
    box = job.boxes[-1]
    found = outcome_of(job, [box], joint_choices(job, [box])[0], 0.1)
    assert found.pull_off == whole.pull_off


def test_a_batch_takes_what_its_plan_takes(found: JointComparison, heavy: str) -> None:
    """Planned as a job of its own that says `joint: finger`: minutes and set-ups are those of its order of work."""
    alone = heavy.replace("count: 3", "count: 3\n    joint: finger").split("  - name: Reeds")[0]
    plan = plan_job(read_job(alone), time_limit=1.0)
    taken = next(each.taken for each in found.batches[0].outcomes if each.choice.joint == "finger")
    assert taken is not None
    assert taken.minutes == pytest.approx(sum(step.minutes for step in plan.run.steps), rel=SAWING)
    assert (
        taken.setups == len([step for step in plan.run.steps if step.title == "Set up the finger jig"]) == 1
    )


def test_heavy_ones_get_a_joint_that_bears_them_and_light_ones_stay(found: JointComparison) -> None:
    bears = {outcome.choice.joint: outcome.bears for outcome in found.batches[0].outcomes}
    assert bears[""] < 1 < bears["finger"]  # type: ignore[operator]
    scores, reeds = (batch.advice[0] for batch in found.batches)
    assert scores.recommended.choice.joint == "finger"
    assert scores.reason.startswith("drawer lock bears 0.")
    assert not reeds.is_changed
    assert reeds.reason == "Strong enough for occasional use; no other joint saves much."


def test_end_grain_glue_is_not_trusted_in_heavy_use() -> None:
    """A rebate would bear the load when it is new, and is quicker than fingers."""
    rebated = first(JOB.replace("    load: 30\n", "    load: 20\n    joint: rebate\n"))
    assert rebated.present.is_enough
    assert rebated.recommended.choice.joint != "rebate"
    assert "relies on glued end grain alone" in rebated.reason
    daily = first(
        JOB.replace("    load: 30\n    use: heavy", "    load: 20\n    use: daily\n    joint: rebate")
    )
    assert (
        daily.reason == "Strong enough for daily use; no other joint saves much."
    )  # both are routed in bands


def test_where_nothing_is_known_it_says_so() -> None:
    no_wood = first(JOB.replace('panel: solid, species: "maple, sugar", ', ""))
    assert no_wood.reason.startswith("The strength of this wood is not known")
    assert not no_wood.is_changed
    no_load = first(JOB.replace("    load: 30\n", ""))
    assert no_load.recommended.choice.joint == "finger"
    assert no_load.reason.startswith("No load is stated: in heavy use")


def test_a_joint_that_cannot_be_made_is_never_recommended() -> None:
    lipped = compare_joints(
        read_job(JOB.replace("    use: heavy\n", "    use: heavy\n    lip: 6\n"))
    ).batches[0]
    fingers = next(each for each in lipped.outcomes if each.choice.joint == "finger")
    assert "fingers go right through the front" in fingers.obstacle
    assert not lipped.is_recommended(fingers)


def test_the_whole_job_with_the_heavy_ones_in_fingers(found: JointComparison, heavy: str) -> None:
    words = [each.words for each in found.alternatives]
    assert words == ["every recommendation taken", "rebate for Scores 1–3"]  # fingers are the recommendation
    assert [each.reason for each in found.alternatives] == [
        "",
        "Not for Scores 1–3: glue on end grain alone is not trusted in heavy use.",
    ]
    taken = take_joint(heavy, found.batches[0].drawers, "finger")
    plan = plan_job(read_job(taken), time_limit=1.0)
    assert found.alternatives[0].taken is not None
    assert found.alternatives[0].taken.minutes == pytest.approx(plan.run.effort.minutes, rel=SAWING)
    assert found.present is not None
    assert found.present.minutes < found.alternatives[0].taken.minutes


def test_one_word_takes_it_and_gives_it_back() -> None:
    taken = take_joint(JOB, ["Scores 1", "Scores 2", "Scores 3"], "finger")
    assert taken.count("joint: finger") == 1
    assert read_job(taken).boxes[0].joint == "finger"
    assert read_job(taken).boxes[3].joint == "drawer-lock"
    back = take_joint(taken, ["Scores 1", "Scores 2", "Scores 3"], "", "cutter")
    assert read_job(back) == read_job(JOB)
    assert take_joint(JOB, ["Scores 1"], "finger") == JOB  # equal boxes stay equal


def test_of_several_cutters_the_one_that_is_meant_is_named() -> None:
    several = JOB.replace(
        "cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}",
        "cutters:\n  lock: {mid_depth: 5.6, step: 3.4}\n  mitre: {kind: lock-mitre, mid_depth: 9, step: 14}",
    ).replace("    lip", "    lip")
    several = several.replace("  - name: Scores\n", "  - name: Scores\n    cutter: lock\n").replace(
        "  - name: Reeds\n", "  - name: Reeds\n    cutter: lock\n"
    )
    scores = ["Scores 1", "Scores 2", "Scores 3"]
    fingers = take_joint(several, scores, "finger")
    assert read_job(fingers).boxes[0].joint == "finger"  # and no cutter beside it, which would be a fault
    mitred = take_joint(fingers, scores, "", "mitre")
    assert read_job(mitred).boxes[0].joint == "lock-mitre"


def test_data_says_all_of_it(found: JointComparison) -> None:
    data = comparison_data(found)
    batch = data["batches"][0]
    assert batch["advice"][0]["recommended"] == {"joint": "finger"}
    assert batch["joints"][0]["cutter"] == "cutter"
    assert set(batch["joints"][1]["takes"]) == {"setups", "metres", "minutes", "new_sheets"}
    assert batch["joints"][1]["pull_off"]["low"] < batch["joints"][1]["pull_off"]["high"]
    assert sorted(each["place"] for each in batch["joints"]) == [1, 2, 3]
    assert data["alternatives"][0]["changes"] == [
        {"drawers": ["Scores 1", "Scores 2", "Scores 3"], "joint": "finger"}
    ]


def test_other_joints_for_all_keep_the_measures_at_hand() -> None:
    """The row of the joint that every heavy drawer has already would be the job as it is."""
    own = JOB.replace(
        "    use: heavy\n", "    use: heavy\n    joint: {kind: finger, finger: 12, kerf: 3.2}\n"
    )
    two = own.replace("use: occasional", "use: heavy")
    found = next(
        each
        for each in compare_joints(read_job(two)).alternatives
        if each.words.startswith("finger joint for")
    )
    assert [change.drawers for change in found.changes] == [("Reeds",)]
    by_hand = plan_job(read_job(two.replace("load: 1\n", "load: 1\n    joint: finger\n")), time_limit=1.0)
    assert found.taken is not None
    assert found.taken.minutes == pytest.approx(by_hand.run.effort.minutes, rel=0.01)


def outcome(joint: str, minutes: float, stops: float, *, is_end_glued: bool = False) -> JointOutcome:
    choice = JointChoice(joint, "", phrase(joint), ChosenJoint(plain_joints()[0]))
    bears = DrawerBears("A1", stops, stops, Bounds(stops, stops), None, is_end_glued)
    return JointOutcome(choice, WorkTaken(1, 1.0, minutes, 1), (bears,))


def test_a_quicker_joint_that_is_not_trusted_is_named_with_the_reason() -> None:
    at_hand, quicker = outcome("finger", 100, 3.0), outcome("rebate", 70, 2.0, is_end_glued=True)
    verdict = recommended([at_hand, quicker], Use.HEAVY)
    assert verdict.recommended is at_hand
    assert verdict.reason == (
        "Strong enough for heavy use. rebate would save 30 min, but relies on glued end grain alone, which heavy use "
        "does not forgive."
    )
    assert recommended([at_hand, quicker], Use.DAILY).recommended is quicker
    assert recommended([at_hand, quicker], Use.DAILY, may_save=False).recommended is at_hand


def test_advice_names_the_warning_about_the_joint_that_it_keeps() -> None:
    """Fingers of 4 mm in sides 200 mm high: 26 fingers of one piece have 25 notches, 24 steps, between them."""
    text = JOB.replace(CUTTER, "").split("boxes:")[0] + (
        "boxes:\n  - {name: Tall, joint: {kind: finger, finger: 4}, load: 30, use: heavy, "
        "outer: {width: 300, depth: 310, height: 200}, box: {all: maple}}\n"
    )
    kept = first(text)
    assert not kept.is_changed
    assert "small errors add up over 24 steps" in kept.reason
    assert "Use wider fingers or more clearance" in kept.reason


def test_a_batch_is_called_by_all_its_drawers(found: JointComparison) -> None:
    assert [each.title for each in found.batches] == ["Scores 1–3", "Reeds"]


BANK = """
format: 1
job: Score chest
cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}
stock:
  maple: {nominal: 15, measured: [15.2], panel: solid, species: "maple, sugar", sheets: [{length: 2400, width: 1200}]}
banks:
  - name: Scores
    opening: {width: 500, height: 600, depth: 450}
    fronts: {style: inset, heights: {equal: 4}}
    box: {all: maple}
    load: 2
    use: daily
    single_drawers:
      - {number: 4, load: 90, use: heavy}
"""


@pytest.fixture(scope="module")
def bank() -> JointComparison:
    return compare_joints(read_job(BANK))


def test_each_drawer_of_a_bank_gets_its_own_advice(bank: JointComparison) -> None:
    """One batch with one plan a joint, but the lowest drawer carries 45 times as much and is slammed."""
    (batch,) = bank.batches
    light, full = batch.advice
    assert light.drawers == ("A1", "A2", "A3")
    assert not light.is_changed
    assert full.drawers == ("A4",)
    assert full.recommended.choice.joint == "finger"
    assert light.about == "A1–A3, daily use, 2 kg"
    assert light.present.bears == pytest.approx(
        full.present.bears * 90 * 0.8**2 / (2 * 0.5**2),
        rel=1e-6,  # type: ignore[operator]
    )  # all else alike, a stop asks for load × speed²


def test_a_plan_says_without_comparing_which_joints_are_enough(bank: JointComparison) -> None:
    """The same answer as that of the comparison, which plans every joint."""
    draft = draft_job(read_job(BANK))
    light, full = joints_for_use(draft)
    (batch,) = bank.batches
    assert (light.drawers, full.drawers) == (("A1", "A2", "A3"), ("A4",))
    assert light.is_enough
    assert full.present.bears == batch.present.of(["A4"]).bears
    assert [each.choice.joint for each in full.enough] == [
        each.choice.joint for each in batch.outcomes[1:] if each.of(["A4"]).suits(Use.HEAVY)
    ]
    assert full.words == "drawer lock: not sure to bear this load in heavy use, and no other joint is."
    lighter = joints_for_use(draft_job(read_job(BANK.replace("load: 90", "load: 60"))))[-1]
    told = for_use_data([lighter])[0]
    assert (told["is_enough"], told["enough"], told["load"]) == (False, [{"joint": "finger"}], 60)
    assert f"bears {told['bears']:.2f} times what its stop demands in heavy use" in str(told["text"])
    assert not joints_for_use(
        draft_job(read_job(BANK.replace("    load: 2\n", "").replace("load: 90, ", "")))
    )


def test_drawers_that_carry_different_loads_are_told_by_the_fullest() -> None:
    draft = draft_job(read_job(BANK.replace("load: 90, use: heavy", "load: 3")))
    (row,) = joints_for_use(draft)
    assert (row.loads, row.load_words) == ((2.0, 2.0, 2.0, 3.0), "up to 3 kg")
    (alike,) = joints_for_use(draft_job(read_job(BANK.replace("load: 90, use: heavy", "load: 2"))))
    assert alike.load_words == "2 kg"


def test_corners_of_different_heights_are_told_apart() -> None:
    """A millimetre is no place in the order, but it is told."""
    plywood = BANK.replace('solid, species: "maple, sugar"', "birch-plywood")
    heights = plywood.replace("{equal: 4}", "{given: [150, 151, 151, rest]}")
    fronts = [row for row in job_strengths(draft_job(read_job(heights))).rows if row.joint.at == "front"]
    assert [row.drawers for row in fronts] == ["A1", "A2, A3", "A4"]
    assert fronts[0].joint.rank == fronts[1].joint.rank


def test_advice_for_one_drawer_of_a_bank_is_taken_alone(bank: JointComparison) -> None:
    (change,) = bank.alternatives[0].changes
    taken = take_joint(BANK, change.drawers, change.choice.joint)
    assert "{number: 4, load: 90, use: heavy, joint: finger}" in taken
    boxes = read_job(taken).banks[0].boxes
    assert [box.joint for box in boxes] == ["drawer-lock"] * 3 + ["finger"]
    plan = plan_job(read_job(taken), time_limit=1.0)
    assert bank.alternatives[0].taken is not None
    assert bank.alternatives[0].taken.minutes == pytest.approx(plan.run.effort.minutes, rel=SAWING)
    back = take_joint(taken, change.drawers, "", "cutter")
    assert read_job(back).banks[0].boxes[3].joint == "drawer-lock"


def test_of_assumed_strengths_only_the_order_is_shown() -> None:
    """docs/strength.md: no figure of plywood until its strengths are sourced, not even as a ratio."""
    ply = BANK.replace('panel: solid, species: "maple, sugar"', "panel: birch-plywood")
    calm = ply.replace(", use: heavy", "").replace("load: 90", "load: 20")
    found = compare_joints(read_job(calm))
    assert "finger joint for A4" in [
        each.words for each in found.alternatives
    ]  # the fullest, as none is slammed
    (batch,) = found.batches
    assert found.has_assumed
    assert {outcome.bears_shown for outcome in batch.outcomes} == {None}
    assert sorted(batch.place_of(outcome) or 0 for outcome in batch.outcomes) == [1, 2, 3]
    said = comparison_data(found)["batches"][0]
    assert [joint["bears"] for joint in said["joints"]] == [joint["pull_off"] for joint in said["joints"]]
    assert all(joint["weak_plane"] for joint in said["joints"])
    assert not any(" times what its stop" in each.reason for each in batch.advice)
