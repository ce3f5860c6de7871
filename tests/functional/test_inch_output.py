"""Output of a job in inches shows no millimetre, but for the bar that is given in both on purpose."""

from __future__ import annotations

import contextlib
import io
import json
import re
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pypdf
import pytest

from drawerwright.cli import main
from printed_text import page_texts

BENCH = Path(__file__).parents[2] / "examples" / "repair-bench.yaml"
METRIC = re.compile(r"\bmm\b|\bcm\b|mm²|m²|millimet|square metre|\d m\b(?!/s)|\d g\b", re.IGNORECASE)
BOTH = ("These bars must measure 4 in and 100 mm on paper.", "\n100 mm\n", "100 mm\n")
"""What is said in both units."""
NO_DOUBT = re.compile(r"± 0\.0+ in")


@dataclass(frozen=True)
class Planned:
    """Jobs in inches, each planned once."""

    terminal: str
    folder: Path


ROUGH = """\
format: 1
job: Music stands and their shelf
units: in
cutter: {mid_depth: 0.222, step: 0.136, cutting_height: 0.44, diameter: 1 3/4}
machine: {saw: {kerf: 3/32, trim: 1/4, stack: 3, cutting_height: 1}, sacrificial_strip: {width: 1/2}}
stock:
  half: {panel: us-plywood, nominal: 1/2, sheets: [{length: 96, width: 48}]}
  thick: {panel: birch-plywood, nominal: 3/4, measured: [0.70, 0.74], sheets: [{length: 60, width: 60}]}
  quarter: {panel: solid, nominal: 1/4, sheets: [{length: 48, width: 24}], offcuts: [{length: 30.06, width: 20}]}
banks:
  - name: Stands
    opening: {width: 20, height: 21, depth: 19}
    fronts:
      style: lipped
      heights: {arithmetic: {count: 4, step: 1/2}}
      reveal: 1/8
      overlay: {sides: 5/16}
      pull: {hole: 3/16}
    runner: {kind: side-mounted, length: 18}
    box: {all: half}
    bottom: {style: slid, stock: quarter, groove_depth: 1/4, groove_height: 3/8}
  - name: Scores
    opening: {width: 16, height: 20, depth: 19}
    fronts:
      style: applied
      heights: {equal: 3}
      reveal: 1/8
      overlay: {sides: 3/8, top: 3/8, bottom: 3/8}
      stock: thick
      match: true
    runner: {kind: wooden, back: 1/2}
    box: {all: half, sides: thick}
    banding: {thickness: 1/32, box_top: true}
    bottom: {style: fixed, stock: quarter}
"""
"""A shop that has measured little and says little: many findings, and steps that the example does not have."""

SMALL = """\
format: 1
job: Letter tray
units: in
cutter: {mid_depth: 0.222 ± 0.002, step: 0.136 ± 0.001, cutting_height: 0.7, diameter: 1 3/4}
stock:
  half: {panel: us-plywood, nominal: 1/2, measured: [0.474, 0.477], sheets: [{length: 48, width: 24, price: 31}]}
  quarter: {panel: us-plywood, nominal: 1/4, measured: [0.201, 0.203], sheets: [{length: 48, width: 24}]}
boxes:
  - name: Tray
    count: 3
    outer: {width: 12, depth: 14, height: 3}
    box: {all: half}
    bottom: {style: fixed, stock: quarter}
"""
"""Small enough to be planned again for each question of --what-if."""

ASKED = {
    "bench": (BENCH.read_text("utf-8"), ["--files", "pdf,svg"]),
    "rough": (ROUGH, ["--files", "pdf,labels,xlsx"]),
    "small": (SMALL, ["--files", "csv,dxf", "--what-if"]),
}


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = tmp_path_factory.mktemp("inches")
    said = ""
    for name, (job, more) in ASKED.items():
        file = folder / f"{name}.yaml"
        file.write_text(job, "utf-8")
        output = io.StringIO()
        with contextlib.redirect_stdout(output), contextlib.redirect_stderr(output):
            out = ["--out", str(folder / name), "--time-limit", "0.4"]
            codes = main(["plan", str(file), *out, *more]), main(["check", str(file)])
        assert all(code in (0, 3) for code in codes), output.getvalue()
        said += output.getvalue()
    return Planned(said, folder)


def _metric(text: str) -> list[str]:
    for both in BOTH:
        text = text.replace(both, "")
    return [line for line in text.splitlines() if METRIC.search(line)]


def test_the_terminal_shows_no_millimetre(planned: Planned) -> None:
    assert "in" in planned.terminal
    assert "warning" in planned.terminal
    assert "What if" in planned.terminal
    assert _metric(planned.terminal) == []
    assert not NO_DOUBT.search(planned.terminal)


@pytest.mark.parametrize(
    "command",
    [
        ("strength", "{bench}"),
        ("movement", "--units", "in", "--species", "sugar maple", "--size", "4", "--climate", "heated-room"),
        (
            *("bottom", "--units", "in", "--width", "16", "--length", "20", "--thickness", "1/4"),
            *("--panel", "plywood", "--load", "22"),
        ),
    ],
    ids=lambda command: command[0],
)
def test_other_commands_show_no_millimetre(
    command: tuple[str, ...], planned: Planned, capsys: pytest.CaptureFixture[str]
) -> None:
    main([part.format(bench=planned.folder / "bench.yaml") for part in command])
    told = capsys.readouterr().out
    assert told
    assert _metric(told) == []


@pytest.mark.parametrize("name", ["bench", "rough"])
def test_the_packet_shows_no_millimetre_and_is_printed_on_letter(planned: Planned, name: str) -> None:
    file = planned.folder / name / "packet.pdf"
    text = "\n".join(page_texts(file))
    assert "48 × 96 in" in text
    assert "ft" in text
    assert _metric(text) == []
    assert not NO_DOUBT.search(text)
    sides = {tuple(sorted(map(float, page.mediabox[2:]))) for page in pypdf.PdfReader(file).pages}
    assert sides == {(612.0, 792.0)}  # US letter, 8 1/2 by 11 in of 72 points


def test_labels_and_workbook_show_no_millimetre(planned: Planned) -> None:
    """The workbook's own cells are numbers in the unit that its heads name."""
    folder = planned.folder / "rough"
    labels = sorted(folder.glob("labels-*.pdf"))
    assert labels
    for file in labels:
        assert _metric("\n".join(page_texts(file))) == [], file.name
    with zipfile.ZipFile(folder / "job.xlsx") as book:
        cells = re.sub(r"<[^>]*>", "\n", book.read("xl/sharedStrings.xml").decode())
    assert "(in)" in cells
    assert _metric(cells) == []


def test_drawings_and_steps_show_no_millimetre(planned: Planned) -> None:
    for file in sorted((planned.folder / "bench" / "drawings").glob("*.svg")):
        shown = re.sub(r"<style.*?</style>|<[^>]*>", "\n", file.read_text("utf-8"), flags=re.DOTALL)
        assert _metric(shown) == [], file.name


def test_files_for_machines_stay_in_millimetres_and_say_so(planned: Planned) -> None:
    report = json.loads((planned.folder / "small" / "plan.json").read_text("utf-8"))
    assert report["units"]["length"] == "mm"
    side = next(part for part in report["parts"] if part["label"].endswith("left side"))
    assert side["width"] == pytest.approx(76.2)  # 3 in
    head = (planned.folder / "small" / "parts.csv").read_text("utf-8").splitlines()[0]
    assert "length_mm" in head
    import ezdxf

    drawing = ezdxf.readfile(next((planned.folder / "small" / "drawings").glob("sheet-*.dxf")))
    assert drawing.units == ezdxf.units.MM


def test_test_cuts_are_told_in_inches_with_lines_to_paste(
    planned: Planned, capsys: pytest.CaptureFixture[str]
) -> None:
    trial = planned.folder / "trial.yaml"
    trial.write_text(
        "format: 1\ntrial: first cut\njob: bench.yaml\n"
        "cuts:\n  - {height_shown: 0.334, fence_shown: 0.290, readings: {roof: 0.141, play: 0.004, neck: 0.183}}\n",
        "utf-8",
    )
    assert main(["correct", str(trial)]) == 0
    told = capsys.readouterr().out
    assert _metric(told) == []
    assert not NO_DOUBT.search(told)
    (line,) = re.findall(r"^  cutter\.mid_depth: (\S+) ± (\S+)$", told, re.MULTILINE)
    assert 0.16 < float(line[0]) < 0.18  # as the job file has it: inches
    assert 0 < float(line[1]) < 0.01
    assert main(["correct", str(trial), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["units"] == {"length": "mm"}


def test_settings_are_told_in_the_unit_that_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    corner = ["--mid-depth", "0.168 ± 0.002", "--step", "0.106", "--flat", "0.473", "--upright", "0.473"]
    assert (
        main(["settings", "--units", "in", *corner, "--outer", "21", "--height-gauge-offset", "0.001"]) == 0
    )
    told = capsys.readouterr().out
    assert _metric(told) == []
    assert re.search(r"tight bit height +0\.336 in", told)  # twice the mid depth, by the law
    assert main(["settings", "--units", "in", *corner, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["units"] == {"length": "mm"}
    assert data["bit_height"] == pytest.approx(0.336 * 25.4, abs=0.001)


def test_findings_of_joints_without_a_cutter_are_told_in_inches(capsys: pytest.CaptureFixture[str]) -> None:
    stock = ["--units", "in", "--flat", "0.5", "--upright", "0.5", "--width", "4"]
    main(["settings", "--kind", "finger", *stock, "--finger", "0.1"])
    told = capsys.readouterr().out
    assert "fingers of 0.1 in" in told
    assert _metric(told) == []
    main(["settings", "--kind", "rebate", *stock, "--depth", "0.45"])
    assert "a rebate 0.45 in deep" in capsys.readouterr().out


def test_a_measured_cutter_is_told_in_inches(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Bare numbers would be inches too, so the example's millimetres are written out."""
    text = BENCH.with_name("measured-cutter.csv").read_text(encoding="utf-8")
    measured = tmp_path / "measured.csv"
    measured.write_text(re.sub(r"(?m)^([\d.]+),([-\d.]+)$", r"\1 mm,\2 mm", text), encoding="utf-8")
    assert main(["cutter", "--units", "in", str(measured)]) == 0
    told = capsys.readouterr().out
    assert "mates with itself: middle at 0.222 in" in told
    assert _metric(told) == []


def test_fit_and_faults_are_told_in_inches(planned: Planned, capsys: pytest.CaptureFixture[str]) -> None:
    corner = ["--mid-depth", "0.168", "--step", "0.106", "--flat", "0.473", "--upright", "0.473"]
    at = ["--bit-height", "0.340", "--fence-flat", "0.290", "--fence-upright", "0.290"]
    assert main(["fit", "--units", "in", *corner, *at]) == 0
    assert _metric(capsys.readouterr().out) == []
    wrong = planned.folder / "wrong.yaml"
    wrong.write_text(
        BENCH.read_text("utf-8").replace("height: 28, depth: 22", "height: 9, depth: 12"), "utf-8"
    )
    assert main(["check", str(wrong)]) == 2
    assert _metric(capsys.readouterr().err) == []
