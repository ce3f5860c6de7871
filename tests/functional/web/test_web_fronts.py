"""The piece in the picture: a front is gone to, its height typed at it or dragged by its edge."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from drawerwright.job.file.reading import entries_of

from .conftest import Served, job_text


def test_a_front_opens_its_row_and_is_the_drawer_in_3d(drawers: Page) -> None:
    drawers.locator("#piece .at-desk [data-region='B2']").click(position={"x": 40, "y": 18})
    expect(drawers.locator("#more-banks-1")).to_have_attribute("open", "")
    expect(drawers.locator("#more-banks-0")).not_to_have_attribute("open", "")
    expect(drawers.locator("#viewer-drawer")).to_have_value("B2")
    expect(drawers.locator("#piece .at-desk [aria-current]")).to_have_attribute("data-region", "B2")
    drawers.locator("#piece .at-desk [data-region='Reed tray 3']").focus()
    drawers.keyboard.press("Enter")
    expect(drawers.locator("#more-boxes-0")).to_have_attribute("open", "")
    expect(drawers.locator("#viewer-drawer")).to_have_value("Reed tray 3")


def test_an_address_may_name_the_drawer(drawers: Page) -> None:
    drawers.goto(drawers.url + "?drawer=B4")
    expect(drawers.locator("#more-banks-1")).to_have_attribute("open", "")
    expect(drawers.locator("#viewer-drawer")).to_have_value("B4")


def test_a_height_typed_at_its_front_moves_the_lowest(drawers: Page, served: Served) -> None:
    drawers.locator("#height-A3").fill("120")
    drawers.locator("#height-A3").press("Enter")
    expect(drawers.locator("#height-A3")).to_have_value("120.0")
    expect(drawers.locator("#height-A7")).to_have_value("86.5")
    heights = entries_of(job_text(drawers, served))["banks"][0]["fronts"]["heights"]
    assert heights == {"given": [103.1, 103.1, 120, 103.1, 103.1, 103.1, "rest"]}
    drawers.locator("#undo").click()
    expect(drawers.locator("#height-A3")).to_have_value("103.1")


def test_an_edge_is_dragged(drawers: Page) -> None:
    edge = drawers.locator("[data-for='height-B2']")
    box = edge.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    drawers.mouse.move(x, y)
    drawers.mouse.down()
    drawers.mouse.move(x, y + 12, steps=4)
    dragged = drawers.locator("#height-B2").input_value()
    assert float(dragged) > 134
    drawers.mouse.up()
    expect(drawers.locator("#history")).to_contain_text("revision 2")
    expect(drawers.locator("#height-B2")).to_have_value(f"{float(dragged):.1f}")
    expect(drawers.locator("#height-B3")).to_have_value("149.2")


@pytest.mark.parametrize(("width", "height"), [(1366, 860), (1920, 1080)])
def test_the_piece_stays_in_sight_beside_what_is_typed(drawers: Page, width: int, height: int) -> None:
    drawers.set_viewport_size({"width": width, "height": height})
    drawers.locator("#banks-0-bottom-clearance").scroll_into_view_if_needed()
    drawers.mouse.wheel(0, 600)
    drawers.wait_for_timeout(300)
    picture = drawers.locator("#piece .at-desk svg").bounding_box()
    assert picture is not None
    assert picture["y"] >= 0
    assert picture["y"] + picture["height"] <= height
    panel = drawers.locator("#more-banks-0").bounding_box()
    assert panel is not None
    assert picture["x"] + picture["width"] <= panel["x"], "details stand beside the picture, not in the table"
