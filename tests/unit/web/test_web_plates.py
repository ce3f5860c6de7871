"""Plates of fields: what is asked first stands beside its drawing, what is folded says in one line what it holds."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.fields.every_field import every_field
from drawerwright.web.fields.job_text import data_of
from drawerwright.web.server.shop import Shop

INCHES = {"Cookie": "drawerwright_reader=en|in|point|light"}


def folded(page: str, title: str) -> tuple[bool, str]:
    """Whether the group is open, and its line of facts."""
    found = re.search(
        r'<details class="more folded" id="[^"]+" ?(open)?\s*><summary><span[^>]*>'
        rf"<span>{title}</span> <span[^>]*>(.*?)</span>",
        page,
        re.DOTALL,
    )
    assert found, title
    return found[1] is not None, re.sub(r"<[^>]+>|\s+", " ", found[2]).strip()


def test_a_folded_group_says_what_the_job_states_in_it(client: TestClient) -> None:
    page = client.get("/jobs/1/stock").text
    assert folded(page, "Kerf test") == (False, "nothing stated")
    is_open, facts = folded(page, "How finely it is set and measured")
    assert not is_open
    assert "Settings repeat to within  0.03 mm" in facts
    assert "mark to mark" not in facts  # usual, not stated


def test_a_folded_group_opens_where_an_entry_in_it_is_wrong(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("wrong", example_text().replace("speeds: [8000,", "speeds: [-4,"), "")
    page = client.get("/jobs/2/stock").text
    assert folded(page, "Spindle speeds")[0]
    assert not folded(page, "Times used for planning")[0]


def test_a_stock_of_solid_wood_asks_first_how_it_moves(client: TestClient, shop: Shop) -> None:
    solid = "panel: solid\n    species: white oak"
    shop.jobs.add("oak", example_text().replace("panel: birch-plywood", solid, 1), "")
    page = client.get("/jobs/2/stock").text
    own = page.split('id="stock-1-head"')[1].split('id="stock-2-head"')[0]
    assert "Species and moisture of solid wood" not in own
    assert ">white oak</textarea>" in own.split("Thickness known otherwise")[0]


@pytest.mark.parametrize(
    ("headers", "kerf", "upright"), [({}, "2.8 mm", "620 mm"), (INCHES, "0.110 in", "24.409 in")]
)
def test_drawings_of_the_machines_name_their_measures(
    client: TestClient, headers: dict[str, str], kerf: str, upright: str
) -> None:
    """1 in = 25.4 mm."""
    page = client.get("/jobs/1/stock", headers=headers).text.replace("\xa0", " ")
    saw, table = page.split('id="machine-saw-head"')[1].split('id="machine-table-head"')
    assert f">{kerf}</text>" in saw
    assert f">{upright}</text>" in table
    assert ">not stated</text>" in table  # the largest fence setting, of which nothing is usual


def test_the_page_has_every_field_that_belongs_to_it(client: TestClient) -> None:
    page = client.get("/jobs/1/stock").text
    missing = [
        field.id
        for place, field in every_field(data_of(example_text()))
        if place == "stock" and f'id="{field.id}"' not in page
    ]
    assert not missing
