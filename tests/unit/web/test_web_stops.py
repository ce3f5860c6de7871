"""A STOP on the Run page: all of them first, and one at every step that cuts a drawer concerned."""

from __future__ import annotations

import re
from html import unescape

from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.server.shop import Shop

STOPPED = example_text().replace("side-mounted, length: 400", "side-mounted, length: 400, thickest_side: 14")


def run_page(client: TestClient, path: str) -> str:
    for _ in range(50):
        page = client.get(path).text
        if 'class="steps' in page:
            return unescape(page).replace("\xa0", " ")
    raise AssertionError("no plan was made")


def test_the_run_page_leads_with_it_and_marks_the_steps(client: TestClient, shop: Shop) -> None:
    assert "stop-bar" not in run_page(client, "/jobs/1/run")
    job = shop.jobs.add("stopped", STOPPED, "")
    page = run_page(client, f"/jobs/{job.id}/run")
    assert page.index("stop-bar") < page.index("Before you start")
    assert "sides of 14.61 mm are thicker than the 14 mm the runner takes." in page
    steps = re.split(r'<li class="sheet step', page)[1:]
    marked = ["stop-bar" in step for step in steps]
    assert any(marked)
    assert not all(marked)
    for step, is_marked in zip(steps, marked, strict=True):
        assert is_marked == ("Do not cut yet: B" in step)
    first = marked.index(True) + 1
    single = run_page(client, f"/jobs/{job.id}/run?view=one&step={first}")
    assert "Do not cut yet: B" in single
    assert "thicker than the 14 mm the runner takes." in single
