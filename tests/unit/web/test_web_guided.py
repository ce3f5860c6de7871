"""The guided start asks how sure its measures are, in the reader's unit, and says in the file what it assumes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.uncertain import Estimate, Origin
from drawerwright.cli import main
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import skeleton
from drawerwright.job.planning.guided_job import questions
from drawerwright.web.server.shop import Shop

ENTRIES = {
    "job": "Trays of the print room",
    "mid_depth": "6.1 ± 0.05",
    "step": "3,8 +- 0,04",
    "nominal": "15",
    "measured": "14.6; 14.7",
    "length": "2500",
    "width": "1250",
    "bottom": "6.5",
    "opening_width": "480",
    "opening_height": "700",
    "opening_depth": "450",
    "count": "5",
}


def made(shop: Shop, client: TestClient, **changes: str) -> str:
    assert client.post("/jobs/new", data={**ENTRIES, **changes}, follow_redirects=False).status_code == 303
    return shop.jobs.load(2).text


def test_what_stands_after_plus_minus_is_stated(shop: Shop, client: TestClient) -> None:
    cutter = read_job(made(shop, client)).cutters[0].cutter
    assert (cutter.mid_depth, cutter.step) == (Estimate(6.1, 0.05), Estimate(3.8, 0.04))


def test_without_it_the_usual_is_assumed(shop: Shop, client: TestClient) -> None:
    cutter = read_job(made(shop, client, mid_depth="6.1")).cutters[0].cutter
    assert cutter.mid_depth == Estimate(6.1, 0.08, Origin.ASSUMED)


def test_the_file_shows_how_gauges_are_stated_and_states_none_itself(shop: Shop, client: TestClient) -> None:
    text = made(shop, client)
    comments = [line for line in text.splitlines() if line.lstrip().startswith("#")]
    job = read_job(text)
    assert job.table.height_gauge.is_assumed
    with_them = "\n".join(
        line.replace("# ", "", 1) if line in comments[1:] else line for line in text.splitlines()
    )
    said = read_job(with_them)
    assert (said.table.height_gauge.value, said.table.height_gauge.uncertainty) == (0.0, 0.1)
    assert not said.table.height_gauge.is_assumed
    assert (said.table.repeatability, said.calipers) == (0.03, 0.02)
    assert skeleton(LengthStyle()).count("± ") == 2


@pytest.mark.parametrize(
    ("unit", "sign", "example"),
    [("mm", "point", "6.1 ± 0.05"), ("mm", "comma", "6,1 ± 0,05"), ("in", "point", "0.240 ± 0.002")],
)
def test_the_form_shows_it_in_the_readers_unit(
    client: TestClient, unit: str, sign: str, example: str
) -> None:
    """Round figures that somebody would type, not millimetres reckoned over."""
    client.cookies.set("drawerwright_reader", f"en|{unit}|{sign}|system")
    assert example.replace(" ± ", "\u00a0±\u00a0") in client.get("/jobs/new").text


def test_a_measure_without_a_doubt_says_what_is_assumed_of_it_and_one_with_it_does_not(
    shop: Shop, client: TestClient
) -> None:
    """Mid depth with, step without; of the slope nothing is said, of the gauges neither."""
    made(shop, client, step="3.8")
    page = client.get("/jobs/2/cutter").text.replace("\xa0", " ")
    assert page.count("<b>assumed ± 0.08</b> – you may add an uncertainty") == 1
    assert page.count("<b>assumed</b> – you may add an uncertainty") == 1
    machines = client.get("/jobs/2/stock").text
    assert machines.count("<b>assumed</b> – you may add an uncertainty") == 2
    assert 'placeholder="0 ± 0.1 mm"' in machines


def test_the_terminal_makes_the_same_file_of_the_same_answers(
    shop: Shop, client: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = (
        "job",
        "mid_depth",
        "step",
        "nominal",
        "measured",
        "bottom",
        "bottom_measured",
        "length",
        "width",
    )
    answers = [ENTRIES.get(name, "") for name in order]
    answers += [ENTRIES[name] for name in ("opening_width", "opening_height", "opening_depth", "count")]
    monkeypatch.setattr("builtins.input", lambda prompt: answers.pop(0))
    assert main(["new", str(tmp_path / "trays.yaml")]) == 0
    assert (tmp_path / "trays.yaml").read_text("utf-8") == made(shop, client)


def test_a_blank_answer_is_the_usual_one_where_the_form_says_it(shop: Shop, client: TestClient) -> None:
    assert "left blank: 2500" in client.get("/jobs/new").text
    job = read_job(made(shop, client, length="", width=""))
    assert (job.sheet_sizes["box panel"][0].length, job.sheet_sizes["box panel"][0].width) == (2500, 1250)


GERMAN = {"Accept-Language": "de"}


def faults(client: TestClient, **changes: str) -> tuple[dict[str, str], list[str]]:
    """What stands beside each field of the German form, and the fields that are marked."""
    answer = client.post("/jobs/new", data={**ENTRIES, **changes}, headers=GERMAN, follow_redirects=False)
    assert answer.status_code == 422
    beside = dict(re.findall(r'id="fault-(\w+)" class="fault"[^>]*>([^<]+)<', answer.text))
    return beside, re.findall(r'<input id="(\w+)"[^>]*aria-invalid="true"', answer.text)


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("opening_width", '3/4"', "eine 19,05 mm breite Öffnung"),
        ("opening_height", '3/4"', "Front 1 von Schubladenblock wird 0,2 mm hoch"),
        ("opening_depth", '3/4"', "Öffnungen für Schubladen sind 80 mm tief"),
        ("measured", "3", "eine gemessene Dicke von 3 mm"),
        ("measured", "x", "lässt sich nicht als Länge lesen"),
        ("mid_depth", "", "fehlt"),
        ("count", "0", "muss 1 oder größer sein"),
    ],
)
def test_a_faulty_entry_is_marked_in_its_field_in_the_readers_language(
    client: TestClient, field: str, typed: str, words: str
) -> None:
    beside, marked = faults(client, **{field: typed})
    assert marked == [field]
    assert list(beside) == [field]
    assert words in beside[field].replace("\xa0", " ")
    assert "zum Beispiel" not in beside[field], "the hint above it gives the example"


def test_what_two_entries_make_impossible_together_marks_both(client: TestClient) -> None:
    """A step of 40 on a slope of 45 degrees takes 40 mm of depth: mid depth or step may be the wrong one."""
    beside, marked = faults(client, step="40")
    assert marked == ["mid_depth", "step"]
    assert list(beside) == ["step"]
    assert "40,00 mm" in beside["step"].replace("\xa0", " ")
    assert "Stufe oder Mittentiefe noch einmal messen" in beside["step"]


def test_stock_and_bank_are_named_in_the_readers_language(shop: Shop, client: TestClient) -> None:
    client.post("/jobs/new", data=ENTRIES, headers=GERMAN, follow_redirects=False)
    job = read_job(shop.jobs.load(2).text)
    assert list(job.stock) == ["Kastenplatte", "Bodenplatte"]
    assert job.banks[0].bank.name == "Schubladenblock"


def test_the_page_counts_the_entries_that_it_needs(client: TestClient) -> None:
    asked = questions(LengthStyle())
    needed = [each for each in asked if not each.may_be_blank and not each.usual[0]]
    assert (len(needed), len(asked)) == (9, 13)
    assert (
        "Nine entries get you to a first packet; the other four may stay blank"
        in client.get("/jobs/new").text
    )


def test_a_second_job_of_one_name_is_asked_for_another(shop: Shop, client: TestClient) -> None:
    """On the start page and at the rack jobs are told by their names."""
    made(shop, client)
    again = client.post("/jobs/new", data=ENTRIES)
    assert again.status_code == 422
    assert "another job already has this name: give this one another" in again.text
    assert 'value="Trays of the print room"' in again.text
    assert len(shop.jobs.list()) == 2
    renamed = client.post(
        "/jobs/new", data={**ENTRIES, "job": "Trays of the map room"}, follow_redirects=False
    )
    assert renamed.status_code == 303
