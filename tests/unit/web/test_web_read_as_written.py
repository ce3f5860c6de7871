"""What holds for the text of every page: a figure stands with its unit, an id stands once."""

from __future__ import annotations

import html
import re
from collections import Counter

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"

PARTED = re.compile(r"(?<![\w-])[\d.,]*\d (?:mm|cm|m|ft|m²|kg|lb|h|min|s|%|kB)(?!\w)[^<]{0,20}")
"""Inches stand with their figure as the others do; "12 in all" are none."""
NEVER_PARTED = re.compile(r"<(svg|textarea|script|style|option|title)\b.*?</\1>|<[^>]*>", re.DOTALL)
"""What no line ends in: drawings, and what somebody typed."""
READERS = {
    "glance": "en|mm|point",
    "cutter": "de|in|comma",
    "stock": "en|mm|point",
    "drawers": "de|mm|comma",
    "corner": "en|mm|point",
    "trial": "de|mm|comma",
}
"""Pages, each as one reader sees it."""


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    shop = Shop(tmp_path_factory.mktemp("read"))
    shop.jobs.add("example", example_text(), "")
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5))
    seen = {}
    for page, reader in READERS.items():
        client.cookies.set("drawerwright_reader", f"{reader}|system")
        seen[page] = client.get(f"/jobs/1/{page}").text
    shop.close()
    return seen


@pytest.mark.parametrize("page", READERS)
def test_a_figure_and_its_unit_stay_together(pages: dict[str, str], page: str) -> None:
    words = html.unescape(NEVER_PARTED.sub("|", pages[page]))
    assert re.search(r"\d\xa0(?:mm|in|%)", words)
    assert PARTED.findall(words) == []


@pytest.mark.parametrize("page", READERS)
def test_each_id_stands_once(pages: dict[str, str], page: str) -> None:
    """A drawing that is hidden on a phone lends no other its grain, and a page that is drawn anew keeps its state."""
    ids = Counter(re.findall(r'\sid="([^"]+)"', pages[page]))
    assert len(ids) > 3
    assert [name for name, count in ids.items() if count > 1] == []
