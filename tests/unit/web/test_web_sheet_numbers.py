"""Which sheet an address of the sheets' page names, and the number that a sheet has everywhere."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.server.shop import Shop

PLANNED_SECONDS = 60.0
CHOICE = re.compile(r'<li><a href="\?sheet=(\d+)"([^>]*)>.*?<span>([^<]+)', re.DOTALL)


@pytest.fixture
def planned(client: TestClient, shop: Shop) -> TestClient:
    assert shop.plans.ask(example_text(), PLANNED_SECONDS).made
    return client


def test_an_address_that_names_no_sheet_shows_the_first(planned: TestClient) -> None:
    for asked in ("sheet=0", "sheet=99", "sheet=x", "sheet=1&piece=9999", "sheet=²"):
        page = planned.get(f"/jobs/1/sheets?{asked}").text
        assert [number for number, marks, _words in CHOICE.findall(page) if "aria-current" in marks] == ["1"]
        assert 'id="piece"' not in page


def test_a_sheet_has_the_number_that_cut_list_and_packet_give_it(planned: TestClient) -> None:
    """They count the sheets of each stock from 1."""
    choices = CHOICE.findall(planned.get("/jobs/1/sheets").text)
    page = planned.get(f"/jobs/1/sheets?sheet={len(choices)}").text
    last = sum("birch6" in words for _number, _marks, words in choices)
    head = page[page.index('class="sheet-head"') :].split("</p>")[0]
    assert f"birch6, sheet {last} of {last}" in head
    cuts = page[page.index('class="sheet-cuts"') : page.index('class="sheet-beside"')]
    assert "Cut list: birch6" in cuts
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", cuts, re.DOTALL)
    numbers = [
        cells[3] for row in rows if len(cells := re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)) > 3
    ]
    assert f"{last}" in {
        sheet for cell in numbers for part in cell.split("; ") for sheet in part.split(":")[0].split(", ")
    }
