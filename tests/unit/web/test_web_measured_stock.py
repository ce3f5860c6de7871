"""Measured stock on its page."""

from __future__ import annotations

import re
import statistics

from starlette.testclient import TestClient


def test_measured_thicknesses_are_shown_beside_the_published_range(client: TestClient) -> None:
    """Two sheets measured at four and three places; the range is that of wood/data/panel_thickness.csv."""
    page = client.get("/jobs/1/stock").text.replace("\N{NO-BREAK SPACE}", " ")
    stock = page[page.index("Stock birch15") : page.index("Stock birch6")]
    shown = dict(re.findall("<dt>([^<]+)</dt><dd>([^<]+)</dd>", stock))
    sheets = (14.62, 14.58, 14.66, 14.60), (14.64, 14.59, 14.61)
    mean = statistics.mean(statistics.mean(sheet) for sheet in sheets)
    assert shown["used for the settings"] == f"{mean:.2f} mm"
    assert shown["spread of the readings"] == "14.58 mm – 14.66 mm"
    assert shown["published range"] == "14.30 mm – 15.30 mm"
