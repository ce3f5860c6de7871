"""How parts of a page are drawn anew."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.web.reader.rendering import TEMPLATE_FOLDER
from drawerwright.web.server.shop import Shop

TEMPLATES = sorted(path.name for path in TEMPLATE_FOLDER.glob("*.html"))


@pytest.mark.parametrize("name", TEMPLATES)
def test_what_stands_in_a_morphed_part_is_not_morphed_itself(name: str) -> None:
    """An element that asks again when it is loaded would stay the same element, and ask no more.

    htmx passes `hx-swap` on to what stands inside unless told not to (its documentation, "Attribute Inheritance").
    """
    text = (TEMPLATE_FOLDER / name).read_text()
    for tag in re.findall(r"<[^>]*hx-swap=\"morph[^>]*>", re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "", text)):
        assert re.search(r'hx-disinherit="[^"]*\bhx-swap\b', tag), tag


def test_heading_and_list_in_3d_are_redrawn_with_the_drawers(client: TestClient, shop: Shop) -> None:
    """What stands outside the part that is asked for anew comes along with it, to be put in its place."""

    def told(page: str) -> tuple[str, int]:
        heading = page.split('id="drawers-count"')[1].split("</p>")[0].split(">")[1]
        return heading, page.split('id="viewer-drawer"')[1].split("</select>")[0].count("<option")

    before = told(client.get("/jobs/1/drawers").text)
    base = str(shop.jobs.load(1).revision.number)
    assert client.post("/jobs/1/items/remove", data={"path": '["boxes", 0]', "base": base}).status_code == 204
    part = client.get("/jobs/1/drawers?part=entries").text
    assert told(part) == told(client.get("/jobs/1/drawers").text) != before
    assert re.search(r'id="drawers-count" hx-swap-oob="morph"', part)
    assert re.search(r'id="viewer-drawer" hx-swap-oob="morph"', part)
