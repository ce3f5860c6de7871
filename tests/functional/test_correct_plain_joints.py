"""`drawerwright correct` of finger joints and rebates: trial files in, corrections out."""

import json
import re
from pathlib import Path

import pytest

import drawerwright as dw
from drawerwright.cli import main

DOCS = (Path(__file__).parents[2] / "docs" / "test-cuts.md").read_text("utf-8")
JOB = """
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
    joint: finger
    outer: {width: 420, depth: 310, height: 190}
    box: {all: poplar}
"""


@pytest.fixture
def correct(capsys, tmp_path):
    """Run the command on a text beside a job file: how it ended, what it printed, and what it complained about."""

    def run(text, *options):
        (tmp_path / "job.yaml").write_text(JOB, "utf-8")
        path = tmp_path / "trial.yaml"
        path.write_text(text, "utf-8")
        status = main(["correct", str(path), *options])
        said = capsys.readouterr()
        return status, said.out, said.err.replace(f"{path}:", "")

    return run


def test_the_example_of_the_docs_says_what_the_docs_say(correct):
    found = re.search(r"```yaml\n(format: 1\ntrial: Fingers.*?)```\n\n```text\n(.*?)```", DOCS, re.DOTALL)
    status, out, _err = correct(found[1])
    assert status == 0
    assert out.strip() == found[2].strip()


def test_python_says_what_the_command_says(tmp_path):
    found = re.search(r"```yaml\n(format: 1\ntrial: Fingers.*?)```\n\n```text\n(.*?)```", DOCS, re.DOTALL)
    (tmp_path / "fingers.yaml").write_text(found[1], "utf-8")
    advice = dw.correct(tmp_path / "fingers.yaml")
    assert str(advice).strip() == found[2].strip()
    assert advice.kind == "finger"
    assert set(advice.dial_in) == set(advice.changes)
    assert advice.leave_it == all(change == 0 for change in advice.changes.values())
    assert set(advice.off) <= set(advice.dial_in)
    shown = advice._repr_html_()
    assert all(f"{advice.trial.style.show(size, fine=True)}" in shown for size in advice.dial_in.values())


def test_a_corner_of_the_job_gives_joint_stock_and_width(correct):
    """The job's rebate is 9 mm deep in 15.2 mm; 6.4 left are 0.2 too much, so the bit goes up by that. Its side is
    15.2 mm thick, so a rebate of 15.0 is 0.2 too narrow."""
    text = (
        "format: 1\ntrial: t\njob: job.yaml\nwanted: {corner: Tray}\n"
        "cuts: [{settings: {bit_height: 9, fence: 15.2}, readings: {left: 6.4, width: 15.0}}]\n"
    )
    status, out, err = correct(text, "--json")
    assert status == 0, err
    said = json.loads(out)
    assert said["kind"] == "rebate"
    assert said["next_cut"]["dial_in"] == {"bit_height": 9.2, "fence": 15.4}
    assert said["next_cut"]["change"] == {"bit_height": 0.2, "fence": 0.2}
    assert said["says"] == [
        "Too shallow: raise the bit by 0.20 mm.",
        "Too narrow: open the fence by 0.20 mm.",
    ]


def test_the_width_of_a_row_is_that_of_the_highest_drawer(correct):
    """190 mm of 9.5 mm: 20 units, 19 between the ends, so 10 notches and 9 steps of 19 mm."""
    text = (
        "format: 1\ntrial: t\njob: job.yaml\nwanted: {corner: {drawer: Deep tray}}\n"
        "cuts: [{settings: {tongue: 9.45}, readings: {row: 171.9}}]\n"
    )
    _status, out, _err = correct(text, "--json")
    assert json.loads(out)["says"][0] == "The row creeps: each step is 0.10 mm too long."


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            "readings: {notch: 9.6, roof: 3}",
            "cuts[1].readings.roof: is not of a finger joint; it has notch, finger",
        ),
        ("readings: {notch: -9.6}", "cuts[1].readings.notch: must be more than 0 mm, not -9.6 mm"),
        ("readings: {notch: seen}", "must be measured"),
        ("seen: play", "cuts[1].seen: belongs to a joint that a cutter makes"),
    ],
)
def test_what_is_not_of_the_joint_is_said_with_its_place(correct, text, says):
    head = (
        "format: 1\ntrial: t\njoint: finger\nwanted: {flat: 14.6, upright: 14.6, width: 114}\n"
        "cuts:\n  - settings: {tongue: 9.45}\n    "
    )
    status, _out, err = correct(head + text)
    assert status == 2
    assert says in err


def test_settings_and_height_exclude_each_other(correct):
    head = "format: 1\ntrial: t\njoint: finger\nwanted: {flat: 14.6, upright: 14.6, width: 114}\ncuts:\n"
    status, _out, err = correct(head + "  - {settings: {tongue: 9.45}, height_shown: 12, fence_shown: 9}\n")
    assert status == 2
    assert "leave out what the joint does not have" in err
    status, _out, err = correct(head + "  - {settings: {depth: 9.45}}\n")
    assert "cuts[1].settings.depth: is not of a finger joint; it has tongue" in err
    status, _out, err = correct(head.replace(", width: 114", "") + "  - {settings: {tongue: 9.45}}\n")
    assert "needs 'width', the height of the drawer" in err
