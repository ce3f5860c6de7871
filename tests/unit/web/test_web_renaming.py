"""Stock and cutter under other names in the app: what refers to them follows, and nothing else is theirs."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.job.planning.corners import corners_of
from drawerwright.store import ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.server.shop import Shop


def keys(shop: Shop) -> list[object]:
    return [corner.key for corner in corners_of(read_job(shop.jobs.load(1).text))]


def rename(client: TestClient, old: str, new: str) -> int:
    return client.post("/jobs/1/stock/rename", data={"old": old, "name": new, "base": "1"}).status_code


def test_a_stock_is_renamed_where_it_stands_and_undo_brings_its_name_back(
    client: TestClient, shop: Shop
) -> None:
    before, text = keys(shop), shop.jobs.load(1).text
    assert ">birch15</textarea>" in client.get("/jobs/1/stock").text
    assert rename(client, "birch15", "birch from the loft") == 204
    assert ">birch from the loft</textarea>" in client.get("/jobs/1/stock").text
    assert keys(shop) == before
    assert client.post("/jobs/1/undo", data={"base": "2"}).is_success
    assert shop.jobs.load(1).text == text


def test_a_name_that_is_taken_or_gone_changes_nothing(client: TestClient, shop: Shop) -> None:
    other = next(name for name in read_job(shop.jobs.load(1).text).stock if name != "birch15")
    assert rename(client, "birch15", other) == 422
    assert rename(client, "elm", "oak") == 422
    assert shop.jobs.load(1).revision.number == 1


def test_a_renamed_cutter_keeps_its_corners(client: TestClient, shop: Shop) -> None:
    before = keys(shop)
    wish = {"path": '["cutter", "name"]', "kind": "text", "value": "the blue one", "base": "1"}
    assert client.post("/jobs/1/entry", data=wish).status_code == 204
    assert read_job(shop.jobs.load(1).text).cutters[0].cutter.name == "the blue one"
    assert keys(shop) == before


def test_another_cutter_from_the_shelf_makes_other_corners(client: TestClient, shop: Shop) -> None:
    before = keys(shop)
    rename_cutter = {"path": '["cutter", "name"]', "kind": "text", "value": "the blue one", "base": "1"}
    client.post("/jobs/1/entry", data=rename_cutter)
    assert client.post("/jobs/1/shelf/put", data={"path": '["cutter"]'}).status_code == 204
    (blue,) = shop.shelf.list(ShelfKind.CUTTER)
    assert "id" not in job_text.data_of(blue.text)["entry"]
    red = shop.shelf.add(ShelfKind.CUTTER, "red", "entry: {name: red, mid_depth: 5.5, step: 3.5}")
    take = {"path": '["cutter"]', "entry": str(red.id)}
    assert client.post("/jobs/1/shelf/take", data=take).status_code == 204
    assert {key.cutter for key in keys(shop)} == {"red"}
    assert {key.cutter for key in before} != {"red"}


@pytest.mark.parametrize("way", ["added", "taken"])
def test_a_new_stock_is_not_taken_for_one_that_was_called_so_once(
    client: TestClient, shop: Shop, way: str
) -> None:
    before = keys(shop)
    assert rename(client, "birch15", "birch from the loft") == 204
    if way == "added":
        entry = {"name": "birch15", "nominal": "15", "length": "2500", "width": "1250"}
        assert client.post("/jobs/1/stock/add", data=entry).status_code == 204
    else:
        text = "entry: {nominal: 15, sheets: [{length: 2500, width: 1250}]}"
        shelved = shop.shelf.add(ShelfKind.STOCK, "birch15", text)
        take = {"path": '["stock", "birch15"]', "entry": str(shelved.id)}
        assert client.post("/jobs/1/shelf/take", data=take).status_code == 204
    stock = read_job(shop.jobs.load(1).text).stock
    assert stock["birch from the loft"].key == "birch15" != stock["birch15"].key
    assert keys(shop) == before


def test_taking_the_same_stock_again_keeps_its_id(client: TestClient, shop: Shop) -> None:
    before = keys(shop)
    rename(client, "birch15", "loft")
    assert client.post("/jobs/1/shelf/put", data={"path": '["stock", "loft"]'}).status_code == 204
    (shelved,) = shop.shelf.list(ShelfKind.STOCK)
    take = {"path": '["stock", "loft"]', "entry": str(shelved.id)}
    assert client.post("/jobs/1/shelf/take", data=take).status_code == 204
    assert read_job(shop.jobs.load(1).text).stock["loft"].key == "birch15"
    assert keys(shop) == before
