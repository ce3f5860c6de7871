"""Pages in German that only show up after something was done: nothing that the catalogue translates is English."""

from __future__ import annotations

import html
import json
import re

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning.draft import draft_job
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from german_texts import EXAMPLE, codes_among, english_among, texts_of
from opened_panels import with_panels_open

DESK = "http://127.0.0.1:8744"
PLANNED_SECONDS = 60.0
CORNER = draft_job(read_job(example_text())).corners[1]


@pytest.fixture
def reader(shop: Shop) -> TestClient:
    """Somebody who reads German."""
    headers = {"Origin": DESK, "Accept-Language": "de-DE"}
    return TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers=headers)


def english_on(reader: TestClient, address: str) -> list[str]:
    return english_among(texts_of(with_panels_open(reader, address)))


def _replaced(*changes: tuple[str, str]) -> str:
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


FAULTY = _replaced(
    ("kerf: 2.8", "kerf: much, colour: red"),
    ("equal: 7", "equal: 0"),
    ("style: slid", "style: round"),
    ("{all: birch15}", "{all: oak}"),
)
DOUBTFUL = _replaced(
    ("groove_depth: 6", "groove_depth: 12"),
    ("max_speed: 16000", "max_speed: 900"),
    ("[6.38, 6.42, 6.35]", "[6.38, 6.92, 6.05]"),
    ("upright: 620", "upright: 90"),
)


@pytest.mark.parametrize(
    ("text", "pages"),
    [
        (FAULTY, ("drawers", "stock", "cutter", "text", "run", "papers")),
        (DOUBTFUL, ("drawers", "stock", "corner", "sheets", "run", "papers")),
    ],
    ids=["faulty", "doubtful"],
)
def test_faults_and_findings_are_said_in_german(
    reader: TestClient, shop: Shop, text: str, pages: tuple[str, ...]
) -> None:
    """A job with every common kind of fault, and one that is doubtful from end to end."""
    job = shop.jobs.add("job", text).id
    shop.plans.ask(text, PLANNED_SECONDS, job)
    assert {page: found for page in pages if (found := english_on(reader, f"/jobs/{job}/{page}"))} == {}


def test_test_cuts_are_said_in_german(reader: TestClient) -> None:
    """Readings that are impossible, that quarrel and that cannot be read; corrections, history, what was learnt."""
    place = f"/jobs/1/trial?corner={CORNER.key.token}"
    form = reader.get(place).text.split('action="/jobs/1/trial"')[1].split("</form>")[0]
    typed = [tag for tag in re.findall("<input[^>]*>", form) if not re.search('type="(radio|checkbox)"', tag)]
    given = dict(re.findall(r' name="(\w+)"[^>]* value="([^"]*)"', "".join(typed)))
    kinds = [name for name, value in given.items() if not value]
    assert len(kinds) > 8
    for readings, said in (
        (dict.fromkeys(kinds, "0,3"), "können nicht alle stimmen"),
        ({"play": "0,3", "shoulder_gap": "0,02"}, "Diese Messwerte widersprechen einander"),
        ({"play": "ein wenig"}, "fault-play"),
        ({"play": "0,1", "seen": "play"}, "Probefräsung 2 entfernen"),
    ):
        page = reader.post("/jobs/1/trial", data={**given, **readings}).text
        assert said in page
        assert english_among(texts_of(page)) == []
        assert codes_among(texts_of(page)) == []
    (first, _second) = re.findall(r'action="(/jobs/1/trial/\d+/delete[^"]*)"', page)
    assert english_among(texts_of(reader.post(html.unescape(first)).text)) == []
    page = reader.get("/jobs/1/cutter").text
    assert "Spiel längs des Hochkantstücks 0,10 mm" in page.replace("\xa0", " ")
    assert english_among(texts_of(page)) == []
    assert codes_among(texts_of(page)) == []


OTHERWISE = {
    "cutter": {"mid_depth": "5,7 ± 0,02", "kind": "lock-mitre"},
    "stock": {
        "birch15-grain": "none",
        "birch15-panel": "mdf",
        "birch15-sheets-0-price": "80",
        "speeds": "8000; 9000",
    },
}


def test_what_the_shelf_has_otherwise_is_said_in_german(reader: TestClient, shop: Shop) -> None:
    for page, typed in OTHERWISE.items():
        shown = reader.get(f"/jobs/1/{page}").text
        for path in re.findall(r'hx-post="/jobs/1/shelf/put"[^>]*hx-vals="([^"]*)"', shown):
            assert (
                reader.post(
                    "/jobs/1/shelf/put", data=json.loads(html.unescape(html.unescape(path)))
                ).status_code
                == 204
            )
        for field, value in typed.items():
            (vals,) = re.findall(rf'id="[\w-]*{field}"[^>]*hx-vals="([^"]*)"', shown)
            told = json.loads(html.unescape(html.unescape(vals)))
            base = str(shop.jobs.load(1).revision.number)
            assert (
                reader.post("/jobs/1/entry", data={**told, "base": base, "value": value}).status_code == 204
            )
        shown = reader.get(f"/jobs/1/{page}").text
        assert shown.count("difference-line") == len(typed)
        assert english_among(texts_of(shown)) == []
        assert codes_among(texts_of(shown)) == []
    assert "Platte 1, Preis: " in shown
    (take, *_others) = re.findall(r'hx-post="/jobs/1/shelf/take"[^>]*hx-vals="([^"]*)"', shown)
    reader.post("/jobs/1/shelf/take", data=json.loads(html.unescape(html.unescape(take))))
    assert reader.get("/jobs/1/stock").text.count("difference-line") == 1
    assert reader.get("/jobs/1/text").text.count("aus den Werkstattdaten übernommen") == 1
