"""Test cuts in a job of two cutters: whose they are, what they change, and what stays in force."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import get_value
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.test_cuts.correcting import correct_trial, correction_text, first_readings
from drawerwright.job.test_cuts.lessons import with_lessons
from drawerwright.job.test_cuts.trial_reading import Trial, read_trial
from drawerwright.joints.readings import ReadingKind

EXAMPLE = (Path(__file__).parents[3] / "examples" / "trays-and-chest.yaml").read_text("utf-8")
SMALL, LARGE = "small cutter", "large cutter"
OFFSET = ("machine", "router_table", "height_gauge_offset")
TRIAL = """
format: 1
trial: trays
job: job.yaml
wanted: {{corner: {corner}}}
cuts:
  - {{height_shown: {height}, fence_shown: {fence}, seen: {seen}, readings: {{roof: {roof}, {seen_length}}}}}
"""
OF_TRAYS = {"corner": "{drawer: Part tray 1}", "height": 7.05, "fence": 6.1, "roof": 2.64}
OF_CHEST = {"corner": "{cutter: large cutter}", "height": 11.25, "fence": 9.05, "roof": 3.44}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "job.yaml").write_text(EXAMPLE, "utf-8")
    return tmp_path


def trial(folder: Path, cut: dict[str, object], seen: str = "play", length: float = 0.12) -> Trial:
    kind = "play" if seen == "play" else "stands_proud"
    text = TRIAL.format(**cut, seen=seen, seen_length=f"{kind}: {length}")
    return read_trial(text, "trial.yaml", folder)


def taught(folder: Path, cut: dict[str, object], **seen: float | str) -> str:
    """The job's text once a test cut has been accepted."""
    made = trial(folder, cut, **seen)  # type: ignore[arg-type]
    text = with_lessons((folder / "job.yaml").read_text("utf-8"), made, correct_trial(made))
    (folder / "job.yaml").write_text(text, "utf-8")
    return text


def of(job: Job, name: str) -> tuple[float, float]:
    """What the gauges show for the first corner of a cutter."""
    cutter = next(cutter for cutter in job.cutters if cutter.name == name)
    setting = next(s for key, s in draft_job(job).settings.items() if key.cutter == cutter.key)
    return cutter.table.height_reading(setting.bit_height), cutter.table.fence_reading(setting.fence_flat)


def test_a_trial_takes_the_cutter_of_its_corner(folder: Path) -> None:
    assert trial(folder, OF_TRAYS).cutter.name == SMALL
    assert trial(folder, OF_CHEST).cutter.name == LARGE


def test_a_trial_may_name_the_cutter_alone(folder: Path) -> None:
    text = TRIAL.format(**OF_TRAYS, seen="play", seen_length="play: 0.1")
    wood = "wanted: {flat: 12, upright: 9.6}\ncutter: large cutter"
    named = read_trial(text.replace("wanted: {corner: {drawer: Part tray 1}}", wood), "t.yaml", folder)
    assert (named.cutter.name, named.wanted.flat_thickness.value) == (LARGE, 12)


@pytest.mark.parametrize(
    ("line", "field", "words"),
    [
        ("wanted: {flat: 12, upright: 9.6}", "cutter", "name one of small cutter, large cutter"),
        ("cutter: little", "cutter", "there is no cutter 'little'; the job has small cutter, large cutter"),
        ("wanted: {corner: {cutter: little}}", "wanted.corner", "the job has no corner cutter: little"),
    ],
)
def test_a_trial_that_leaves_the_cutter_open_is_at_fault(
    folder: Path, line: str, field: str, words: str
) -> None:
    text = TRIAL.format(**OF_TRAYS, seen="play", seen_length="play: 0.1")
    text = text.replace("wanted: {corner: {drawer: Part tray 1}}", line)
    with pytest.raises(FaultyInputError) as raised:
        read_trial(text, "t.yaml", folder)
    assert any(fault.field == field and words in fault.message for fault in raised.value.faults)


def test_a_name_without_a_job_is_at_fault() -> None:
    text = "format: 1\ntrial: t\ncutter: little\nwanted: {flat: 12, upright: 12}\ncuts: [{block: 9, fence_shown: 9}]\n"
    with pytest.raises(FaultyInputError, match="names no 'job'"):
        read_trial(text)


def test_lessons_go_to_the_cutter_that_cut(folder: Path) -> None:
    text = taught(folder, OF_TRAYS)
    assert get_value(text, ("learnt",)) is None
    assert get_value(text, ("cutters", SMALL, "learnt", "height_shown"))
    assert get_value(text, ("cutters", LARGE)) == get_value(EXAMPLE, ("cutters", LARGE))
    assert get_value(text, OFFSET) != get_value(EXAMPLE, OFFSET)
    job = read_job(text)
    assert [cutter.table.settled is None for cutter in job.cutters] == [False, True]


def test_what_one_cutter_settled_stays_in_force_when_another_teaches_the_gauges(folder: Path) -> None:
    once = read_job(taught(folder, OF_TRAYS))
    text = taught(folder, OF_CHEST, seen="proud", length=0.1)
    twice = read_job(text)
    assert not any(cutter.has_stale_lessons for cutter in twice.cutters)
    small = {"before": once.cutters[0], "after": twice.cutters[0]}
    assert small["before"].table.height_gauge != small["after"].table.height_gauge
    # What the gauge has to show for the trays was seen in wood; what is true of it moved along.
    assert of(twice, SMALL) == pytest.approx(of(once, SMALL))
    assert small["after"].cutter.mid_depth.uncertainty < small["before"].cutter.mid_depth.uncertainty
    tie = small["after"].table.height_correlation
    assert -1 < small["before"].table.height_correlation < tie < 0


def test_the_text_names_every_entry_that_changes(folder: Path) -> None:
    taught(folder, OF_TRAYS)
    second = trial(folder, OF_CHEST, seen="proud", length=0.1)
    said = correction_text(second, correct_trial(second))
    for entry in (
        f"cutters.{LARGE}.mid_depth: ",
        f"cutters.{LARGE}.learnt.height_shown: ",
        "machine.router_table.",
    ):
        assert f"\n  {entry}" in said
    assert f"\n  cutters.{SMALL}.mid_depth: " in said
    assert f"\n  cutters.{SMALL}.learnt.taught: {{mid_depth: " in said


def test_first_readings_are_those_of_the_corner_s_own_cutter() -> None:
    mitre = EXAMPLE.replace(
        "    mid_depth: 5.65 ± 0.05\n    step: 3.45 ± 0.03\n    slope: 55 ± 1\n",
        "    kind: lock-mitre\n    mid_depth: 11.5 ± 0.05\n    step: 20 ± 0.03\n    slope: 45 ± 1\n",
    ).replace("cutting_height: 14.5", "cutting_height: 30")
    job = read_job(mitre)
    asked = {key.joint: first_readings(job, setting) for key, setting in draft_job(job).settings.items()}
    assert ReadingKind.PLAY in asked["drawer-lock"]
    assert ReadingKind.PLAY not in asked["lock-mitre"]
