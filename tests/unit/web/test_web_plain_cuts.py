"""The page of test cuts, and what the run says, of corners that no cutter makes."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.job_entries import job_entries
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.test_cuts.kept_cuts import key_of
from drawerwright.store import ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.server.shop import Shop

TRAYS = """
format: 1
job: Reed trays
stock:
  poplar: {nominal: 15, measured: [15.2], sheets: [{length: 2400, width: 1200}]}
boxes:
  - name: Tray
    joint: {kind: rebate, depth: 9}
    outer: {width: 420, depth: 310, height: 130}
    box: {all: poplar}
  - name: Deep tray
    joint: {kind: finger, finger: 9.5, clearance: 0.1}
    outer: {width: 420, depth: 310, height: 190}
    box: {all: poplar}
"""
PIECES = {"flat": "15.2", "upright": "15.2"}
REBATE = PIECES | {"set-bit_height": "9", "set-fence": "15.2"}
FINGERS = PIECES | {"set-tongue": "9.45", "set-bit_height_flat": "15.2", "set-bit_height_upright": "15.2"}


@pytest.fixture
def draft(shop: Shop) -> JobDraft:
    """Job 2."""
    shop.jobs.add("trays", TRAYS, "")
    return draft_job(read_job(TRAYS))


def token(draft: JobDraft, joint: str) -> str:
    return next(corner.key.token for corner in draft.plain_corners if corner.key.joint == joint)


def test_a_rebate_is_read_kept_and_set_anew(client: TestClient, shop: Shop, draft: JobDraft) -> None:
    """6.4 mm left of 15.2 is a rebate of 8.8 instead of 9: the bit goes 0.2 up. Then nothing more is asked."""
    corner = token(draft, "rebate")
    page = client.get(f"/jobs/2/trial?corner={corner}").text
    assert "For the first cut" in page
    assert 'name="set-bit_height" value="9.00"' in page
    answer = client.post("/jobs/2/trial", data=REBATE | {"corner": corner, "read-left": "6.4"})
    assert answer.status_code == 200
    assert "Too shallow: raise the bit by 0.20 mm." in answer.text.replace("\xa0", " ")
    assert "<dt>Bit or blade height</dt><dd>9.20" in answer.text
    (entry,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    kept = key_of(job_text.data_of(entry.text))
    assert kept is not None
    assert kept.token == corner
    assert "what is left under the rebate 6.40" in answer.text
    glance = client.get("/jobs/2").text.replace("\N{NO-BREAK SPACE}", " ")
    assert "cut once more (front and back corner, flush, rebate): bit or blade height 9.20 mm" in glance
    again = REBATE | {"corner": corner, "set-bit_height": "9.2", "read-left": "6.2"}
    right = client.post("/jobs/2/trial", data=again).text
    assert "The test cut is right: nothing to change." in right
    assert "cut once more" not in client.get("/jobs/2").text


def test_an_accepted_cut_teaches_the_job(client: TestClient, shop: Shop, draft: JobDraft) -> None:
    """A bit that cuts 0.2 too shallow stays in the job as so much more to set; the cut counts no more, what it taught
    does, and is not counted twice."""
    corner = token(draft, "rebate")
    client.post("/jobs/2/trial", data=REBATE | {"corner": corner, "read-left": "6.4"})
    page = client.get(f"/jobs/2/trial?corner={corner}").text
    assert page.index("Set this much more than planned") < page.index("Accept into this job")
    answer = client.post(f"/jobs/2/trial/accept?corner={corner}")
    assert answer.status_code == 200
    (known,) = read_job(shop.jobs.load(2).text).learnt_joints
    assert (known.chosen.joint.name, known.chosen.measures) == ("rebate", (("depth", 9.0),))
    assert known.off["bit_height"].value == pytest.approx(0.2)
    assert "<dt>Bit or blade height</dt><dd>9.20" in answer.text
    assert "For the next cut" in answer.text
    assert "Accept into this job" not in answer.text
    assert client.post(f"/jobs/2/trial/accept?corner={corner}").status_code == 422
    again = REBATE | {"corner": corner, "set-bit_height": "9.2", "read-left": "6.3"}
    client.post("/jobs/2/trial", data=again)  # 0.1 too shallow: 0.3 by this cut, 0.2 by the last
    client.post(f"/jobs/2/trial/accept?corner={corner}")
    (known,) = read_job(shop.jobs.load(2).text).learnt_joints
    assert known.off["bit_height"].value == pytest.approx(0.25, abs=0.02)


def test_what_was_learnt_of_another_joint_does_not_count(client: TestClient, shop: Shop) -> None:
    learnt = "learnt_joints:\n  - {joint: {kind: rebate, depth: 8}, off: {bit_height: 0.2 ± 0.02}}\n"
    shop.jobs.add("other", TRAYS + learnt, "")
    corner = token(draft_job(read_job(TRAYS)), "rebate")
    page = client.get(f"/jobs/2/trial?corner={corner}").text
    assert 'name="set-bit_height" value="9.00"' in page
    with pytest.raises(
        FaultyInputError, match=r"off\.pin: a rebate joint has no setting 'pin'; it has bit_height"
    ):
        read_job(TRAYS + learnt.replace("bit_height", "pin"))


def test_inches_are_kept_as_inches() -> None:
    learnt = "learnt_joints:\n  - {joint: {kind: finger, finger: 0.375}, off: {tongue: 0.004 ± 0.001}}\n"
    named = job_entries("units: in\n" + learnt)["learnt_joints"]
    assert named == [
        {"joint": {"kind": "finger", "finger": "0.375 in"}, "off": {"tongue": "0.004 in ± 0.001 in"}}
    ]


def test_fingers_are_read_by_their_own_names(client: TestClient, shop: Shop, draft: JobDraft) -> None:
    corner = token(draft, "finger")
    data = FINGERS | {"corner": corner, "width": "190"}
    answer = client.post("/jobs/2/trial", data=data | {"read-notch": "9.6", "read-finger": "9.6 ± 0.02"})
    assert "Too tight: move the pin 0.10 mm towards the cutter" in answer.text.replace("\xa0", " ")
    refused = client.post("/jobs/2/trial", data=data | {"read-notch": "0"})
    assert refused.status_code == 422
    assert 'name="read-notch" value="0"' in refused.text
    (entry,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    inches = client.get(f"/jobs/2/trial?corner={corner}", headers={"Cookie": "unit=in"}).text
    assert "±" in inches
    removed = client.post(f"/jobs/2/trial/{entry.id}/delete?corner={corner}").text
    assert "Test cut removed." in removed
    assert "For the first cut" in removed


def test_a_reading_that_cannot_be_is_refused(client: TestClient, shop: Shop, draft: JobDraft) -> None:
    corner = token(draft, "rebate")
    refused = client.post("/jobs/2/trial", data=REBATE | {"corner": corner, "read-width": "1.52"})
    assert refused.status_code == 422
    assert "under half or over twice" in refused.text
    assert shop.shelf.list(ShelfKind.TRIAL_CUT) == ()


def test_the_run_leads_to_the_readings_and_follows_them(
    client: TestClient, shop: Shop, draft: JobDraft
) -> None:
    plans = shop.plans.ask(TRAYS, 60.0, 2).made
    assert plans is not None
    steps = [str(step.title) for step in plans.run.steps]
    number = steps.index("Set up for the rebates") + 1
    address, corner = f"/jobs/2/run?view=one&step={number}", token(draft, "rebate")
    page = client.get(address).text
    assert f"/jobs/2/trial?corner={corner}&amp;step={number}" in page
    assert "Enter the readings: front and back corner, flush, rebate" in page
    data = REBATE | {"corner": corner, "step": str(number), "read-left": "6.4"}
    after = client.post("/jobs/2/trial", data=data)
    assert str(after.url).endswith(f"step={number}")
    assert "Set by the test cut of front and back corner, flush, rebate." in after.text
    assert "<dt>bit or blade height</dt><dd>9.20" in after.text


def test_a_job_with_both_sorts_shows_all_its_corners(client: TestClient, shop: Shop) -> None:
    mixed = example_text().replace("  - name: Reed tray", "  - name: Reed tray\n    joint: rebate", 1)
    shop.jobs.add("mixed", mixed, "")
    draft = draft_job(read_job(mixed))
    page = client.get("/jobs/2/trial").text
    for corner in (*draft.corners, *draft.plain_corners):
        assert f"corner={corner.key.token}" in page
    assert "Height gauge shows" in page
