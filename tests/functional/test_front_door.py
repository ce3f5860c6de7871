"""`import drawerwright as dw`: what a Python user meets."""

from __future__ import annotations

import ast
import dataclasses
import importlib
import inspect
import json
import math
import runpy
import subprocess
import sys
import warnings
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pytest

import drawerwright as dw
from drawerwright.cli import main
from drawerwright.job.test_cuts.trial_reading import open_trial

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
CUTTER = dw.Cutter(mid_depth=5.65, step=3.45)
LOADED = """
import sys
before = set(sys.modules)
import drawerwright
print(*sorted(set(sys.modules) - before))
"""


def test_the_bare_import_loads_nothing_else() -> None:
    done = subprocess.run([sys.executable, "-c", LOADED], capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) <= {"__future__", "drawerwright"}


def test_a_small_name_loads_only_what_it_needs() -> None:
    code = LOADED.replace("import drawerwright\n", "import drawerwright\ndrawerwright.Cutter\n")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    rooms = {name.split(".")[1] for name in done.stdout.split() if name.startswith("drawerwright.")}
    assert rooms == {"basics", "joints"}


def test_type_checkers_see_the_names_that_are_handed_out() -> None:
    tree = ast.parse((ROOT / "src/drawerwright/__init__.py").read_text("utf-8"))
    seen = {
        alias.name: node.module
        for branch in tree.body
        if isinstance(branch, ast.If)
        for node in branch.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert seen == {name: f"drawerwright.{home}" for name, home in dw._HOMES.items()}
    assert sorted(seen) == sorted(dw.__all__)
    assert set(dw.__all__) <= set(dir(dw))
    for name, home in seen.items():
        assert getattr(dw, name) is getattr(importlib.import_module(str(home)), name)
        assert getattr(dw, name).__doc__, name


def test_a_name_that_is_none_is_refused_as_python_does() -> None:
    with pytest.raises(AttributeError, match="'drawerwright' has no attribute 'corners'"):
        _ = dw.corners  # type: ignore[attr-defined]


def test_a_name_is_withdrawn_with_a_warning_that_says_what_to_use(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(dw._HOMES, "router", "joints.table")
    monkeypatch.setitem(dw._WITHDRAWN, "RouterTable", "write Table instead")
    monkeypatch.delitem(vars(dw), "RouterTable", raising=False)
    for _ in range(2):  # each use warns: the name is not kept
        with pytest.warns(DeprecationWarning, match=r"RouterTable goes with the next release: write Table"):
            assert dw.RouterTable.__name__ == "RouterTable"
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert dw.FitRange.__name__ == "FitRange"


def test_results_are_frozen() -> None:
    corner = dw.corner(CUTTER, 14.6, 14.6)
    with pytest.raises(dataclasses.FrozenInstanceError):
        corner.cutter = CUTTER  # type: ignore[misc]


def test_a_corner_says_what_the_command_says(capsys: pytest.CaptureFixture[str]) -> None:
    settings = [
        "--mid-depth",
        "5.65",
        "--step",
        "3.45",
        "--flat",
        "14.6",
        "--upright",
        "14.6",
        "--outer",
        "420",
    ]
    main(["settings", *settings])
    corner = dw.corner(CUTTER, 14.6, 14.6, outer=420)
    assert str(corner) + "\n" == capsys.readouterr().out
    main(["settings", *settings, "--json"])
    told = json.loads(capsys.readouterr().out)["recommended"]
    assert told["bit_height"] == pytest.approx(corner.bit_height, abs=5e-4)
    assert told["upright_length"] == pytest.approx(corner.upright_length, abs=5e-4)
    assert told["odds"] is not None
    assert corner.odds is not None
    # The law (docs/law.md): h = 2 m, and one fence for both pieces is half of thickness and step.
    assert corner.tight_bit_height == pytest.approx(2 * 5.65)
    assert corner.fence_flat == corner.fence_upright == pytest.approx((14.6 + 3.45) / 2, abs=0.05)


def test_stated_as_exact_stays_exact() -> None:
    exact = dw.Cutter(mid_depth=dw.Estimate(5.65, 0), step=dw.Estimate(3.45, 0), slope=dw.Estimate(45, 0))
    known = dw.RouterTable(height_gauge=dw.Estimate(0, 0), fence_gauge=dw.Estimate(0, 0), repeatability=0.0)
    wood = dw.Estimate(14.6, 0)
    assert dw.corner(exact, wood, wood, table=known).odds is None
    assert dw.corner(exact, wood, wood).odds is not None  # gauges of which nothing is said


def test_boards_edge_to_edge(capsys: pytest.CaptureFixture[str]) -> None:
    """Three boards overlap twice; what each joint takes is told by the command as well."""
    boards = "--kind edge --mid-depth 9 --step 4 --flat 18 --upright 18 --outer 400 --boards 3"
    main(["settings", *boards.split(), "--json"])
    told = json.loads(capsys.readouterr().out)["recommended"]
    panel = dw.corner(dw.Cutter("edge", mid_depth=9, step=4), 18, 18, outer=400, boards=3)
    assert panel.upright_length == pytest.approx(told["board_width"], abs=5e-4)
    assert panel.upright_length == pytest.approx((400 + 2 * 4) / 3, abs=0.05)
    ElementTree.fromstring(panel._repr_svg_())


def test_a_corner_that_cannot_be_meant_is_refused_with_what_to_change() -> None:
    with pytest.raises(dw.DrawerwrightError, match="fence must be a number, 'one' or 'tooth', not 'two'"):
        dw.corner(CUTTER, 14.6, 14.6, fence="two")  # type: ignore[arg-type]
    with pytest.raises(dw.DrawerwrightError, match=r"flat piece must be more than 0, not -14\.6 mm"):
        dw.corner(CUTTER, -14.6, 14.6)
    with pytest.raises(dw.DrawerwrightError, match="dovetail"):
        dw.Cutter("dovetail", mid_depth=5.65, step=3.45)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (
            lambda: dw.Cutter(mid_depth=5.65, step=3.45, diameter="big"),
            ["diameter must be a number or None, not 'big'"],
        ),
        (
            lambda: dw.Cutter(mid_depth="5,65"),
            ["mid_depth must be a number or an Estimate, not '5,65'", "step is missing"],
        ),
        (lambda: dw.Estimate("a", 1), ["value must be a number, not 'a'"]),
        (lambda: dw.SheetSize("a", 900, 600, price=math.nan), ["price must be a number or None, not nan"]),
        (lambda: dw.RouterTable(speeds=[8000, "fast"]), ["speeds[2] must be a number, not 'fast'"]),
        (
            lambda: dw.SheetPart(length="x"),
            ["length must be a number, not 'x'", "name is missing", "width is missing"],
        ),
        (
            lambda: dw.plan_sheets([dw.SheetPart("a", 4, 3), "b"], "board", kerf="3"),
            [
                "parts[2] must be a SheetPart, not 'b'",
                "sheets must be a list (a SheetSize each), not 'board'",
                "kerf must be a number, not '3'",
            ],
        ),
        (
            lambda: dw.corner("c", 14, "14.6", outer="wide", boards=True),
            [
                "cutter must be a Cutter, not 'c'",
                "upright must be a number or an Estimate, not '14.6'",
                "outer must be a number or None, not 'wide'",
                "boards must be a whole number, not True",
            ],
        ),
        (
            lambda: dw.corner(CUTTER, 14.6, 14.6, lip=math.nan, fence=math.inf),
            ["lip must be a number, not nan", "fence must be a number, 'one' or 'tooth', not inf"],
        ),
        (
            lambda: dw.fit(3, 14, 14, bit_height="high", fence_flat=9, fence_upright=9),
            ["cutter must be a Cutter or a path, not 3", "bit_height must be a number, not 'high'"],
        ),
        (
            lambda: dw.correct(dw.corner(CUTTER, 14.6, 14.6), [1, 2]),
            ["cuts[1] must be a TestCut, not [1, 2]"],
        ),
        (lambda: dw.correct(3), ["tried must be a CornerSettings or a path, not 3"]),
        (lambda: dw.TestCut(readings=3), ["readings must be a dict, not 3"]),
        (lambda: dw.open_job(3), ["path must be a path, not 3"]),
        (
            lambda: dw.open_job(EXAMPLES / "music-school.yaml").plan(time_limit="long"),
            ["time_limit must be a number above 0 or None, not 'long'"],
        ),
        (
            lambda: dw.plan_sheets([], [], kerf=3, time_limit=-1),
            ["time_limit must be a number above 0 or None, not -1"],
        ),
    ],
)
def test_what_is_of_another_kind_is_named_all_at_once(call: Callable[[], object], words: list[str]) -> None:
    with pytest.raises(dw.DrawerwrightError) as found:
        call()
    assert str(found.value).splitlines() == words


def test_what_is_only_missing_python_says() -> None:
    with pytest.raises(TypeError, match="missing 1 required keyword-only argument: 'step'"):
        dw.Cutter(mid_depth=5.65)


def test_every_name_of_the_front_door_holds_its_arguments_against_their_annotations() -> None:
    """Nothing in it takes an object of no kind at all; `Estimate.given` and the like are inside."""
    stranger = object()
    for name in set(dw.__all__) - {"DrawerwrightError"}:
        named = getattr(dw, name)
        first = next(iter(inspect.signature(named).parameters))
        is_placed = inspect.signature(named).parameters[first].kind is inspect.Parameter.POSITIONAL_ONLY
        with pytest.raises(dw.DrawerwrightError, match=f"^{first} must be "):
            named(stranger) if is_placed else named(**{first: stranger})


def test_a_fit_says_what_the_command_says(capsys: pytest.CaptureFixture[str]) -> None:
    settings = {"bit_height": 11.5, "fence_flat": 9.0, "fence_upright": 9.05}
    wood = ["--flat", "14.6", "--upright", "14.6"]
    told = [part for name, value in settings.items() for part in (f"--{name.replace('_', '-')}", str(value))]
    main(["fit", "--mid-depth", "5.65", "--step", "3.45", *wood, *told])
    assert str(dw.fit(CUTTER, 14.6, 14.6, **settings)) + "\n" == capsys.readouterr().out
    profile = EXAMPLES / "measured-cutter.csv"
    main(["fit", "--profile", str(profile), "--profile-uncertainty", "0.01", *wood, *told])
    seated = dw.fit(profile, 14.6, 14.6, **settings, profile_uncertainty=0.01)
    assert str(seated) + "\n" == capsys.readouterr().out


def test_the_wood_at_the_tight_height_closes_without_play() -> None:
    corner = dw.corner(CUTTER, 14.6, 14.6)
    fences = {"fence_flat": corner.fence_flat, "fence_upright": corner.fence_upright}
    tight = dw.fit(CUTTER, 14.6, 14.6, bit_height=corner.tight_bit_height, **fences)
    assert (tight.closes, tight.is_held) == (True, True)
    assert tight.play == pytest.approx(0.0, abs=1e-6)
    loose = dw.fit(CUTTER, 14.6, 14.6, bit_height=corner.bit_height, **fences)
    assert loose.play == pytest.approx(corner.play)


def test_test_cuts_say_what_their_file_says(capsys: pytest.CaptureFixture[str]) -> None:
    path = EXAMPLES / "test-cut.yaml"
    of_file = dw.correct(path)
    main(["correct", str(path)])
    assert str(of_file) + "\n" == capsys.readouterr().out

    trial = open_trial(path)
    wanted = trial.wanted
    corner = dw.corner(
        trial.cutter,
        wanted.flat_thickness,
        wanted.upright_thickness,
        lip=wanted.lip,
        fence=wanted.fence,
        table=trial.table,
        fit=wanted.fit,
    )
    told = dw.correct(
        corner,
        dw.TestCut(
            height_shown=11.25,
            fence_flat_shown=16.50,
            fence_upright_shown=9.05,
            flat=14.62,
            upright=14.60,
            seen="proud",
            readings={"roof": 3.35, "deepest_cut": 16.57, "stands_proud": dw.Estimate(0.10, 0.05)},
        ),
        dw.TestCut(
            height_shown=11.15,
            fence_flat_shown=16.45,
            fence_upright_shown=9.00,
            flat=14.62,
            upright=14.60,
            seen="play",
            readings={"play": 0.05, "lip": 7.52},
        ),
    )
    assert told.correction.next_cut == of_file.correction.next_cut
    assert told.cutter == of_file.cutter


def test_odds_that_hang_on_a_question_say_so() -> None:
    corner = dw.corner(CUTTER, 14.6, 14.6)
    cut = {"height_shown": 11.2, "fence_shown": 9.05, "readings": {"play": 0.05}}
    asked = dw.correct(corner, dw.TestCut(**cut))
    seen = dw.correct(corner, dw.TestCut(**cut, seen="play"))
    assert "goes home" in asked.findings[0].text
    assert "If cut 1 goes home by hand" in asked._repr_html_()
    assert not any("goes home" in finding.text for finding in seen.findings)
    assert "If cut 1" not in seen._repr_html_()


def test_every_fault_of_the_test_cuts_is_named() -> None:
    corner = dw.corner(CUTTER, 14.6, 14.6)
    with pytest.raises(dw.DrawerwrightError) as found:
        dw.correct(
            corner, dw.TestCut(fence_shown=9.0), dw.TestCut(height_shown=11.2, readings={"roof": "seen"})
        )
    faults = str(found.value).splitlines()
    assert [fault.split(":")[0] for fault in faults] == ["cuts[1]", "cuts[2]"]
    with pytest.raises(
        dw.DrawerwrightError, match=r"cuts\[1\]\.readings\.turn_over: is not read with a drawer-lock"
    ):
        dw.correct(corner, dw.TestCut(height_shown=11.2, fence_shown=9.0, readings={"turn_over": 0.1}))
    with pytest.raises(dw.DrawerwrightError, match="at least one"):
        dw.correct(corner)


def test_as_many_sheets_as_can_be_counted_by_hand() -> None:
    """1220 holds 2 × 600 and a kerf of 3.2, but 1200, what a trim of 10 at either edge leaves, does not."""
    parts = [dw.SheetPart("panel", 600, 600, count=8)]
    sheets = [dw.SheetSize("square", 1220, 1220, price=30.0)]
    four_each = dw.plan_sheets(parts, sheets, kerf=3.2)
    assert (four_each.new_sheets, four_each.cost, four_each.proven) == (2, 60.0, True)
    one_each = dw.plan_sheets(parts, sheets, kerf=3.2, trim=10)
    assert (one_each.new_sheets, len(one_each.drawings)) == (8, 8)


def test_a_part_larger_than_the_sheets_on_hand_is_told_their_size() -> None:
    sheets = [dw.SheetSize("half", 1250, 1250, on_hand=3), dw.SheetSize("whole", 2500, 1250, on_hand=1)]
    with pytest.raises(dw.DrawerwrightError) as found:
        dw.plan_sheets([dw.SheetPart("plinth", 4000, 90)], sheets, kerf=3, trim=10)
    assert str(found.value) == (
        "plinth: 4000.0 mm × 90.0 mm fits no sheet of this stock (the largest sheet, whole, leaves 2480 x 1230 "
        "after trimming): use a larger sheet, trim less, or plan smaller parts."
    )


def test_parts_of_a_band_are_ripped_from_it() -> None:
    parts = [
        dw.SheetPart("side", 400, 120, count=4, band="sides"),
        dw.SheetPart("low side", 400, 90, count=2, band="sides"),
    ]
    sheets = [dw.SheetSize("board", 1000, 800)]
    planned = dw.plan_sheets(parts, sheets, kerf=3.0, sacrificial_strip=20)
    bands = [band for layout in planned.cut.plan.layouts for band in layout.bands]
    assert sum(len(band.strips) for band in bands) == 6
    assert {band.length for band in bands} == {400}
    assert planned.cost is None
    assert "low side 2" in planned._repr_html_()


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ([], "there is no part: give at least one"),
        ([("a", 400, 0)], "a: the width must be more than 0, not 0 mm"),
        ([("a", math.inf, 90)], "length must be a number, not inf"),
        ([("a", 400, 90), ("a", 300, 90)], "a is given more than once"),
        (
            [("a", 400, 90, 1, "x"), ("b", 300, 90, 1, "x")],
            "band x must be equally long.*not 300 mm and 400 mm",
        ),
        ([("a", 400, 90, 0)], "a: the count must be 1 or more, not 0"),
        ([("a", 400, 90, 1.5)], "count must be a whole number, not 1.5"),
        ([("a", 4000, 90)], "a: 4000.0 mm × 90.0 mm fits no sheet of this stock"),
    ],
)
def test_parts_that_cannot_be_meant_are_refused(parts: list[tuple[str, float, float]], words: str) -> None:
    with pytest.raises(dw.DrawerwrightError, match=words):
        dw.plan_sheets([dw.SheetPart(*part) for part in parts], [dw.SheetSize("board", 1000, 800)], kerf=3)


SMALL = """
format: 1
job: '<b>"Trays" & more</b>'
cutter: {name: small, kind: drawer-lock, mid_depth: 5.6, step: 3.4, cutting_height: 13}
machine: {saw: {kerf: 3}}
stock:
  <i>birch: {panel: birch-plywood, nominal: 15, measured: [[14.6, 14.7]], sheets: [{length: 1525, width: 1525}]}
  birch6: {panel: birch-plywood, nominal: 6.5, measured: [[6.3]], sheets: [{length: 1525, width: 1525}]}
boxes:
  - name: tray
    count: 2
    outer: {width: 400, depth: 300, height: 90}
    box: {all: <i>birch}
    bottom: {style: fixed, stock: birch6, clearance: 1}
"""


@pytest.fixture(scope="module")
def small_job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("job") / "small.yaml"
    path.write_text(SMALL, "utf-8")
    return path


def test_a_job_from_file_to_packet(small_job: Path, tmp_path: Path) -> None:
    job = dw.open_job(str(small_job))
    plan = job.plan(time_limit=5)
    written = plan.write(tmp_path / "out")
    assert written[0].name == "packet.pdf"
    assert written[0].read_bytes().startswith(b"%PDF")
    assert len(plan.parts) == 10
    kept = json.loads((tmp_path / "out" / "plan.json").read_text("utf-8"))
    assert isinstance(plan.data, dict)
    assert kept["parts"] == plan.data["parts"]
    assert {f"drawings/{name}.svg" for name in plan.drawings} <= set(kept["files"])
    assert plan.days == (plan,)
    assert [finding.code for finding in job.findings if finding.stops] == []
    assert not plan.stops


def test_a_job_split_into_days(small_job: Path, tmp_path: Path) -> None:
    split = tmp_path / "split.yaml"
    split.write_text(SMALL.replace("boxes:", "days: [[tray 1], [tray 2]]\nboxes:"), "utf-8")
    plan = dw.open_job(split).plan(time_limit=5)
    assert [len(day.parts) for day in plan.days] == [5, 5]
    assert isinstance(plan.data, list)
    assert len(plan.parts) == 10
    plan.write(tmp_path / "out")
    for name in plan.drawings:
        day, drawing = name.split("/")
        assert (tmp_path / "out" / day / "drawings" / f"{drawing}.svg").exists()


def test_every_fault_of_a_job_file_comes_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "faulty.yaml"
    path.write_text(
        SMALL.replace("mid_depth: 5.6", "mid_depth: -5.6").replace("width: 400", "width: wide"), "utf-8"
    )
    with pytest.raises(dw.DrawerwrightError) as found:
        dw.open_job(path)
    assert [line.split(": ")[0] for line in str(found.value).splitlines()] == [f"{path}:4", f"{path}:12"]


def test_a_notebook_shows_drawings_and_tables_with_every_text_escaped(small_job: Path) -> None:
    plan = dw.open_job(small_job).plan(time_limit=5)
    shown = plan._repr_html_()
    assert "<b>" not in shown
    assert "<i>" not in shown
    assert "&lt;b&gt;&quot;Trays&quot; &amp; more&lt;/b&gt;" in shown
    page = ElementTree.fromstring(f"<div>{shown}</div>")
    captions = [caption.text for caption in page.iter("caption")]
    assert captions == ["Corners", "Sheets"]

    sheets = dw.plan_sheets([dw.SheetPart("<i>x", 100, 90)], [dw.SheetSize("<b>", 1000, 800)], kerf=3)
    corner = dw.corner(CUTTER, 14.6, 14.6)
    seated = dw.fit(CUTTER, 14.6, 14.6, bit_height=11.2, fence_flat=9.0, fence_upright=9.0)
    assert "<i>" not in sheets._repr_html_()
    assert "<b>" not in sheets._repr_html_()
    for svg in (
        corner._repr_svg_(),
        seated._repr_svg_(),
        sheets.drawings[0]._repr_svg_(),
        *(drawing._repr_svg_() for drawing in plan.drawings.values()),
    ):
        assert ElementTree.fromstring(svg).tag == "{http://www.w3.org/2000/svg}svg"
    advice = dw.correct(corner, dw.TestCut(height_shown=11.2, fence_shown=9.0, readings={"play": 0.1}))
    table = ElementTree.fromstring(f"<div>{advice._repr_html_()}</div>")
    assert [row[0].text for row in table.iter("tr")][1:] == [
        "height",
        "fence, flat piece",
        "fence, upright piece",
    ]


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.py")), ids=lambda path: path.stem)
def test_the_examples_run(
    example: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert len(example.read_text("utf-8").splitlines()) <= 40
    monkeypatch.chdir(tmp_path)
    runpy.run_path(str(example), run_name="__main__")
    said = capsys.readouterr()
    assert "mm" in said.out
    assert not said.err


def test_there_are_three_examples() -> None:
    assert {path.stem for path in EXAMPLES.glob("*.py")} == {
        "corrected_test_cut",
        "job_to_packet",
        "one_corner",
    }


def test_a_thickness_without_its_decimal_sign_is_asked_about() -> None:
    """146 for 14.6: no joint for drawers is made in stock over 40 mm (common practice, no source)."""
    found = dw.corner(dw.Cutter(mid_depth=5.65, step=3.45), flat=146, upright=14.6)
    (slip,) = [each for each in found.findings if each.code == "thickness-unlikely"]
    assert slip.where == "flat piece"
    assert "14.6 mm" in slip.remedy
    assert "14.6 mm" in str(found)
