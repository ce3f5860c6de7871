"""One thing after another on the pages of a job: rules of heights, sections, findings, stock, machine and shelf."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.web.server.shop import Shop
from hands import Hands

DRAWERS, STOCK, CUTTER = "/jobs/1/drawers", "/jobs/1/stock", "/jobs/1/cutter"


@pytest.fixture
def drawers(client: TestClient) -> Hands:
    return Hands(client, DRAWERS)


@pytest.fixture
def stock(client: TestClient) -> Hands:
    return Hands(client, STOCK)


def text_of(shop: Shop) -> str:
    return shop.jobs.load(1).text


def test_heights_by_another_rule(drawers: Hands, shop: Shop) -> None:
    rule = "banks-0-fronts-heights"
    drawers.type(rule, "geometric")
    assert drawers.value(f"{rule}-geometric-count") == "7"
    assert "ratio: 1.15" in text_of(shop)
    drawers.type(f"{rule}-geometric-ratio", "1.1")
    drawers.type(rule, "given")
    # What they had: each is 1.1 times the one above it, and 76.1 (1.1^7 - 1) / 0.1 = 722 = 742 - 8 reveals of 2.5.
    assert drawers.value(f"{rule}-given") == "76.1; 83.7; 92.1; 101.3; 111.4; 122.6; rest"
    drawers.type(f"{rule}-given", "95; tall")
    assert "tall" in drawers.beside(f"{rule}-given")
    drawers.type(f"{rule}-given", "95; rest")
    assert drawers.value("height-A1") == "95.0"
    for _undo in range(5):
        drawers.press("Undo")
    assert drawers.value(f"{rule}-equal") == "7"


def test_sections_are_ticked_on_and_off(drawers: Hands, shop: Shop) -> None:
    drawers.type("banks-0-banding", "yes")
    assert drawers.value("banks-0-banding-thickness") == "1"
    drawers.type("banks-0-banding-applied_front", "")
    assert "applied_front: false" in text_of(shop)
    drawers.type("banks-0-banding", "")
    assert drawers.tag("banks-0-banding-thickness") == ""
    drawers.type("banks-0-fronts-pull", "")
    assert drawers.tag("banks-0-fronts-pull-hole") == ""
    assert "pull: {below_top: 38" not in text_of(shop)


def finding_of(page: str, field: str) -> str:
    """The rows of the findings that lead to a field."""
    rows = re.findall(r"<li[^>]*>.*?</li>", page, re.DOTALL)
    return "".join(row for row in rows if f'{field}"' in row)


def test_findings_have_rows_that_lead_to_their_fields(
    client: TestClient, drawers: Hands, stock: Hands
) -> None:
    drawers.type("boxes-0-outer-height", "45")
    assert "only 45.0 mm high" in drawers.seen.split('class="finding-rows')[1]
    stock.type("stock-birch6-measured", "")
    assert "not measured yet" in finding_of(stock.seen, "#stock-birch6-measured")
    cutter = Hands(client, CUTTER)
    cutter.type("cutter-diameter", "")
    cutter.type("cutter-max_speed", "")
    assert "neither its diameter" in finding_of(cutter.seen, "#cutter-diameter")


def test_stock_sheets_and_offcuts_come_and_go(client: TestClient, stock: Hands, shop: Shop) -> None:
    before = text_of(shop)
    stock.press("Add an offcut to birch6")
    assert stock.value("stock-birch6-offcuts-0-length") == "600"
    stock.type("stock-birch6-offcuts-0-label", "behind the door")
    stock.press("Add a sheet size to birch15")
    assert stock.value("stock-birch15-sheets-1-width") == "1250"
    stock.press("Remove sheet 1 of birch15")
    assert stock.tag("stock-birch15-sheets-1-width") == ""
    new = {"name": "", "nominal": "thick", "length": "2400", "width": "1200"}
    assert "Give the stock a name" in client.post("/jobs/1/stock/add", data=new).text
    assert client.post("/jobs/1/stock/add", data={**new, "name": "ash20"}).is_success
    stock = Hands(client, STOCK)
    assert "cannot read 'thick' as a length" in stock.beside("stock-ash20-nominal")
    stock.press("Remove stock ash20")
    assert stock.tag("stock-ash20-nominal") == ""
    stock.press("Undo")
    assert stock.value("stock-ash20-nominal") == "thick"
    for _undo in range(5):
        stock.press("Undo")
    assert stock.tag("stock-birch6-offcuts-0-length") == ""
    assert text_of(shop) == before


def test_stock_and_machines_from_the_shelf(client: TestClient, stock: Hands) -> None:
    same = "Same as on the shop"
    stock.press("Put it on the shelf", within='id="shelf-stock-birch6"')
    assert stock.seen.count(same) == 1
    assert "What takes its place?" in stock.press("Remove stock birch6")
    taken = {"path": '["stock", "birch6"]', "base": "1", "instead": "birch15"}
    assert client.post("/jobs/1/items/remove", data=taken).is_success
    stock.press("Use birch6 from the shelf")
    assert stock.value("stock-birch6-nominal") == "6.5"
    stock.type("machine-name", "bench by the window")
    stock.press("Put it on the shelf", within='id="shelf-machine"')
    assert same in stock.seen.split('id="shelf-machine"')[1]
    stock.type("machine-name", "big table")
    stock.type("machine-saw-kerf", "3.2")
    stock.press("Put it on the shelf", within='id="shelf-machine"')
    stock.press("Use bench by the window instead")
    assert stock.value("machine-saw-kerf") == "2.8"
    assert stock.value("machine-name") == "bench by the window"
    assert "Use big table instead" in stock.seen
