from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"


def faults(text: str) -> dict[str, tuple[int | None, str]]:
    with pytest.raises(FaultyInputError) as caught:
        read_job(text, "job.yaml")
    return {fault.field: (fault.line, fault.message) for fault in caught.value.faults}


def test_the_example_reads() -> None:
    job = read_job(EXAMPLE.read_text("utf-8"))
    assert len(job.all_boxes) == 15
    assert job.stock["birch15"].thickness.value == pytest.approx(14.614, abs=0.001)
    assert job.cutters[0].cutter.mid_depth.uncertainty == 0.05
    assert job.banks[0].boxes[0].lip == pytest.approx(7.5)


def test_a_job_file_of_the_first_release_still_opens() -> None:
    """The example as it was first published: no entry was renamed or taken out since."""
    job = read_job((Path(__file__).parent / "data" / "first-release.yaml").read_text("utf-8"))
    assert len(job.all_boxes) == 15
    assert [len(bank.boxes) for bank in job.banks] == [7, 5]
    assert job.stock["birch15"].thickness.value == pytest.approx(14.614, abs=0.001)


def forced(fences: str) -> str:
    text = EXAMPLE.read_text("utf-8")
    assert "fences: {plan: fewest, flushness: 0.05}" in text
    return text.replace("fences: {plan: fewest, flushness: 0.05}", f"fences: {fences}")


LINE_OF_FENCES = forced("here").splitlines().index("fences: here") + 1


def test_a_forced_fence_plan_that_bears_no_harm_is_taken() -> None:
    assert read_job(forced("{plan: tooth}")).cutters[0].fences.plan == "tooth"
    job = read_job(forced("{positions: [3.45, 14.61, 22.11]}"))
    assert (job.cutters[0].fences.plan, job.cutters[0].fences.positions) == ("given", (3.45, 14.61, 22.11))


def test_a_forced_routine_that_breaks_a_limit_is_a_fault_of_its_entry() -> None:
    (found,) = faults(forced("{plan: one}")).items()
    assert found[0] == "fences.plan"
    assert found[1][0] == LINE_OF_FENCES
    assert "leaves a neck of 1.83 mm" in found[1][1]
    assert "less than the 4.38 mm it must keep" in found[1][1]


def test_forced_positions_that_serve_no_corner_or_break_a_limit_are_a_fault() -> None:
    found = faults(forced("{positions: [9, 10]}"))["fences.positions"]
    assert found[0] == LINE_OF_FENCES
    assert "no two positions add up to the 25.56 mm" in found[1]
    assert "the nearest are 10.00 mm and 10.00 mm" in found[1]
    assert "change one of them by 5.56 mm" in found[1]
    found = faults(forced("{positions: [9.03, 12.78]}"))["fences.positions"]
    assert "leaves a neck of 1.83 mm" in found[1]
    found = faults(forced("{plan: one, positions: [9, 10]}"))["fences.positions"]
    assert found == (LINE_OF_FENCES, "are given as well as a plan: give one or the other")


def test_every_fault_is_reported_with_its_line() -> None:
    text = EXAMPLE.read_text("utf-8")
    lines = text.splitlines()

    def number(start: str) -> int:
        return next(n for n, line in enumerate(lines, start=1) if line.strip().startswith(start))

    bad = (
        text.replace("mid_depth: 5.65 ± 0.05", "mid_depth: five")
        .replace("kerf: 2.8", "kerf: -1")
        .replace("nominal: 6.5", "nominal: 6.5\n    colour: white")
        .replace("opening: {width: 462", "opening: {width: 4x6")
    )
    found = faults(bad)
    assert found["cutter.mid_depth"][0] == number("mid_depth")
    assert "'five'" in found["cutter.mid_depth"][1]
    assert found["machine.saw.kerf"][0] == number("saw:")
    line, message = found["stock.birch6.colour"]
    assert line == number("nominal: 6.5") + 1
    assert message.startswith("does not belong here; allowed are id, panel, nominal, ")
    assert "'4x6'" in found["banks[1].opening.width"][1]
    assert len(found) == 4


@pytest.mark.parametrize(
    ("entry", "field", "near"),
    [
        ("cutter: {kind: drawer-lock, mid_dept: 5, step: 3}", "cutter.mid_dept", "mid_depth"),
        ("stock: {birch: {nominal: 12, mesured: 3}}", "stock.birch.mesured", "measured"),
        ("banks: [{opening: {widht: 400}}]", "banks[1].opening.widht", "width"),
    ],
)
def test_a_misspelt_entry_is_answered_with_the_one_that_is_meant(entry: str, field: str, near: str) -> None:
    assert faults(entry)[field] == (1, f"does not belong here: did you mean {near}?")


def test_a_decimal_comma_between_braces_is_explained() -> None:
    line, message = faults("cutter: {kind: drawer-lock, mid_depth: 5,65, step: 3}")["cutter.65"]
    assert (line, "a comma ends the value" in message) == (1, True)
    line, message = faults('machine: {saw: {kerf: 1,8"}}')['machine.saw.8"']
    assert "a comma ends the value" in message


def test_faults_that_show_only_together_are_all_reported() -> None:
    bad = (
        EXAMPLE.read_text("utf-8")
        .replace(
            "box: {all: birch15}\n    bottom: {style: captured, stock: birch6",
            "box: {all: oak}\n    bottom: {style: captured, stock: ply",
        )
        .replace("arithmetic: {count: 5, smallest: 118}", "arithmetic: {count: 5}")
        .replace("count: 3\n", "count: 3\n    lip: 2\n    orientation: sides-flat\n")
    )
    found = faults(bad)
    assert "there is no stock 'oak'" in found["banks[1].box.all"][1]
    assert "birch15, birch6" in found["banks[1].bottom.stock"][1]
    assert "either 'step' or 'smallest'" in found["banks[2].fronts.heights"][1]
    assert "must be the flat piece" in found["boxes[1]"][1]


def test_faults_of_entries_and_faults_between_entries_come_at_once() -> None:
    text = EXAMPLE.read_text("utf-8")
    bad = (
        text.replace("kerf: 2.8", "kerf: wide")
        .replace("width: 462", "width: none")
        .replace("mid_depth: 5.65", "mid_depth: deep")
        .replace("nominal: 15\n", "nominal: x\n")
        .replace(
            "stock: birch6, groove_depth: 6, groove_height: 11",
            "stock: ply, groove_depth: 6, groove_height: 11",
        )
    )
    found = faults(bad)
    assert "there is no stock 'ply'" in found["banks[2].bottom.stock"][1]
    line = next(n for n, words in enumerate(text.splitlines(), start=1) if "groove_height: 11" in words)
    assert found["banks[2].bottom.stock"][0] == line
    assert {"machine.saw.kerf", "banks[1].opening.width", "cutter.mid_depth"} < set(found)
    assert "stock.birch15.nominal" in found
    assert not any("no stock 'birch" in message for _, message in found.values())


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "must hold named entries"),
        ("- 1", "must hold named entries"),
        ("a: [1", "cannot be read as YAML"),
        ("a: 1\na: 2", "cannot be read as YAML"),
        ("a:\n\tb: 1", "a tab stands there: indent with blanks"),
    ],
)
def test_texts_that_are_no_job(text: str, words: str) -> None:
    (fault,) = faults(text).values()
    assert words in fault[1]


def test_no_drawers_is_a_fault() -> None:
    text = EXAMPLE.read_text("utf-8")
    head = text[: text.index("banks:")]
    assert "has no drawers" in faults(head)[""][1]


@pytest.mark.parametrize(
    ("name", "more", "twice"),
    [
        ("A1", "", "A1"),  # as a drawer of the first bank
        ("Reed tray", "count: 2, ", "Reed tray 1"),
        ("Reed tray 3", "", "Reed tray 3"),  # as the last of three that are counted
    ],
)
def test_two_drawers_of_one_name_are_a_fault(name: str, more: str, twice: str) -> None:
    text = EXAMPLE.read_text("utf-8").rstrip()
    line = len(text.splitlines()) + 1
    text += (
        f"\n  - {{name: {name}, {more}outer: {{width: 200, depth: 200, height: 60}}, box: {{all: birch15}}}}"
    )
    found = faults(text)
    assert list(found) == ["boxes[2].name"]
    assert found["boxes[2].name"][0] == line
    assert f"a second drawer called {twice}:" in found["boxes[2].name"][1]
    assert len(read_job(text.replace(f"name: {name},", "name: chest,")).boxes) == 4 + ("2" in more)


def test_an_inset_front_covers_the_carcase_on_no_edge() -> None:
    lipped = "style: lipped\n      heights: {equal: 7}\n      reveal: 2.5\n      overlay: {sides: 7}"
    text = EXAMPLE.read_text("utf-8")
    assert lipped in text
    inset = lipped.replace("lipped", "inset")
    found = faults(text.replace(lipped, inset.replace("{sides: 7}", "{top: 3, bottom: 0, sides: -2}")))
    assert list(found) == ["banks[1].fronts.overlay.top"]
    assert "its overlay cannot be positive" in found["banks[1].fronts.overlay.top"][1]


def test_a_runner_keeps_its_table_but_for_the_users_figures() -> None:
    job = read_job(EXAMPLE.read_text("utf-8"))
    runner = job.banks[1].bank.runner
    assert (runner.side, runner.length, runner.line) == (13.0, 400, 35.0)


def test_a_list_is_not_called_too_short_for_a_fault_of_its_only_item() -> None:
    text = EXAMPLE.read_text("utf-8")
    wrong = text.replace("length: 1525", "length: wide")
    assert wrong != text
    assert set(faults(wrong)) == {"stock.birch6.sheets[1].length"}
    sheet = "\n      - {length: 1525, width: 1525, price: 39.80}"
    assert sheet in text
    assert "at least 1 entry" in faults(text.replace(sheet, " []"))["stock.birch6.sheets"][1]


def test_a_later_aim_that_stands_twice_is_a_fault_of_its_line_beside_all_others() -> None:
    text = EXAMPLE.read_text(encoding="utf-8").replace("kerf: 2.8", "kerf: wide")
    with pytest.raises(FaultyInputError) as refused:
        read_job(text + "\nsheets: {later_aims: [routing, routing]}\n")
    kerf, aims = refused.value.faults
    assert (kerf.field, aims.field) == ("machine.saw.kerf", "sheets.later_aims")
    assert aims.line == len(text.splitlines()) + 2
    assert "each at most once" in aims.message


def test_an_offcut_to_keep_has_its_length_on_the_longer_side() -> None:
    text = EXAMPLE.read_text("utf-8")
    job = read_job(text + "\nsheets: {least_offcut: {length: 600, width: 8 in}}\n")
    assert (job.least_offcut.length, job.least_offcut.width) == (600, 203.2)
    field, (line, words) = faults(text + "\nsheets: {least_offcut: {length: 80, width: 120}}\n").popitem()
    assert (field, line) == ("sheets.least_offcut.width", len(text.splitlines()) + 2)
    assert "to keep (120 mm) must be more than 0 and no more than its length (80 mm)" in words
    assert "more than 0" in faults(text + "\nsheets: {least_offcut: {width: 0}}\n")[field][1]


def test_a_file_of_a_newer_program_is_told_so() -> None:
    text = EXAMPLE.read_text("utf-8").replace("format: 1", "format: 2")
    line, words = faults(text)["format"]
    assert line is not None
    assert "2 is the format of a newer Drawerwright; this one reads 1 at most" in words
    assert "must be 1" in faults(EXAMPLE.read_text("utf-8").replace("format: 1", "format: 0"))["format"][1]
