"""The shop's rack across jobs: what a finished run takes and leaves, taken back, and two jobs that want one piece."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pdfplumber
import pytest

import drawerwright as dw
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.cli import main
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.reading import entries_of
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.rack_labels import rack_labels
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.rack_bookings import book_run, counted, rack_change, rack_doubts, undo_run
from drawerwright.job.rack_stock import rack_news, stock_from_rack
from drawerwright.job.shelf_parts import put_on_shelf, shelf_part, taken_over
from drawerwright.store import Database, JobTable, RackTable, Shelf
from drawerwright.store.records import ShelfEntry, ShelfKind

JOB = """\
format: 1
job: Music stands
cutter: {mid_depth: 5.65, step: 3.45}
machine: {saw: {kerf: 3}}
stock:
  birch:
    nominal: 15
    sheets: [{length: 2500, width: 1250, on_hand: 3}]
    offcuts: [{length: 1200, width: 420, label: by the bandsaw}]
boxes:
  - name: tray
    count: 4
    outer: {width: 400, depth: 300, height: 90}
    box: {all: birch}
"""
OTHER = JOB.replace("Music stands", "Reed chest")
SIDEWAYS = JOB.replace("    nominal: 15", "    nominal: 15\n    grain: width")


class Shop:
    """A data file with a job or two."""

    def __init__(self, folder: Path) -> None:
        database = Database(folder)
        self.jobs, self.shelf, self.rack = JobTable(database), Shelf(database), RackTable(database)
        self.close = database.close

    @property
    def stock(self) -> ShelfEntry:
        (entry,) = self.shelf.list(ShelfKind.STOCK)
        return entry

    def offcuts(self) -> dict[str, tuple[float, float]]:
        rows = entries_of(self.stock.text)["entry"].get("offcuts") or []
        return {row["label"]: (row["length"], row["width"]) for row in rows}

    def on_hand(self) -> int:
        return int(entries_of(self.stock.text)["entry"]["sheets"][0]["on_hand"])

    def count(self, sheets: int | None) -> None:
        entry = self.stock
        text = set_value(entry.text, ("entry", "sheets", 0, "on_hand"), sheets)
        self.shelf.save(entry.id, text, name=entry.name, base=entry.version)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    made = Shop(tmp_path)
    yield made
    made.close()


def planned(text: str) -> JobPlan:
    return plan_job(read_job(text), time_limit=2)


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return planned(JOB)


def test_a_finished_run_takes_what_it_used_and_leaves_the_rest_with_numbers(
    shop: Shop, plan: JobPlan
) -> None:
    job = shop.jobs.add("Music stands", JOB)
    change = rack_change(plan)
    used = sum(piece.count for piece in change.took if not piece.is_offcut)
    took_offcut = any(piece.is_offcut for piece in change.took)
    run = book_run(shop.rack, shop.shelf, job.id, JOB, plan)
    assert shop.on_hand() == 3 - used
    left = [
        offcut for stock in plan.stocks for layout in stock.sheets.layouts for offcut in layout.kept_offcuts
    ]
    assert left, "the example leaves something, or it says nothing"
    expected = {f"R{number}" for number in range(1, len(left) + 1)}
    assert set(shop.offcuts()) == expected | (set() if took_offcut else {"by the bandsaw"})
    there = sorted(shop.offcuts()[label] for label in expected)
    sizes = sorted((offcut.length, offcut.width) for offcut in left)
    assert [side for size in there for side in size] == pytest.approx(
        [side for size in sizes for side in size], abs=0.01
    )
    assert [piece.label for piece in run.left] == sorted(expected, key=lambda label: int(label[1:]))
    with pytest.raises(InvalidValueError, match="booked already"):
        book_run(shop.rack, shop.shelf, job.id, JOB, plan)


def test_taken_back_the_rack_is_as_it_was(shop: Shop, plan: JobPlan) -> None:
    job = shop.jobs.add("Music stands", JOB)
    run = book_run(shop.rack, shop.shelf, job.id, JOB, plan)
    undo_run(shop.rack, shop.shelf, run)
    assert shop.on_hand() == 3
    assert shop.offcuts() == {"by the bandsaw": (1200, 420)}
    assert shop.rack.runs(job.id) == ()
    again = book_run(shop.rack, shop.shelf, job.id, JOB, plan)
    assert not {piece.label for piece in again.left} & {piece.label for piece in run.left}, "no number twice"


def test_the_next_job_takes_it_and_then_the_first_cannot_be_undone(shop: Shop, plan: JobPlan) -> None:
    first = shop.jobs.add("Music stands", JOB)
    run = book_run(shop.rack, shop.shelf, first.id, JOB, plan)
    text = taken_over(OTHER, ("stock", "birch"), shop.stock)
    second_plan = planned(text)
    used = [
        size.label for stock in second_plan.stocks for size in {each.size for each in stock.sheets.layouts}
    ]
    assert any(label.startswith("R") for label in used), "an offcut costs nothing and goes before a new sheet"
    second = shop.jobs.add("Reed chest", text)
    assert rack_doubts(shop.rack, shop.shelf, second.id, second_plan) == ()
    book_run(shop.rack, shop.shelf, second.id, text, second_plan)
    with pytest.raises(InvalidValueError, match="Reed chest used offcut R1"):
        undo_run(shop.rack, shop.shelf, run)
    assert shop.rack.runs(first.id) == (run,)


def test_what_another_job_used_cannot_be_cut_once_more(shop: Shop) -> None:
    text = JOB.replace("count: 4", "count: 1")  # one tray fits the offcut
    small = planned(text)
    one, two = shop.jobs.add("Music stands", text), shop.jobs.add("Reed chest", text)
    run = book_run(shop.rack, shop.shelf, one.id, text, small)
    before = shop.stock.text
    with pytest.raises(InvalidValueError, match="which Music stands used"):
        book_run(shop.rack, shop.shelf, two.id, text, small)
    assert shop.stock.text == before
    undo_run(shop.rack, shop.shelf, run)
    assert book_run(shop.rack, shop.shelf, two.id, text, small).took


def test_a_job_put_on_the_shelf_leaves_the_rack_as_it_is(shop: Shop, plan: JobPlan) -> None:
    job = shop.jobs.add("Music stands", JOB)
    run = book_run(shop.rack, shop.shelf, job.id, JOB, plan)
    there, offcuts = shop.on_hand(), shop.offcuts()
    text = JOB.replace("nominal: 15", "nominal: 15\n    measured: [14.7]").replace(
        "[{length: 2500", "[{length: 1500, width: 500, on_hand: 2}, {length: 2500"
    )
    put_on_shelf(shop.shelf, entries_of(text), ("stock", "birch"))
    entry = entries_of(shop.stock.text)["entry"]
    assert entry["measured"] == [14.7]
    assert shop.offcuts() == offcuts
    assert [row.get("on_hand") for row in entry["sheets"]] == [2, there], (
        "a size that is new comes with its number"
    )
    undo_run(shop.rack, shop.shelf, run)
    assert set(shop.offcuts()) == {"by the bandsaw"}


def test_a_job_hears_what_the_rack_has_more_or_less_of(shop: Shop, plan: JobPlan) -> None:
    data = entries_of(JOB)
    job = shop.jobs.add("Music stands", JOB)
    put_on_shelf(shop.shelf, data, ("stock", "birch"))
    assert rack_news(data, "birch", shop.stock) == ()
    run = book_run(shop.rack, shop.shelf, job.id, JOB, plan)
    news = {each.piece.label: (each.in_job, each.on_rack) for each in rack_news(data, "birch", shop.stock)}
    assert {label: news[label] for label in news if label.startswith("R")} == {
        piece.label: (None, 1) for piece in run.left
    }
    used = {piece.label: piece.count for piece in run.took}
    assert news["birch 2500 x 1250"] == (3, 3 - used["birch 2500 x 1250"])
    assert ("by the bandsaw" in news) is ("by the bandsaw" in used)
    part = shelf_part(data, ("stock", "birch"))
    assert list(part.differences(data, shop.stock)) == [], "what is on the rack is no value of the job"


def test_two_jobs_that_plan_one_piece_are_both_told(shop: Shop, plan: JobPlan) -> None:
    text = JOB.replace("count: 4", "count: 1")  # one tray fits the offcut
    small = planned(text)
    assert [piece.label for piece in rack_change(small).took] == ["by the bandsaw"]
    one, two = shop.jobs.add("Music stands", text), shop.jobs.add("Reed chest", text)
    assert rack_doubts(shop.rack, shop.shelf, one.id, small) == ()
    (doubt,) = rack_doubts(shop.rack, shop.shelf, two.id, small)
    assert "by the bandsaw is planned in Music stands too" in doubt
    (doubt,) = rack_doubts(shop.rack, shop.shelf, one.id, small)
    assert "Reed chest" in doubt
    book_run(shop.rack, shop.shelf, one.id, text, small)
    (doubt,) = rack_doubts(shop.rack, shop.shelf, two.id, small)
    assert "no longer on the rack; Music stands used it" in doubt
    shop.jobs.delete(two.id)
    assert shop.rack.others(one.id) == ()


def test_sheets_on_hand_are_shared_by_all_jobs(shop: Shop) -> None:
    text = JOB.replace("offcuts:", "# offcuts:").replace("on_hand: 3", "on_hand: 1")
    big = planned(text)
    one, two = shop.jobs.add("Music stands", text), shop.jobs.add("Reed chest", text)
    rack_doubts(shop.rack, shop.shelf, one.id, big)
    (doubt,) = rack_doubts(shop.rack, shop.shelf, two.id, big)
    assert "Music stands too; 1 on hand are not enough" in doubt


def test_sheets_that_only_the_shelf_counts_are_counted_down(
    shop: Shop, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A job need not count what the shop counts; sheets that nobody counts are said of nowhere."""
    put_on_shelf(shop.shelf, entries_of(JOB), ("stock", "birch"))
    text = JOB.replace(", on_hand: 3", "").replace("    offcuts:", "    # offcuts:")
    small = planned(text)
    (used,) = rack_change(small).took
    assert counted(rack_change(small), shop.shelf, small.job).took == (used,)
    one, two = shop.jobs.add("Music stands", text), shop.jobs.add("Reed chest", text)
    file, papers = tmp_path / "stands.yaml", tmp_path / "plan.json"
    file.write_text(text, "utf-8")
    papers.write_text(json.dumps(plan_report(small)), "utf-8")
    cut = ["rack", str(file), "--cut", str(papers), "--preview"]
    assert main([*cut, "--data", str(tmp_path)]) == 0
    assert f"Used:\n  {used.count} × birch sheet" in capsys.readouterr().out
    assert main([*cut, "--data", str(tmp_path / "new")]) == 0
    assert "Nothing that the rack counts was used." in capsys.readouterr().out
    assert not (tmp_path / "new").exists()
    run = book_run(shop.rack, shop.shelf, one.id, text, small)
    assert (run.took, shop.on_hand()) == ((used,), 3 - used.count)
    undo_run(shop.rack, shop.shelf, run)
    assert shop.on_hand() == 3
    shop.count(used.count)
    assert rack_doubts(shop.rack, shop.shelf, one.id, small) == ()
    (doubt,) = rack_doubts(shop.rack, shop.shelf, two.id, small)
    assert "is planned in Music stands too" in doubt
    shop.count(None)
    assert counted(rack_change(small), shop.shelf, small.job).took == ()
    assert rack_doubts(shop.rack, shop.shelf, two.id, small) == ()


def test_a_sheet_whose_grain_runs_across_it_keeps_its_sides(shop: Shop) -> None:
    plan = planned(SIDEWAYS)
    job = shop.jobs.add("Music stands", SIDEWAYS)
    run = book_run(shop.rack, shop.shelf, job.id, SIDEWAYS, plan)
    lengths = {
        (round(offcut.width, 2), round(offcut.length, 2))
        for stock in plan.stocks
        for layout in stock.sheets.layouts
        for offcut in layout.kept_offcuts
    }
    assert {(round(piece.length, 2), round(piece.width, 2)) for piece in run.left} == lengths
    undo_run(shop.rack, shop.shelf, run)
    assert shop.on_hand() == 3


def test_every_offcut_has_a_label_to_print(shop: Shop, plan: JobPlan) -> None:
    job = shop.jobs.add("Music stands", JOB)
    run = book_run(shop.rack, shop.shelf, job.id, JOB, plan)
    with pdfplumber.open(io.BytesIO(rack_labels(run, plan.job, LengthStyle()))) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    for piece in run.left:
        assert piece.label in text
        assert f"{piece.length:g} × {piece.width:g} mm" in text
    assert text.count("left by Music stands") == len(run.left)


def test_a_job_file_takes_its_stock_from_the_rack(
    tmp_path: Path, plan: JobPlan, capsys: pytest.CaptureFixture[str]
) -> None:
    """By the command and from Python; what another job plans to take is told."""
    shop = Shop(tmp_path / "data")
    first = shop.jobs.add("Music stands", JOB)
    run = book_run(shop.rack, shop.shelf, first.id, JOB, plan)
    second = shop.jobs.add("Reed chest", OTHER)
    shop.rack.claim(second.id, [run.left[0]])
    there, sheets = shop.offcuts(), shop.on_hand()
    shop.close()
    file = tmp_path / "next.yaml"
    file.write_text(OTHER.replace("cutter:", "# our cutter\ncutter:"), "utf-8")
    place = ["--data", str(tmp_path / "data")]
    assert main(["rack", *place]) == 0
    told = capsys.readouterr().out
    assert f"1 × offcut {run.left[0].label}: " in told
    assert "; planned in Reed chest" in told
    assert main(["rack", str(file), "--preview", *place]) == 0
    assert "R1" not in file.read_text("utf-8")
    found = dw.rack(into=file, data=tmp_path / "data")
    assert {piece.label for piece in found if piece.is_offcut} == set(there)
    job = read_job(file.read_text("utf-8"))
    sizes = job.sheet_sizes["birch"]
    assert {size.label for size in sizes if size.is_offcut} == set(there)
    assert [size.on_hand for size in sizes if not size.is_offcut] == [sheets]
    assert "# our cutter" in file.read_text("utf-8")
    assert main(["rack", str(file), *place]) == 0
    assert "has the stock as it is on the rack" in capsys.readouterr().out
    with pytest.raises(dw.DrawerwrightError, match="no data in"):
        dw.rack(data=tmp_path / "elsewhere")


def test_a_plan_that_was_cut_is_booked_by_command_and_taken_back(
    tmp_path: Path, plan: JobPlan, capsys: pytest.CaptureFixture[str]
) -> None:
    """The rack is then as when the app books the same plan."""
    file, papers = tmp_path / "stands.yaml", tmp_path / "plan.json"
    file.write_text(JOB, "utf-8")
    papers.write_text(json.dumps(plan_report(plan)), "utf-8")
    place = [str(file), "--data", str(tmp_path / "data")]
    assert main(["rack", *place, "--cut", str(papers), "--preview"]) == 0
    assert not (tmp_path / "data").exists()
    assert main(["rack", *place, "--cut", str(papers)]) == 0
    told = capsys.readouterr().out
    assert "R1: " in told
    shop, by_app = Shop(tmp_path / "data"), Shop(tmp_path / "app")
    book_run(by_app.rack, by_app.shelf, by_app.jobs.add("Music stands", JOB).id, JOB, plan)
    assert shop.offcuts() == by_app.offcuts()
    assert shop.on_hand() == by_app.on_hand()
    assert [job.title for job in shop.jobs.list()] == ["Music stands"]
    assert main(["rack", *place, "--cut", str(papers)]) == 2
    assert "booked already" in capsys.readouterr().err
    assert main(["rack", *place, "--undo"]) == 0
    assert shop.offcuts() == {"by the bandsaw": (1200, 420)}
    assert shop.on_hand() == 3
    assert main(["rack", *place, "--undo"]) == 2
    file.write_text(JOB.replace("width: 1250", "width: 1220"), "utf-8")
    assert main(["rack", *place, "--cut", str(papers)]) == 2
    assert "which the job does not have" in capsys.readouterr().err
    papers.write_text("[]", "utf-8")
    assert main(["rack", *place, "--cut", str(papers)]) == 2
    assert "is no plan.json" in capsys.readouterr().err
    shop.close()
    by_app.close()


def test_one_piece_is_taken_from_the_rack_or_brought_there_by_command(
    tmp_path: Path, plan: JobPlan, capsys: pytest.CaptureFixture[str]
) -> None:
    shop = Shop(tmp_path)
    book_run(shop.rack, shop.shelf, shop.jobs.add("Music stands", JOB).id, JOB, plan)
    place = ["--data", str(tmp_path)]
    there, sheets = shop.offcuts(), shop.on_hand()
    assert sheets is not None
    assert main(["rack", *place, "--take", "birch", next(iter(there))]) == 0
    assert set(shop.offcuts()) == set(list(there)[1:])
    sheet = next(label for label in capsys_labels(capsys, place) if label not in there)
    assert main(["rack", *place, "--take", "birch", sheet]) == 0
    assert shop.on_hand() == sheets - 1
    assert main(["rack", *place, "--put", "birch", "600", "12 in"]) == 0
    label = next(label for label, sides in shop.offcuts().items() if sides == (600, pytest.approx(304.8)))
    assert label == f"R{len(there) + 1}"
    assert f"Write {label} on it" in capsys.readouterr().out
    assert main(["rack", *place, "--put", "birch", "600", "12 in"]) == 0
    assert f"R{len(there) + 2}" in shop.offcuts()
    assert main(["rack", *place, "--take", "birch", "R99"]) == 2
    assert "the rack has no 'R99' of 'birch': it has birch 2500 x 1250; birch R2; " in capsys.readouterr().err
    assert main(["rack", *place, "--put", "oak", "600", "300"]) == 2
    assert "the rack has no stock 'oak': it has birch" in capsys.readouterr().err
    shop.close()


def capsys_labels(capsys: pytest.CaptureFixture[str], place: list[str]) -> list[str]:
    """What the pieces on the rack are called, as the command lists them."""
    capsys.readouterr()
    assert main(["rack", *place]) == 0
    return re.findall(r" (?:sheet|offcut) (.+?): ", capsys.readouterr().out)


def test_a_rack_with_nothing_on_it_is_called_empty(tmp_path: Path) -> None:
    shop = Shop(tmp_path)
    with pytest.raises(InvalidValueError, match="the rack is empty"):
        stock_from_rack(JOB, shop.shelf)
    shop.close()
