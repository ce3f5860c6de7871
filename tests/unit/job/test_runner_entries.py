"""Sheets of runners in a job file: named by banks, renamed, and given back to a bank as figures of its own."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.loads import KG_PER_POUND, parse_load
from drawerwright.job.file.building import read_job
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.runner_entries import add_runners, with_own_runner
from drawerwright.job.job import Job
from drawerwright.job.renaming import rename_runners

TEXT = """\
format: 1
job: Scores
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[14.6]], sheets: [{length: 2500, width: 1250}]}
  thin: {nominal: 6, measured: [[6.0]], sheets: [{length: 2500, width: 1250}]}
runners:
  score slides:          # from the maker's sheet
    kind: under-mounted
    lengths: [{length: 350, load: 25}, {length: 450, load: 80 lb}]
    notch: {width: 36, height: 13}
banks:
  - name: Scores
    opening: {width: 500, height: 300, depth: 480}
    fronts: {style: applied, heights: {equal: 2}, stock: ply, overlay: {sides: 6, top: 6, bottom: 6}}
    runner: score slides
    box: {all: ply}
    bottom: {stock: thin}
"""


def job(text: str = TEXT) -> Job:
    return read_job(text)


def faults(text: str) -> dict[str, str]:
    with pytest.raises(FaultyInputError) as caught:
        read_job(text)
    return {fault.field: fault.message for fault in caught.value.faults}


def test_a_bank_runs_on_the_sheet_that_it_names() -> None:
    """480 deep less 10 behind: the 450 fits. 80 lb are 36.29 kg (0.45359237 kg a pound, by definition)."""
    (bank,) = job().banks
    chosen = bank.bank.runner_length
    assert chosen is not None
    assert (bank.bank.runner.name, chosen.length) == ("score slides", 450)
    assert chosen.rating == pytest.approx(80 * 0.45359237)
    assert bank.boxes[0].depth == 450
    assert bank.boxes[0].rear.notch == bank.bank.runner.notch


def test_a_groove_that_is_not_given_lies_as_high_as_the_runner_needs() -> None:
    """13 mm, or half an inch where lengths are shown in inches; as given where it is given."""
    for extra, height in (("", 13), ("\nshown: {unit: in}", 12.7)):
        (bank,) = job(TEXT.replace("job: Scores", f"job: Scores{extra}")).banks
        assert bank.boxes[0].bottom is not None
        assert bank.boxes[0].bottom.groove_height == pytest.approx(height)
    (bank,) = job(TEXT.replace("{stock: thin}", "{stock: thin, groove_height: 9}")).banks
    assert bank.boxes[0].bottom is not None
    assert bank.boxes[0].bottom.groove_height == 9
    side = TEXT.replace("kind: under-mounted", "kind: side-mounted")
    assert job(side).banks[0].boxes[0].bottom.groove_height == 10  # type: ignore[union-attr]


def test_a_sheet_that_there_is_not_is_a_fault_with_the_known_ones() -> None:
    found = faults(TEXT.replace("runner: score slides", "runner: other slides"))
    assert found == {
        "banks[1].runner": "there is no sheet of runners 'other slides' under 'runners'; the file has score slides"
    }


def test_faults_of_a_sheet_stand_at_their_entry() -> None:
    found = faults(
        TEXT.replace("width: 36, height: 13", "width: 36, hight: 13").replace("load: 25", "load: much")
    )
    assert set(found) == {
        "runners.score slides.notch.hight",
        "runners.score slides.notch.height",
        "runners.score slides.lengths[1].load",
    }
    assert "write it like 45, 45 kg or 100 lb" in found["runners.score slides.lengths[1].load"]
    own = TEXT.replace("runner: score slides", "runner: {kind: wooden, sid: 3}")
    assert "did you mean side?" in faults(own)["banks[1].runner.sid"]


def test_a_new_name_goes_wherever_banks_name_the_sheet() -> None:
    text = rename_runners(TEXT, "score slides", "slides 16")
    assert job(text).banks[0].bank.runner.name == "slides 16"
    assert "# from the maker's sheet" in text
    for old, new, message in (
        ("other", "x", "no sheet of runners 'other'"),
        ("score slides", " ", "give the sheet of runners a name"),
    ):
        with pytest.raises(InvalidValueError, match=message):
            rename_runners(TEXT, old, new)


def test_a_bank_may_have_the_figures_itself_again() -> None:
    text = with_own_runner(TEXT, ("banks", 0, "runner"))
    data = entries_of(text)
    assert data["banks"][0]["runner"] == data["runners"]["score slides"]
    assert job(text).banks[0].boxes == job().banks[0].boxes


def test_a_new_sheet_needs_a_name_of_its_own() -> None:
    assert entries_of(add_runners(TEXT, "side 45", "side-mounted"))["runners"]["side 45"] == {
        "kind": "side-mounted"
    }
    for name in ("", "score slides"):
        with pytest.raises(InvalidValueError):
            add_runners(TEXT, name, "wooden")


@pytest.mark.parametrize(("text", "load"), [("45", 45), (45, 45), ("45,5 kg", 45.5), ("1 lb", KG_PER_POUND)])
def test_loads_are_read(text: str | float, load: float) -> None:
    assert parse_load(text) == pytest.approx(load)


@pytest.mark.parametrize("text", ["-3", "3 t", "lots", "1e9", True, "99999"])
def test_what_is_no_load_is_refused(text: str) -> None:
    with pytest.raises(InvalidValueError):
        parse_load(text)


def test_applied_fronts_may_cover_the_sides_differently() -> None:
    """Opening 500, 6 over the left and 12 over the right: 518 wide. The box keeps its place (deduction 42, sides 14.6:
    500 - 42 + 29.2 = 487.2 outside, 6.4 of room on each side), so the front stands 12.4 beyond it on the left."""
    text = TEXT.replace("overlay: {sides: 6,", "overlay: {left: 6, right: 12,")
    box = job(text).banks[0].boxes[0]
    assert box.applied is not None
    assert (box.applied.width, box.width) == (518, pytest.approx(487.2))
    assert box.applied.beside == pytest.approx(12.4)


def test_a_lipped_front_may_cover_the_sides_differently() -> None:
    """The same opening: the box of 487.2 with lips of 6 + 6.4 and 12 + 6.4 is 518 over its front."""
    text = TEXT.replace("style: applied", "style: lipped").replace(
        " stock: ply, overlay: {sides", " overlay: {right: 12, sides"
    )
    box = job(text).banks[0].boxes[0]
    assert box.width == pytest.approx(487.2)
    assert box.lips == (pytest.approx(12.4), pytest.approx(18.4))
