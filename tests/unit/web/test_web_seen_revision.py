"""Every change says which revision was seen; only what it concerns itself decides whether it is refused."""

from __future__ import annotations

import json

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.tried_corner import measures_of
from drawerwright.web.fields.job_text import data_of, job_of
from drawerwright.web.pages.parts.typed_corner import typed_measures
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.server.shop import Shop

NAME, WIDTH = ["banks", 0, "name"], ["banks", 0, "opening", "width"]


def enter(client: TestClient, path: list[object], typed: str, base: int) -> int:
    wish = {"path": json.dumps(path), "kind": "length", "value": typed, "base": str(base)}
    return client.post("/jobs/1/entry", data=wish).status_code


def keep(client: TestClient, shop: Shop, base: int) -> int:
    """As the Corner page sends it, with the measures that its form shows."""
    job = job_of(shop.jobs.load(1).text)
    assert job is not None
    corner = draft_job(job).corners[0]
    measures = typed_measures(measures_of(corner.setting), Preferences())
    wish = measures | {"corner": corner.key.token, "base": str(base), "bit_height": "11.1"}
    answer = client.post("/jobs/1/corner/keep", data=wish)
    assert answer.status_code == 204 or "The job has changed meanwhile" in answer.text
    return answer.status_code


def now(shop: Shop, *path: object) -> object:
    return value_at(data_of(shop.jobs.load(1).text), path)  # type: ignore[arg-type]


def test_another_entry_is_changed_from_an_old_revision_and_the_same_one_is_not(
    client: TestClient, shop: Shop
) -> None:
    assert enter(client, WIDTH, "480", 1) == 204
    assert enter(client, ["banks", 1, "opening", "width"], "500", 1) == 204
    assert enter(client, WIDTH, "490", 1) == 409
    assert now(shop, *WIDTH) == 480
    assert enter(client, WIDTH, "490", 2) == 204
    assert now(shop, *WIDTH) == 490


def test_an_answer_tells_the_page_its_own_step(client: TestClient) -> None:
    wish = {"path": json.dumps(WIDTH), "kind": "length", "value": "480", "base": "1"}
    assert client.post("/jobs/1/entry", data=wish).headers["drawerwright-step"] == "1 2"
    assert client.post("/jobs/1/undo", data={"base": "2"}).headers["drawerwright-step"] == "2 1"


def test_undo_and_redo_of_what_was_not_seen_are_refused(client: TestClient, shop: Shop) -> None:
    enter(client, WIDTH, "480", 1)
    for move in ("undo", "redo"):
        assert client.post(f"/jobs/1/{move}", data={"base": "1"}).status_code == 412
    assert now(shop, *WIDTH) == 480


def test_settings_are_kept_although_others_changed_what_does_not_concern_them(
    client: TestClient, shop: Shop
) -> None:
    enter(client, WIDTH, "480", 1)
    assert keep(client, shop, 1) == 204
    assert now(shop, "bit_heights")
    assert now(shop, *WIDTH) == 480


def test_settings_are_not_kept_over_a_corner_that_others_changed(client: TestClient, shop: Shop) -> None:
    enter(client, ["cutter", "mid_depth"], "5.7", 1)
    assert keep(client, shop, 1) == 422
    assert now(shop, "bit_heights") is None


def test_settings_by_the_law_ask_only_whether_the_kept_ones_are_those_that_were_seen(
    client: TestClient, shop: Shop
) -> None:
    assert keep(client, shop, 1) == 204
    enter(client, WIDTH, "480", 2)
    assert client.post("/jobs/1/corner/release", data={"base": "1"}).status_code == 422
    assert now(shop, "bit_heights")
    assert client.post("/jobs/1/corner/release", data={"base": "2"}).status_code == 204
    assert now(shop, "bit_heights") is None


@pytest.mark.parametrize("base", ["", "-1", "many"])
def test_a_change_without_a_revision_is_refused(client: TestClient, shop: Shop, base: str) -> None:
    wish = {"path": json.dumps(NAME), "kind": "text", "value": "mine", "base": base}
    assert client.post("/jobs/1/entry", data=wish).status_code == 422
    wish["base"] = "99"
    assert client.post("/jobs/1/entry", data=wish).status_code == 404
    assert now(shop, *NAME) != "mine"


def test_a_paste_asks_about_cells_that_others_changed_and_writes_the_rest(
    client: TestClient, shop: Shop
) -> None:
    enter(client, ["boxes", 0, "outer", "width"], "333", 1)
    cells = {"list": "boxes", "row": "0", "column": "2", "text": "310\t220\n", "base": "1"}
    answer = client.post("/jobs/1/paste", data=cells)
    assert answer.status_code == 409
    assert "now says “333”; you typed “310”" in answer.text
    assert now(shop, "boxes", 0, "outer") | {"height": 0} == {"width": 333, "depth": 220, "height": 0}  # type: ignore[operator]


def test_a_paste_onto_a_row_that_others_added_asks(client: TestClient, shop: Shop) -> None:
    assert client.post("/jobs/1/items/add", data={"path": '["boxes"]', "base": "1"}).status_code == 204
    cells = {"list": "boxes", "row": "1", "column": "0", "text": "Mine\n", "base": "1"}
    assert client.post("/jobs/1/paste", data=cells).status_code == 409
    assert now(shop, "boxes", 1, "name") != "Mine"


def test_an_entry_that_names_no_rule_is_refused_in_the_readers_language(
    client: TestClient, shop: Shop
) -> None:
    entry = {
        "path": json.dumps(["banks", 0, "fronts", "heights"]),
        "kind": "rule",
        "value": "anyhow",
        "base": "1",
    }
    answer = client.post("/jobs/1/entry", data=entry, headers={"Accept-Language": "de", "HX-Request": "true"})
    assert answer.status_code == 422
    assert "keine Regel für Fronthöhen" in answer.text
    assert shop.jobs.load(1).text == example_text()


@pytest.mark.parametrize(
    ("path", "kind", "theirs", "mine", "said"),
    [
        (
            ["banks", 0, "fronts", "style"],
            "choice",
            "inset",
            "applied",
            "Fronten (Choir scores) lautet jetzt „einliegend“; eingegeben wurde „mit Frontdoppel“",
        ),
        (
            ["banks", 1, "fronts", "grain_upright"],
            "yes",
            "yes",
            "",
            "(Orchestra parts) lautet jetzt „angekreuzt“",
        ),
        (
            ["stock", "birch15", "sheets", 0, "price"],
            "number",
            "80",
            "",
            "Preis (birch15, 1) lautet jetzt „80“",
        ),
        (["machine", "saw", "kerf"], "length", "3", "3.2", "Schnittbreite der Säge lautet jetzt „3“"),
        (
            ["cutter", "kind"],
            "choice",
            "lock-mitre",
            "drawer-lock",
            "Art des Fräsers lautet jetzt „Gehrungsverleimfräser",
        ),
    ],
)
def test_a_conflict_is_told_in_the_words_of_the_page(
    client: TestClient, path: list[object], kind: str, theirs: str, mine: str, said: str
) -> None:
    german = {"Accept-Language": "de", "HX-Request": "true"}
    for typed, statuses in ((theirs, (200, 204)), (mine, (409,))):  # 200: with a word on what went along
        wish = {"path": json.dumps(path), "kind": kind, "value": typed, "base": "1"}
        answer = client.post("/jobs/1/entry", data=wish, headers=german)
        assert answer.status_code in statuses
    assert said in answer.text
