"""Jobs over HTTP: import, export, revisions, conflicts, escaping."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.store import ShelfKind
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
TEXT = "# kept\njob: Paper trays  # and this\nstock: {}\n"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    shop = Shop(tmp_path)
    yield shop
    shop.database.close()


@pytest.fixture
def client(shop: Shop) -> TestClient:
    return TestClient(
        app_of(shop),
        base_url=DESK,
        client=("127.0.0.1", 5),
        headers={"Origin": DESK},
        follow_redirects=False,
    )


def upload(client: TestClient, content: bytes, name: str = "job.yaml") -> int:
    return client.post("/jobs/import", files={"file": (name, content)}).status_code


def test_a_forced_fence_plan_that_breaks_a_limit_is_kept_and_named_beside_its_field(
    client: TestClient,
) -> None:
    example = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
    forced = example.replace("plan: fewest", "plan: one")
    assert forced != example
    assert upload(client, forced.encode()) == 303
    assert "plan: one" in client.get("/jobs/1/text").text
    page = client.get("/jobs/1/stock").text.replace("\xa0", " ")
    assert "leaves a neck of 1.83 mm" in page.split('id="fault-fences-plan"')[1][:400]


def test_import_and_export_lose_nothing(client: TestClient) -> None:
    assert upload(client, TEXT.encode()) == 303
    answer = client.get("/jobs/1/file")
    assert answer.content == TEXT.encode()
    assert 'filename="Paper-trays.yaml"' in answer.headers["content-disposition"]


@pytest.mark.parametrize(
    ("content", "name", "words"),
    [
        (b"job: x", "job.exe", "job.exe"),
        (b"\xff\xfe\x00", "job.yaml", "UTF-8"),
        (b"a: [1", "job.yaml", "YAML"),
        (b"job: x", "<img src=x>.txt", "&lt;img"),
    ],
)
def test_unusable_uploads_say_why_in_their_field(
    client: TestClient, content: bytes, name: str, words: str
) -> None:
    answer = client.post("/jobs/import", files={"file": (name, content)})
    assert answer.status_code == 422
    assert words in answer.text
    assert 'aria-invalid="true"' in answer.text


def test_names_are_escaped(client: TestClient) -> None:
    assert upload(client, b"job: '<script>alert(1)</script>'") == 303
    assert "<script>alert" not in client.get("/").text
    assert "<script>alert" not in client.get("/jobs/1/text").text


def test_second_save_from_the_same_revision_shows_both(client: TestClient, shop: Shop) -> None:
    upload(client, TEXT.encode())
    assert client.post("/jobs/1/text", data={"text": TEXT + "a: 1\n", "base": "1"}).status_code == 303
    answer = client.post("/jobs/1/text", data={"text": TEXT + "b: 2\n", "base": "1"})
    assert answer.status_code == 409
    assert "-a: 1" in answer.text
    assert "+b: 2" in answer.text
    assert shop.jobs.load(1).text == TEXT + "a: 1\n"
    again = client.post("/jobs/1/text", data={"text": TEXT + "b: 2\n", "base": "2"})
    assert again.status_code == 303
    assert shop.jobs.load(1).text == TEXT + "b: 2\n"


def test_undo_and_redo_answer_with_the_new_version(client: TestClient, shop: Shop) -> None:
    upload(client, TEXT.encode())
    client.post("/jobs/1/text", data={"text": "job: Other\n", "base": "1"})
    answer = client.post("/jobs/1/undo", data={"base": "2"})
    assert answer.headers["hx-trigger"] == '{"versions": {"job": 1}}'
    assert shop.jobs.list()[0].title == "Paper trays"
    client.post("/jobs/1/redo", data={"base": "1"})
    assert shop.jobs.list()[0].title == "Other"


def test_delete_offers_undo(client: TestClient, shop: Shop) -> None:
    upload(client, TEXT.encode())
    where = client.post("/jobs/1/delete").headers["location"]
    assert shop.jobs.list() == ()
    assert "/jobs/1/restore" in client.get(where).text
    client.post("/jobs/1/restore")
    assert len(shop.jobs.list()) == 1
    assert client.get("/jobs/99").status_code == 303
    assert client.get("/jobs/99/text").status_code == 404


def test_preferences_are_kept_per_reader(client: TestClient) -> None:
    assert 'lang="de"' in client.get("/", headers={"Accept-Language": "de-CH,de;q=0.9"}).text
    answer = client.post("/reader", data={"unit": "in/64", "language": "en", "back": "//evil.example/"})
    assert answer.headers["location"] == "/"
    client.cookies.set("drawerwright_reader", "en|in/64|point|dark")
    page = client.get("/reader").text
    assert 'data-theme="dark"' in page
    assert '<option value="in/64" selected>' in page


ENGLISH, GERMAN = {"Accept-Language": "en"}, {"Accept-Language": "de"}


def notes_of(client: TestClient, headers: dict[str, str], job_id: int = 1) -> list[str]:
    """The last column of the table of revisions, newest first, as it stands in the page's source."""
    page = client.get(f"/jobs/{job_id}/text", headers=headers).text
    return [row.rsplit("<td>", 1)[1].split("</td>")[0] for row in page.split("<tr>")[2:]]


def test_the_history_is_read_in_the_readers_language_whoever_saved(client: TestClient, shop: Shop) -> None:
    client.post("/jobs/example", headers=GERMAN)
    client.post("/jobs/1/duplicate", headers=GERMAN)
    client.post("/jobs/2/duplicate", headers=ENGLISH)
    client.post("/jobs/1/text", data={"text": "job: Truhe\nstock: {}\n", "base": "1"}, headers=ENGLISH)
    assert notes_of(client, ENGLISH) == ["job file", "from the example"]
    assert notes_of(client, GERMAN) == ["Auftragsdatei", "aus dem Beispiel"]
    for job_id, number in ((2, 1), (3, 2)):
        assert notes_of(client, ENGLISH, job_id) == [f"copy of job {number}"]
        assert notes_of(client, GERMAN, job_id) == [f"Kopie von Auftrag {number}"]


def test_names_in_the_history_are_somebodys_own_words(client: TestClient, shop: Shop) -> None:
    name = "<b>cutter</b> {0} %(name)s"
    shelved = shop.shelf.add(ShelfKind.CUTTER, name, "entry:\n  name: other\n  mid_depth: 5\n  step: 4\n")
    client.post("/jobs/example")
    taken = {"path": '["cutter"]', "entry": str(shelved.id)}
    assert client.post("/jobs/1/shelf/take", data=taken, headers=GERMAN).status_code == 204
    safe = "&lt;b&gt;cutter&lt;/b&gt; {0} %(name)s"
    assert notes_of(client, ENGLISH)[0] == f"{safe} copied from the shelf"
    assert notes_of(client, GERMAN)[0] == f"{safe} aus den Werkstattdaten übernommen"


def test_moments_are_told_by_the_clock_of_the_shop(
    shop: Shop, client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Central European summer time is two hours ahead of UTC; the day there may be the next one."""
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    monkeypatch.setattr("drawerwright.store.job_table.now", lambda: "2026-07-31T22:05:09.123+00:00")
    try:
        upload(client, TEXT.encode())
        assert "saved 2026-08-01 00:05<" in client.get("/").text
        client.cookies.set("drawerwright_reader", "de|mm|comma|system")
        assert " 01.08.2026 00:05<" in client.get("/").text
    finally:
        monkeypatch.delenv("TZ")
        time.tzset()


@pytest.mark.parametrize(
    ("headers", "words"), [(ENGLISH, "Job without a name"), (GERMAN, "Auftrag ohne Namen")]
)
def test_a_job_without_a_name_is_called_so_in_the_readers_language(
    client: TestClient, shop: Shop, headers: dict[str, str], words: str
) -> None:
    assert upload(client, b"stock: {}\n") == 303
    assert shop.jobs.list()[0].title == ""
    page = client.get("/", headers=headers).text
    assert f'<a href="/jobs/1">{words}</a>' in page
    assert f"{words}</title>" in client.get("/jobs/1/text", headers=headers).text
    assert 'filename="job.yaml"' in client.get("/jobs/1/file").headers["content-disposition"]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_the_whole_text_keeps_its_line_ends(shop: Shop, client: TestClient, end: str) -> None:
    """A browser sends every line end of a form as CR LF (HTML standard, form submission)."""
    text = f"# mine{end}job: Chest{end}"
    job = shop.jobs.add("Chest", text, "")
    sent = {"text": "# mine\r\njob: Chest\r\n", "base": "1"}
    assert client.post(f"/jobs/{job.id}/text", data=sent, follow_redirects=False).status_code == 303
    assert shop.jobs.load(job.id).revision.number == 1, "nothing was changed"
    client.post(f"/jobs/{job.id}/text", data=sent | {"text": "job: Chest\r\n# more\r\n"})
    assert shop.jobs.load(job.id).text == f"job: Chest{end}# more{end}"


@pytest.mark.parametrize(("reader", "sign"), [("en|mm|point|system", "."), ("de|mm|comma|system", ",")])
def test_examples_and_doubtful_figures_have_the_readers_decimal_sign(
    shop: Shop, client: TestClient, reader: str, sign: str
) -> None:
    shop.jobs.add("example", example_text())
    client.cookies.set("drawerwright_reader", reader)
    assert f'value="5{sign}65 ± 0{sign}05"' in client.get("/jobs/1/cutter").text
    stock = client.get("/jobs/1/stock").text
    assert f"14{sign}6\u00a0±\u00a00{sign}05" in stock
    assert f'value="0{sign}05 ± 0{sign}05"' in stock
