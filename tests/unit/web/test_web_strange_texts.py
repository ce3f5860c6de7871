"""Whatever the text of a job holds, every page of it answers, and the way back is open."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
PAGES = ("cutter", "stock", "drawers", "corner", "trial", "sheets", "run", "papers", "text")
PARTS = ("cutter?part=plan", "stock?part=plan", "drawers?part=entries", "drawers?part=plan")
EXAMPLE = example_text()
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
    "too much": EXAMPLE.replace("width: 462", "width: 1e308").replace("kerf: 2.8", "kerf: .nan"),
    "too many": EXAMPLE.replace("count: 3", "count: 99999999999999999999").replace(
        "equal: 7", "equal: 100000"
    ),
    "no drawers": re.sub(r"\nbanks:.*", "\nbanks: []\nboxes: []\n", EXAMPLE, flags=re.DOTALL),
    "markup": EXAMPLE.replace("Choir scores", '"<b>&\'\\"</b>"').replace("birch15", "'b<i>15'"),
    "a long name": EXAMPLE.replace("Choir scores", "x" * 5000),
}


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
