"""The first page of a job: what it says, where its links lead, and what the other pages leave to it."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.run_list import step_keys
from drawerwright.web.server.shop import Shop

JOB = "/jobs/1"


def change(shop: Shop, *changes: tuple[str, str]) -> None:
    text = example_text()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    job = shop.jobs.load(1)
    shop.jobs.save(1, text, title=job.title, base=job.revision.number, note="")


def next_of(client: TestClient) -> tuple[str, str]:
    """What is next, and where its button leads."""
    page = client.get(f"{JOB}/glance").text
    found = re.search(
        r'class="next-step".*?<span>(.*?)</span>(?: <a class="button main" href="(.*?)")?', page, re.DOTALL
    )
    assert found is not None
    return found[1], (found[2] or "").replace("&amp;", "&")


UNMEASURED = ("    measured:\n      - [6.38, 6.42, 6.35]\n", "")
FAULTY = ("width: 574", "width: wide")


def test_a_job_opens_at_a_glance(client: TestClient) -> None:
    assert client.get(JOB, follow_redirects=False).headers["location"] == f"{JOB}/glance"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ([FAULTY], "mend 1 fault, at banks[2].opening.width."),
        ([UNMEASURED], "measure birch6 with calipers. Grooves and bottoms rest on it."),
        (
            [("5.65 ± 0.05", "5.65")],
            "measure drawer-lock cutter of the workshop; say how well you know",
        ),
        ([("groove_height: 9}", "groove_height: 97}")], "settle A1–A4 front, A1–A7: the groove would lie"),
        ([], "make a test cut on two scraps."),
    ],
)
def test_the_button_leads_to_the_very_field(
    client: TestClient, shop: Shop, changes: list[tuple[str, str]], said: str
) -> None:
    change(shop, *changes)
    words, link = next_of(client)
    assert words.startswith(said)
    answer = client.get(link)
    assert answer.status_code == 200
    place = urlsplit(link).fragment
    assert not place or f'id="{place}"' in answer.text


def test_what_is_done_in_the_shop_moves_it_on(client: TestClient, shop: Shop) -> None:
    made = shop.plans.ask(shop.jobs.load(1).text, 60.0, 1).made
    assert made is not None
    keys = step_keys(made)
    shop.progress.tick(1, keys[0], is_done=True)
    words, link = next_of(client)
    assert words == f"step 2 of {len(keys)}: {made.run.steps[1].title}."
    assert link == f"{JOB}/run?view=one&step=2"
    for key in keys:
        shop.progress.tick(1, key, is_done=True)
    assert next_of(client)[0] == "nothing. Every step of the run is done."


def test_each_drawer_is_a_link_to_where_it_is_worked_on(client: TestClient) -> None:
    page = client.get(f"{JOB}/glance").text
    names = (
        [f"A{n}" for n in range(1, 8)]
        + [f"B{n}" for n in range(1, 6)]
        + [f"Reed+tray+{n}" for n in range(1, 4)]
    )
    wide = page[page.index("at-desk") : page.index("at-hand")]
    assert re.findall(r'class="region" href="/jobs/1/drawers\?drawer=([^"]+)"', wide) == names


def test_four_drawers_with_one_text_are_one_row(client: TestClient, shop: Shop) -> None:
    change(shop, ("groove_depth: 6, groove_height: 9}", "groove_depth: 9, groove_height: 9}"))
    page = client.get(f"{JOB}/glance").text
    assert page.count("takes away more than half of") == 1
    assert "Warning · A1–A7:" in page
    assert 'href="/jobs/1/drawers#banks-0-bottom-groove_depth"' in page or "groove_depth" in page


def test_sheets_and_time_come_when_they_are_planned(client: TestClient, shop: Shop) -> None:
    made = shop.plans.ask(shop.jobs.load(1).text, 60.0, 1).made
    assert made is not None
    page = client.get(f"{JOB}/glance").text
    is_proven = all(stock.sheets.proven for stock in made.stocks)
    assert ("Least cost, proven" if is_proven else "Best so far, not proven") in page
    cost = sum(stock.sheets.cost or 0.0 for stock in made.stocks)
    assert f"{cost:.2f}" in page
    assert "hx-select-oob" not in page, "what is planned asks no more"


def test_the_nav_says_how_far_each_page_is(client: TestClient, shop: Shop) -> None:
    change(shop, UNMEASURED)
    shown = client.get(f"{JOB}/pages?tab=stock").text
    signs = {
        name: sign
        for name, link in re.findall(r'id="page-(\w+)"(.*?)</a>', shown, re.DOTALL)
        for sign in re.findall(r'aria-label="(\w+)"', link)
    }
    assert signs == {
        "cutter": "known",
        "stock": "doubtful",
        "drawers": "known",
        "corner": "known",
        "trial": "open",
        "sheets": "open",
        "run": "open",
        "papers": "open",
    }
    assert shown.count("aria-current") == 1


@pytest.mark.parametrize("page", ["sheets", "run", "papers", "trial"])
def test_a_page_that_needs_a_faultless_job_points_here(client: TestClient, shop: Shop, page: str) -> None:
    shop.jobs.add("new", example_text().replace(*FAULTY), "")
    shown = client.get(f"/jobs/2/{page}").text
    assert 'href="/jobs/2/glance"' in shown
    assert "cannot read" not in shown, "the fault itself is said once, on the job's first page"
    assert "cannot read" in client.get("/jobs/2/glance").text


def test_in_german_as_well(client: TestClient, shop: Shop) -> None:
    change(shop, UNMEASURED)
    page = client.get(f"{JOB}/glance", headers={"accept-language": "de"}).text.replace("\xa0", " ")
    assert "birch6 mit dem Messschieber messen. Nuten und Böden hängen davon ab." in page
    assert "nicht gemessen, 6,40 mm angenommen" in page
    client.get(f"{JOB}/glance")  # what is kept for one reader is not shown to another
    assert "Gemessene Dicken</a>" in client.get(f"{JOB}/glance", headers={"accept-language": "de"}).text


def test_of_many_findings_three_stand_open(client: TestClient, shop: Shop) -> None:
    """The others are a line each, and hold the same words."""
    change(
        shop,
        UNMEASURED,
        ("5.65 ± 0.05", "5.65"),
        ("groove_depth: 6, groove_height: 9", "groove_depth: 9, groove_height: 9"),
        ("groove_depth: 6, groove_height: 11", "groove_depth: 9, groove_height: 11"),
        ("load: 10 ", "load: 60 "),
    )
    page = client.get(f"{JOB}/glance").text
    rows = re.search(r'<ol class="finding-rows numbered">(.*?)</ol>', page, re.S)
    assert rows is not None
    each = re.findall(r"<li .*?</li>", rows[1], re.S)
    assert len(each) > 4
    assert ["<details" in row for row in each] == [place >= 3 for place in range(len(each))]
    for number, row in enumerate(each, start=1):
        assert f'<p id="finding-{number}">' in row
        assert 'class="there"' in row
