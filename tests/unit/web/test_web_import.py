"""Drawers from a table on the page: seen first with every fault, what was typed kept, then taken over."""

from __future__ import annotations

import io
import re

import openpyxl
import pytest
from starlette.testclient import TestClient

from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
JOB = """\
format: 1
job: Trays
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  birch: {nominal: 15, sheets: [{length: 2500, width: 1250}]}
boxes:
  - name: first
    outer: {width: 300, depth: 300, height: 90}
    box: {all: birch}
"""
NOTHING_SENT = {"sheet": "", "numbers_in": "", "stock": "birch", "do": "look"}


@pytest.fixture
def shop(tmp_path) -> Shop:
    return Shop(tmp_path)


@pytest.fixture
def client(shop: Shop) -> TestClient:
    shop.jobs.add("Trays", JOB)
    return TestClient(
        app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK}, follow_redirects=False
    )


def test_a_workbook_is_shown_and_its_rows_stay_in_the_form(client: TestClient, shop: Shop) -> None:
    book = openpyxl.Workbook()
    for row in (("Name", "Width (cm)", "Depth", "Height"), ("tray", 26.8, 206, "2 1/2 in")):
        book.active.append(row)
    stream = io.BytesIO()
    book.save(stream)
    shown = client.post("/jobs/1/import", data=NOTHING_SENT, files={"file": ("t.xlsx", stream.getvalue())})
    assert shown.status_code == 200
    assert "1 drawer to import" in shown.text
    assert "Name\tWidth (cm)\tDepth\tHeight\ntray\t26.8\t206\t2 1/2 in" in shown.text
    assert shop.jobs.load(1).text == JOB


def test_every_fault_is_told_and_nothing_is_taken(client: TestClient, shop: Shop) -> None:
    table = "drawer;width;depth;height\nfirst;268;206;64\n<b>;wide;206;64\n"
    shown = client.post("/jobs/1/import", data={**NOTHING_SENT, "table": table, "do": "take"})
    assert shown.status_code == 422
    assert "2 faults stop the import" in shown.text
    assert "second drawer called first" in shown.text
    assert "<b>" not in shown.text
    assert "first;268;206;64" in shown.text
    assert shop.jobs.load(1).text == JOB


def test_a_german_page_has_no_words_of_the_job_file(client: TestClient) -> None:
    table = "Schublade;Breite;Tiefe;Höhe;Material der Seiten\nA;268;206;64;birch\n"
    data = {**NOTHING_SENT, "stock": "", "table": table}
    shown = client.post("/jobs/1/import", data=data, headers={"Accept-Language": "de"}).text
    faults = re.findall(r'<p class="fault">(.*?)</p>', shown)
    assert [fault.partition(": kein Material genannt")[0] for fault in faults] == [
        "Zeile 2, Material des Vorderstücks",
        "Zeile 2, Material des Hinterstücks",
    ]
    assert "all&#39;" not in shown
    assert shown.count("keine Böden: keine Spalte nennt ihr Material") == 1


def test_what_is_said_of_a_column_counts_and_the_drawers_come_in_as_one_step(
    client: TestClient, shop: Shop
) -> None:
    table = "drawer,w,depth,height\ntray,268,206,64\n"
    asked = client.post("/jobs/1/import", data={**NOTHING_SENT, "table": table})
    assert "no column holds it" in asked.text
    assert " >268</td>" in asked.text, "what is not read yet is shown as well"
    said = {"column-0": "drawer", "column-1": "width", "column-2": "depth", "column-3": "height"}
    taken = client.post("/jobs/1/import", data={**NOTHING_SENT, **said, "table": table, "do": "take"})
    assert (taken.status_code, taken.headers["location"]) == (303, "/jobs/1/drawers")
    assert "width: 268" in shop.jobs.load(1).text
    shop.jobs.undo(1)
    assert shop.jobs.load(1).text == JOB


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [("t.ods", b"", "a table ends in"), ("t.xlsx", b"PK", "is no workbook"), ("t.csv", b"\xff\xfe", "UTF-8")],
)
def test_what_is_no_table_is_refused_and_the_rows_stay(
    client: TestClient, name: str, content: bytes, words: str
) -> None:
    shown = client.post(
        "/jobs/1/import", data={**NOTHING_SENT, "table": "kept"}, files={"file": (name, content)}
    )
    assert shown.status_code == 422
    assert words in shown.text
    assert ">kept</textarea>" in shown.text


def test_the_page_is_reached_from_the_drawers(client: TestClient) -> None:
    assert 'href="/jobs/1/import"' in client.get("/jobs/1/drawers").text
    assert client.get("/jobs/1/import").status_code == 200


def test_the_start_page_begins_a_job_for_a_table(client: TestClient, shop: Shop) -> None:
    assert 'action="/jobs/from-table"' in client.get("/").text
    begun = client.post("/jobs/from-table", data={"job": "1"})
    assert (begun.status_code, begun.headers["location"]) == (303, "/jobs/2/import")
    assert client.get("/jobs/2/import").status_code == 200
    again = client.post("/jobs/from-table", data={"job": "1"})
    assert again.headers["location"] == "/jobs/2/import", "one that still waits serves again"
    table = "drawer;width;depth;height\ntray;268;206;64\n"
    looked = client.post(
        "/jobs/2/import", data=NOTHING_SENT, files={"file": ("sewing trays.csv", table.encode())}
    )
    assert 'name="file_name" value="sewing trays"' in looked.text
    named = {**NOTHING_SENT, "file_name": "sewing trays", "table": table, "do": "take"}
    assert client.post("/jobs/2/import", data=named).status_code == 303
    assert shop.jobs.load(2).title == "sewing trays"
    assert "name: tray" in shop.jobs.load(2).text
    assert "name: first" not in shop.jobs.load(2).text
    assert shop.jobs.load(1).text == JOB


def test_a_job_begun_for_a_table_goes_with_it(client: TestClient, shop: Shop) -> None:
    begun = client.post("/jobs/from-table", data={"job": "1"}).headers["location"]
    job = begun.removesuffix("/import")
    assert f'formaction="{job}/delete"' in client.get(begun).text
    assert "/delete" not in client.get("/jobs/1/import").text
    left = client.post(f"{job}/delete", data={**NOTHING_SENT, "table": ""}, files={"file": ("", b"")})
    assert left.status_code == 303
    assert [each.title for each in shop.jobs.list()] == ["Trays"]


def test_a_drawer_that_cannot_be_cut_is_said_before_it_is_taken(client: TestClient) -> None:
    table = "drawer;width;depth;height\nplane;4125;206;64\n"
    shown = client.post("/jobs/1/import", data={**NOTHING_SENT, "table": table}).text
    assert "1 drawer to import" in shown
    assert re.search(r"STOP · stock birch:</b> plane front, plane back: .*fits no sheet", shown)


def test_a_bank_is_shown_in_one_line_and_taken_over(client: TestClient, shop: Shop) -> None:
    table = (
        "bank;opening width;opening height;opening depth;fronts;pull;applied-front stock;runners\n"
        "Linen;560;700;450;applied;128;birch;wooden\nLinen;;;;;;;\n"
    )
    shown = client.post("/jobs/1/import", data={**NOTHING_SENT, "table": table})
    assert "2 drawers to import" in shown.text
    assert "Linen: 2 fronts, applied, opening 560" in shown.text.replace("\N{NO-BREAK SPACE}", " ")
    assert (
        client.post("/jobs/1/import", data={**NOTHING_SENT, "table": table, "do": "take"}).status_code == 303
    )
    assert "name: Linen" in shop.jobs.load(1).text
