"""No end of a line parts a figure from its unit, on any page."""

from __future__ import annotations

import html
import re

import pytest
from starlette.testclient import TestClient

PARTED = re.compile(r"(?<![\w-])[\d.,]*\d (?:mm|cm|m|ft|m²|kg|lb|h|min|s|%|kB)(?!\w)[^<]{0,20}")
"""Inches stand with a figure before a unit of more letters only: "12 in all" are no inches."""
NEVER_PARTED = re.compile(r"<(svg|textarea|script|style|option|title)\b.*?</\1>|<[^>]*>", re.DOTALL)
"""What no line ends in: drawings, and what somebody typed."""


@pytest.mark.parametrize(
    ("page", "reader"),
    [
        ("glance", "en|mm|point"),
        ("cutter", "de|in|comma"),
        ("stock", "en|mm|point"),
        ("drawers", "de|mm|comma"),
        ("corner", "en|mm|point"),
        ("trial", "de|mm|comma"),
    ],
)
def test_a_figure_and_its_unit_stay_together(client: TestClient, page: str, reader: str) -> None:
    client.cookies.set("drawerwright_reader", f"{reader}|system")
    words = html.unescape(NEVER_PARTED.sub("|", client.get(f"/jobs/1/{page}").text))
    assert len(re.findall(r"\d\xa0(?:mm|in|%)", words)) > 0
    assert PARTED.findall(words) == []
