"""No page that a reader of inches opens shows a millimetre, a kilogram or a degree Celsius."""

from __future__ import annotations

import html
import json
import re
import time

from starlette.routing import Route
from starlette.testclient import TestClient

from drawerwright.basics.unbroken import NO_BREAK
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

JOB = """\
format: 1
job: Reed chest
units: in
cutter: {mid_depth: 0.17, step: 0.11, cutting_height: 0.5, diameter: 1 3/4}
runners:
  slide:
    {kind: under-mounted, notch: {width: 1 3/8, height: 1/2}, bore: {diameter: 1/4, beside: 1/4, above: 1},
     lengths: [{length: 15, load: 75}]}
stock:
  half: {panel: solid, species: cherry, nominal: 1/2, measured: [0.474, 0.477], sheets: [{length: 48, width: 24}]}
  quarter: {panel: us-plywood, nominal: 1/4, measured: [0.201], sheets: [{length: 48, width: 24}]}
banks:
  - name: Reeds
    opening: {width: 14, height: 4, depth: 17}
    fronts: {style: applied, heights: {equal: 1}, stock: half, scoop: {width: 4, depth: 1}}
    runner: slide
    box: {all: half}
    bottom: {stock: quarter}
    load: 9
    hangers: {span: 10}
"""
PATIENCE = 30.0
METRIC = re.compile(r"\bmm\b|\bcm\b|mm²|m²|millimet|\d m\b(?!/s)|\d g\b|\bkg\b|°C", re.IGNORECASE)
CHOICES = re.compile(
    r'<option value="(?:mm|)"[^>]*>[^<]*|\(mm, in\)|14\.65 mm|<input type="radio"[^>]*>[^<]*'
)
"""What a reader may choose, and examples of how a length may be typed."""
ELSEWHERE = (
    *("/events", "/news", "/restore", ".pdf", "/file", ".zip", "-picture", "/papers/", "/help", "/joints"),
    *("/alternatives", "/archive", "/first", "/pair", "/devices", "/history", "/card", "/glance"),
)
"""No pages, the parts of others, or pages without a length. Papers have a test of their own."""


def _pages(shop: Shop) -> list[str]:
    routes = (route for route in app_of(shop).routes if isinstance(route, Route))
    paths = (route.path.replace("{job_id:int}", "2") for route in routes if "GET" in (route.methods or ()))
    return sorted(path for path in paths if "{" not in path and not any(some in path for some in ELSEWHERE))


def test_no_page_shows_a_metric_unit(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("chest", JOB, "")
    client.cookies.set("drawerwright_reader", "en|in|point|system")
    deadline = time.monotonic() + PATIENCE
    while "Largest piece left" not in client.get("/jobs/2/sheets").text:
        assert time.monotonic() < deadline
        time.sleep(0.05)
    told = {}
    for path in _pages(shop):
        answer = client.get(path)
        if "html" not in answer.headers.get("content-type", "") or answer.status_code != 200:
            continue
        text = re.sub(r"<(script|style)\b.*?</\1>", "", CHOICES.sub("", answer.text), flags=re.DOTALL)
        shown = re.findall(r'(?:placeholder|title|aria-label|alt|value)="([^"]*)"', text)
        lines = html.unescape("\n".join((re.sub(r"<[^>]*>", "\n", text), *shown))).splitlines()
        told[path] = [line for line in lines if METRIC.search(line)]
    assert {"/jobs/2/drawers", "/jobs/2/run", "/jobs/2/papers", "/jobs/2/trial", "/corner"} <= set(told)
    assert {path: lines for path, lines in told.items() if lines} == {}
    cutter = html.unescape(client.get("/jobs/2/cutter").text)
    assert "as in 0.240\xa0±\xa00.002" in cutter
    assert "0.142\xa0±\xa00.002" in cutter
    assert "±\xa00.05" not in cutter
    assert "0.291; 0.134" in cutter
    assert "7.4; 3.4" not in cutter


def test_a_length_in_sixty_fourths_is_one_figure(client: TestClient) -> None:
    """Nowhere a fraction and what remains of it; beside a gauge in decimals stands the nearest sixty-fourth."""
    client.cookies.set("drawerwright_reader", "de|in/64|language|system")
    typed = "kind=drawer-lock&mid_depth=0,24&step=0,15&flat=0,58&upright=0,58&lip=0&slope=45"
    section = client.get(f"/corner/section?{typed}").text
    texts = [section, *(client.get(f"/jobs/1/{page}").text for page in ("glance", "sheets", "run", "stock"))]
    for text in texts:
        shown = html.unescape(text).replace(NO_BREAK, " ")
        assert not re.search(r"/(?:64|32|16|8|4|2)(?: in)? [+−] 0", shown)
    state = re.search(r'data-state="([^"]*)"', section)
    assert state
    beside = [fraction for _, fraction in json.loads(html.unescape(state[1]))["gauges"].values()]
    assert len(beside) == 3
    assert all(re.fullmatch(r"(≈ )?(\d+ )?\d+/\d+ in", fraction) for fraction in beside)


def test_a_german_hint_has_its_example_in_inches_too(client: TestClient) -> None:
    client.cookies.set("drawerwright_reader", "de|in|language|system")
    shown = html.unescape(client.get("/jobs/1/stock").text).replace(NO_BREAK, " ")
    assert "(0,575 0,579); 0,571" in shown
    assert "14,6 14,7" not in shown


def test_examples_are_each_readers_own(client: TestClient) -> None:
    """One after the other, from the same templates."""
    for reader, example in (
        ("en|mm|point|system", "7.4; 3.4"),
        ("en|in|point|system", "0.291; 0.134"),
        ("de|mm|language|system", "7,4; 3,4"),
    ):
        client.cookies.set("drawerwright_reader", reader)
        assert example in client.get("/jobs/1/cutter").text
