"""Whatever the text of a job holds, every page of it answers, and the way back is open."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.basics.lengths import Unit
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning import shown_job
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import KINDS, shown
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from few_drawers import FEW_DRAWERS
from fuzz.odd_values import BEYOND_DIGITS, ODD_VALUES

DESK = "http://127.0.0.1:8744"
PAGES = ("glance", "cutter", "stock", "drawers", "corner", "trial", "sheets", "run", "papers", "text")
PARTS = ("cutter?part=plan", "stock?part=plan", "drawers?part=entries", "drawers?part=plan")
EXAMPLE = example_text()
CORPUS = Path(__file__).parents[2] / "corpus"
"""What random input once broke."""
TEXTS = {
    "nothing": "",
    "only a comment": "# to be written\n",
    "a list": "- a\n- b\n",
    "a word": "hello\n",
    "what YAML does not allow": "job: a\x00b\n",
    "no date": "job: 2024-13-45\n",
    "everything of another kind": "job: [1]\nboxes: 3\nbanks: hello\nstock: none\ncutter: 5\nmachine: []\nfences: 3\n"
    "fit: x\nsheets: y\ndays: 4\nbit_heights: {a: 1}\nrates: 1\nshown: 2\n",
    "sections of another kind": "stock: [1, 2]\nbanks: {x: 1}\nboxes: {y: 2}\n",
    "rows of another kind": "banks: [~, 3, [], {name: ~}]\nboxes: [~, text]\n"
    "stock: {a: ~, b: 3, c: {sheets: [~, 3], offcuts: 5}}\n",
    "a set": "stock: !!set {a, b}\n",
    "numbers for names": "1: 2\nstock: {3: {nominal: 15}}\nbanks: [{1: 2}]\n",
    "no end": "a: &a [*a]\nstock: *a\nbanks: *a\n",
    "too much": FEW_DRAWERS.replace("width: 462", "width: 1e308").replace("kerf: 2.8", "kerf: .nan"),
    "too many": EXAMPLE.replace("count: 3", "count: 99999999999999999999").replace(
        "equal: 7", "equal: 100000"
    ),
    "no drawers": re.sub(r"\nbanks:.*", "\nbanks: []\nboxes: []\n", EXAMPLE, flags=re.DOTALL),
    "markup": FEW_DRAWERS.replace("Choir scores", '"<b>&\'\\"</b>"').replace("birch15", "'b<i>15'"),
    "a number for a section": EXAMPLE.split("\nbanks:")[0] + "\nbanks: 3\n",
    "a number for the stock": re.sub(r"\nstock:.*\nfences:", "\nstock: 3\nfences:", EXAMPLE, flags=re.DOTALL),
    "a factor beyond all numbers": EXAMPLE.replace("{equal: 7}", "{geometric: {count: 60, ratio: 1e9}}"),
    "a smallest front beyond all numbers": EXAMPLE.replace(
        "{equal: 7}", "{geometric: {count: 60, smallest: 1e-9}}"
    ),
    "an aim in an aim": FEW_DRAWERS.replace("\nfences:", "\nsheets: {later_aims: [[x]]}\nfences:"),
    "a lip beyond the cutter": FEW_DRAWERS.replace("overlay: {sides: 7}", "overlay: {sides: 44}"),
    "a runner beyond the cutter": FEW_DRAWERS.replace("{kind: wooden,", "{kind: wooden, side: 40,"),
    "a box's lip beyond the cutter": FEW_DRAWERS.replace("count: 3\n", "count: 3\n    lip: 60\n"),
    "an endless speed": FEW_DRAWERS.replace("speeds: [8000", "speeds: [.inf"),
    "an endless price": FEW_DRAWERS.replace("price: 74.50", "price: .inf"),
    "banding thicker than the fronts": FEW_DRAWERS.replace("thickness: 0.6", "thickness: 60"),
    "a long name": FEW_DRAWERS.replace("Choir scores", "x" * 5000),
}


TEXTS |= {path.stem: path.read_text("utf-8") for path in sorted(CORPUS.glob("jobs/*.txt"))}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    shop = Shop(tmp_path_factory.mktemp("shop"))
    yield shop
    shop.close()


@pytest.fixture(scope="module")
def client(shop: Shop) -> TestClient:
    app = app_of(shop)
    return TestClient(
        app,
        base_url=DESK,
        client=("127.0.0.1", 5),
        headers={"Origin": DESK},
        raise_server_exceptions=False,
    )


@pytest.mark.parametrize("name", TEXTS)
def test_every_page_answers_and_undo_leads_back(client: TestClient, shop: Shop, name: str) -> None:
    job = shop.jobs.add("example", EXAMPLE, "")
    now = shop.jobs.save(job.id, TEXTS[name], title="odd", base=1)
    found = {page: client.get(f"/jobs/{job.id}/{page}").status_code for page in (*PAGES, *PARTS)}
    assert {page: status for page, status in found.items() if status != 200} == {}
    assert client.get("/").status_code == 200
    assert client.get(f"/jobs/{job.id}/file").status_code == 200
    undo = {"base": str(now.revision.number)}
    assert client.post(f"/jobs/{job.id}/undo", data=undo).status_code < 300
    assert shop.jobs.load(job.id).text == EXAMPLE


@pytest.mark.parametrize("name", TEXTS)
def test_every_upload_is_taken_or_refused_with_words(client: TestClient, name: str) -> None:
    file = ("odd.yaml", TEXTS[name].encode())
    answer = client.post("/jobs/import", files={"file": file}, follow_redirects=False)
    assert answer.status_code in (303, 422)
    assert answer.status_code == 303 or "notice" in answer.text or "fault" in answer.text


def test_each_strange_text_is_another(client: TestClient) -> None:
    texts = [text for name, text in TEXTS.items()]
    assert len(set(texts)) == len(texts)
    assert not {EXAMPLE, FEW_DRAWERS} & set(texts)


@pytest.mark.parametrize("place", ["read_job", "draft_job", "draft_findings"])
def test_a_fault_of_the_program_in_a_job_is_a_fault_of_its_text(
    client: TestClient, shop: Shop, monkeypatch: pytest.MonkeyPatch, place: str
) -> None:
    """What nobody allowed for while a job is read or drafted: the fields stay, and the way back is open."""
    job = shop.jobs.add("example", EXAMPLE, "")
    now = shop.jobs.save(job.id, EXAMPLE + "# once more\n", title="odd", base=1)

    def fail(_given: object) -> None:
        raise AssertionError("nobody thought of this")

    job_text.shown.cache_clear()
    monkeypatch.setattr(shown_job, place, fail)
    for page in PAGES:
        answer = client.get(f"/jobs/{job.id}/{page}")
        assert answer.status_code == 200, page
        assert f'hx-post="/jobs/{job.id}/undo"' in answer.text
    assert "hit an internal error (AssertionError)" in client.get(f"/jobs/{job.id}/glance").text
    assert 'name="value" value="462"' in client.get(f"/jobs/{job.id}/drawers").text
    job_text.shown.cache_clear()
    undo = {"base": str(now.revision.number)}
    assert client.post(f"/jobs/{job.id}/undo", data=undo).status_code < 300


FAILING = {
    "drawers": "drawerwright.job.pictures.chest_picture.chest_pictures",
    "glance": "drawerwright.job.pictures.chest_picture.chest_pictures",
    "cutter": "drawerwright.job.pictures.cutter_pictures.cutter_of_job",
    "stock": "drawerwright.job.pictures.doubt_pictures.thickness_picture",
    "trial": "drawerwright.job.pictures.corner_pictures.corner_as_seen",
    "corner": "drawerwright.job.pictures.doubt_pictures.first_cut_pictures",
    "sheets": "drawerwright.job.pictures.sheet_views.sheet_view_pictures",
    "run": "drawerwright.job.planning.fence_costs.compared_plans",
}


@pytest.mark.parametrize("page", FAILING)
def test_a_drawing_that_fails_leaves_the_frame_with_undo_and_the_other_pages(
    client: TestClient, shop: Shop, monkeypatch: pytest.MonkeyPatch, page: str
) -> None:
    job = shop.jobs.add("small", FEW_DRAWERS, "")
    shop.jobs.save(job.id, FEW_DRAWERS + "# again\n", title="small", base=1)
    assert shop.plans.ask(FEW_DRAWERS + "# again\n", 60.0, job.id).made is not None

    def fail(*_given: object, **_named: object) -> None:
        raise AssertionError("nobody thought of this")

    monkeypatch.setattr(FAILING[page], fail)
    for headers in ({}, {"hx-request": "true"}):
        shown = client.get(f"/jobs/{job.id}/{page}", headers=headers)
        assert shown.status_code == 200 or not headers
        assert "hit an internal error (AssertionError)" in shown.text
        assert f'hx-post="/jobs/{job.id}/undo"' in shown.text
        assert f'href="/jobs/{job.id}/text"' in shown.text
        assert "<progress" not in shown.text


@pytest.mark.parametrize("unit", ["mm", "in/64"])
def test_every_field_shows_whatever_stands_there(unit: Unit) -> None:
    reader = Preferences(unit=unit)
    for kind in KINDS.values():
        for value in (*ODD_VALUES, BEYOND_DIGITS):
            assert isinstance(shown(value, kind, reader), str), (kind, value)
