"""A job in inches: `units: in` rules the bare numbers of the file and of its trial files."""

from __future__ import annotations

from pathlib import Path

import pytest
from pydantic import BaseModel

from drawerwright.basics.errors import FaultyInputError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.file.described import EACH, described
from drawerwright.job.file.file_units import in_unit, with_units_named
from drawerwright.job.file.job_entries import job_entries, set_in_mm
from drawerwright.job.file.model import JobFile
from drawerwright.job.file.trial_model import TrialFile
from drawerwright.job.file.typed_entries import figure_entries, figure_entry
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.entries_concerned import entries_concerned
from drawerwright.job.planning.guided_job import guided_job, questions
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.test_cuts.trial_reading import open_trial
from drawerwright.web.fields.job_text import data_of

INCHES = """\
format: 1
job: Bench of the instrument maker
units: in
cutter: {mid_depth: 0.222 ± 0.002, step: {value: 0.136, uncertainty: 0.001}}
machine:
  saw: {kerf: 1/8, trim: 0.25}
  router_table: {height_gauge_offset: 0.002, tallest_upright: 2 ft}
stock:
  half:
    nominal: 1/2
    measured: [[0.472, 0.476], 12 mm]
    sheets: [{length: 96, width: 48, label: 8 by 4}]
boxes:
  - {name: tray, outer: {width: 12, depth: 9 1/2, height: 3}, box: {all: half}}
"""


def test_bare_numbers_are_inches() -> None:
    job = read_job(INCHES)
    # 1 in is 25.4 mm exactly (international inch, 1959).
    assert job.boxes[0].width == pytest.approx(12 * 25.4)
    assert job.boxes[0].depth == pytest.approx(9.5 * 25.4)
    assert job.saw.kerf == pytest.approx(3.175)
    assert job.saw.trim == pytest.approx(6.35)
    assert job.cutters[0].cutter.mid_depth.value == pytest.approx(0.222 * 25.4)
    assert job.cutters[0].cutter.mid_depth.uncertainty == pytest.approx(0.002 * 25.4)
    assert job.cutters[0].cutter.step.uncertainty == pytest.approx(0.001 * 25.4)
    assert job.table.height_gauge.value == pytest.approx(0.0508)
    assert job.sheet_sizes["half"][0].length == pytest.approx(2438.4)


def test_a_metric_blade_is_planned_in_thousandths_of_an_inch() -> None:
    job = read_job(INCHES.replace("kerf: 1/8", "kerf: 2.8 mm"))
    # 2.8 mm are 0.1102 in; on the grid of both, steps of 0.001 mm, a sheet of 96 in takes seconds to plan.
    assert job.saw.kerf == pytest.approx(0.110 * 25.4)
    metric = read_job(INCHES.replace("kerf: 1/8", "kerf: 2.8 mm") + "shown: {unit: mm}\n")
    assert metric.saw.kerf == pytest.approx(2.8)  # parts are then sized in tenths of a millimetre


def test_a_unit_that_is_named_counts_before_that_of_the_file() -> None:
    job = read_job(INCHES)
    assert job.stock["half"].thickness.readings == (
        (pytest.approx(0.472 * 25.4), pytest.approx(0.476 * 25.4)),
        (12.0,),
    )
    assert job.table.tallest_upright == pytest.approx(609.6)


def test_what_is_no_length_stays() -> None:
    assert read_job(INCHES.replace("count: 3", "")).boxes[0].name == "tray"
    entries = job_entries(INCHES)
    assert entries["format"] == 1
    assert entries["stock"]["half"]["sheets"] == [{"length": "96 in", "width": "48 in", "label": "8 by 4"}]
    assert entries["cutter"]["mid_depth"] == "0.222 in ± 0.002 in"


def test_a_job_in_inches_is_shown_in_inches() -> None:
    assert read_job(INCHES).style.unit == "in"
    assert read_job(INCHES + "shown: {unit: mm}\n").style.unit == "mm"
    assert read_job(INCHES + "shown: {unit: in/64, decimal: ','}\n").style.unit == "in/64"
    assert read_job(METRIC).style.unit == "mm"


def test_usual_gauge_marks_are_those_of_an_inch_shop() -> None:
    assert read_job(INCHES).table.height_gauge_step == pytest.approx(0.002 * 25.4)


def test_faults_are_told_in_inches() -> None:
    text = INCHES.replace("trim: 0.25", "trim: -0.25").replace("kerf: 1/8", "kerf: 1/8x")
    with pytest.raises(FaultyInputError) as faulty:
        read_job(text, "bench.yaml")
    told = str(faulty.value)
    assert "bench.yaml:6: machine.saw.trim" in told
    assert "−0.25 in" in told
    assert " mm" not in told.replace("14.65 mm", "")  # the examples of how a length is written


def test_a_trial_file_is_in_the_unit_of_its_job(tmp_path: Path) -> None:
    (tmp_path / "bench.yaml").write_text(INCHES, "utf-8")
    trial = tmp_path / "trial.yaml"
    text = (
        "format: 1\ntrial: first\njob: bench.yaml\n"
        "cuts:\n  - {height_shown: 0.444, fence_shown: 0.305, readings: {roof: 0.03}}\n"
    )
    trial.write_text(text, "utf-8")
    read = open_trial(trial)
    assert read.cuts[0].height_shown.value == pytest.approx(0.444 * 25.4)
    assert read.style.unit == "in"
    trial.write_text(text.replace("0.444", "11.28").replace("0.305", "7.75") + "units: mm\n", "utf-8")
    assert open_trial(trial).cuts[0].height_shown.value == pytest.approx(11.28)


def test_what_the_program_writes_is_in_the_unit_of_the_file() -> None:
    text = set_in_mm(INCHES, ("bit_heights",), [11.43])
    text = set_in_mm(text, ("machine", "router_table", "height_gauge_offset"), "0.0508 ± 0.0254")
    text = set_in_mm(text, ("machine", "saw", "kerf"), "3/32 in")
    assert "bit_heights:\n  - 0.45\n" in text
    assert "height_gauge_offset: 0.002 ± 0.001" in text
    assert "kerf: 3/32 in" in text
    job = read_job(text)
    assert job.cutters[0].heights.kept == (pytest.approx(11.43),)
    assert job.table.height_gauge.uncertainty == pytest.approx(0.0254)


METRIC = """\
format: 1
job: Bench of the instrument maker
cutter: {mid_depth: 5.64, step: 3.45}
machine:
  saw: {kerf: 1/8 in, trim: 0.25}
stock:
  half:
    nominal: 1/2 in
    measured: [[11.9, 12 mm], 12.1]
    sheets: [{length: 2440, width: 1220}]
boxes:
  - {name: tray, outer: {width: 300, depth: 240, height: 80}, box: {all: half}}
"""


def _doubts(text: str) -> list[tuple[str, str]]:
    found = draft_findings(draft_job(read_job(text)))
    return [(f.where, str(f.text)) for f in found if f.code == "bare-number-beside-inches"]


def test_a_bare_number_beside_inches_is_asked_about() -> None:
    found = _doubts(METRIC)
    assert [where for where, _text in found] == [
        "machine.saw.trim",
        "stock.half.measured[1][1]",
        "stock.half.measured[2]",
    ]
    assert "0.25 mm or 0.25 in?" in found[0][1]


def test_a_doubtful_number_is_mended_in_its_own_field() -> None:
    draft = draft_job(read_job(METRIC))
    doubts = [found for found in draft_findings(draft) if found.code == "bare-number-beside-inches"]
    entries = [list(entries_concerned(found, draft, data_of(METRIC))) for found in doubts]
    assert entries[1:] == [[("stock", "half", "measured", 0, 0)], [("stock", "half", "measured", 1)]]


def test_a_guided_job_has_settled_its_unit() -> None:
    style = LengthStyle()
    read = {"length": figure_entry, "lengths": figure_entries, "whole": int, "text": str}
    answers = {each.name: read[each.kind](each.example) for each in questions(style) if each.example}
    made = guided_job(style, answers | {"opening_width": "22 1/2 in"})
    assert not made.faults
    assert not _doubts(made.text)


@pytest.mark.parametrize(
    ("name", "given", "words"),
    [
        ("mid_depth", "0.225 ± 0.002", "0.225 mm is too little"),
        ("step", "9/64", "0.140625 mm is too little"),
        ("mid_depth", "54", "54 mm is too much"),
        ("nominal", "0.61", "0.61 mm is too thin"),
        ("measured", [14.6, 146], "146 mm is too thick"),
        ("opening_depth", 52, "52 mm is too little"),
    ],
)
def test_a_measure_of_another_unit_is_asked_about(name: str, given: object, words: str) -> None:
    faults = guided_job(LengthStyle(), {name: given}).faults
    assert words in str(faults[name])
    assert "Check the unit" in str(faults[name])


def test_a_file_that_says_its_unit_is_not_asked() -> None:
    assert not _doubts(METRIC.replace("cutter:", "units: mm\ncutter:"))
    assert not _doubts(INCHES)


def _unlikely(text: str) -> list[tuple[str, str]]:
    found = draft_findings(draft_job(read_job(text)))
    return [(f.where, f"{f.text} {f.remedy}") for f in found if f.code == "unit-unlikely"]


@pytest.mark.parametrize(
    ("good", "slip", "where", "meant"),
    [
        ("width: 12", "width: 305", "boxes[1].outer.width", "305 mm"),
        ("mid_depth: 0.222", "mid_depth: 5.65", "cutter.mid_depth", "5.65 mm"),
    ],
)
def test_millimetres_in_a_file_in_inches_are_asked_about(
    good: str, slip: str, where: str, meant: str
) -> None:
    assert good in INCHES
    assert not _unlikely(INCHES)
    ((found, said),) = _unlikely(INCHES.replace(good, slip))
    assert found == where
    assert f"Did you mean {meant}?" in said


def test_inches_in_a_file_in_millimetres_are_asked_about() -> None:
    ((where, said),) = _unlikely(METRIC.replace("length: 2440", "length: 96"))
    assert where == "stock.half.sheets[1].length"
    assert "Did you mean 96 in?" in said
    assert not _unlikely(METRIC.replace("length: 2440", "length: 96 mm"))


def test_a_whole_file_in_the_other_unit_is_asked_about_once() -> None:
    with pytest.raises(FaultyInputError) as refused:
        read_job(INCHES.replace("units: in", "units: mm"))
    told = [fault for fault in refused.value.found if "taken as millimetres" in fault.message]
    assert [fault.field for fault in told] == ["units"]
    assert "units: in" in told[0].message


def test_a_slip_of_the_unit_is_named_beside_the_faults_that_it_makes() -> None:
    """What is 0.47 in thick cannot be 12 in thick nominally: the cause is named, not only what follows from it."""
    with pytest.raises(FaultyInputError) as refused:
        read_job(INCHES.replace("nominal: 1/2", "nominal: 12"))
    told = {fault.field: fault.message for fault in refused.value.found}
    assert set(told) == {"stock.half.nominal", "stock.half.measured"}
    assert "Did you mean 12 mm?" in told["stock.half.nominal"]


def test_nothing_is_nothing_in_any_unit() -> None:
    found = _doubts(METRIC.replace("trim: 0.25", "trim: 0"))
    assert "machine.saw.trim" not in [where for where, _text in found]


def test_bare_loads_of_a_job_in_inches_are_pounds() -> None:
    runners = {"slide": {"kind": "side-mounted", "lengths": [{"length": 18, "load": 100}]}}
    named = with_units_named({"runners": runners}, JobFile, "in")
    assert named["runners"]["slide"]["lengths"] == [{"length": "18 in", "load": "100 lb"}]
    # 1 lb is 0.45359237 kg exactly (international pound, 1959).
    assert in_unit(45.359237, JobFile, ("runners", "slide", "lengths", 0, "load"), "in") == 100


@pytest.mark.parametrize("model", [JobFile, TrialFile])
def test_no_length_of_a_file_stays_in_millimetres(model: type[BaseModel]) -> None:
    """Whatever the model calls a length is read in the unit of the file, however deep it stands."""
    for entry in described(model):
        if entry.unit in ("mm", "kg"):
            path = [
                0 if step == EACH and _is_list(model, entry.path[:place]) else step
                for place, step in enumerate(entry.path)
            ]
            metric = 25.4 if entry.unit == "mm" else 0.45359237
            given = [
                (metric, 1),
                ([metric], [1]),
                ([[metric, metric]], [[1, 1]]),
                ({"roof": metric}, {"roof": 1}),
            ]
            taken = [in_unit(value, model, path, "in") == wanted for value, wanted in given]
            assert any(taken), ".".join(entry.path)


def _is_list(model: type[BaseModel], path: tuple[str, ...]) -> bool:
    return next(entry.kind for entry in described(model) if entry.path == path).startswith("list")


def test_measures_of_a_joint_are_in_the_unit_of_the_file() -> None:
    joint = {"kind": "finger", "finger": 0.375, "clearance": "0.004"}
    for section in ("banks", "boxes"):
        named = with_units_named({section: [{"joint": joint}]}, JobFile, "in")
        assert named[section][0]["joint"] == {"kind": "finger", "finger": "0.375 in", "clearance": "0.004 in"}
        named = with_units_named({section: [{"joint": "finger"}]}, JobFile, "in")
        assert named[section][0]["joint"] == "finger"
