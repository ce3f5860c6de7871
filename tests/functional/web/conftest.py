"""A real server process and a real Chromium."""

from __future__ import annotations

import faulthandler
import json
import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning.draft import draft_job
from served_app import CHROMIUM_FLAGS, SIZES, Served, chromium_path
from warm_app import WarmApp

__all__ = ["PATIENCE_MS", "SIZES", "Served", "example_corner", "job_text", "new_context", "type_into"]

PATIENCE_MS = 8000
"""How long a page may take before a test gives up; machines that run tests are busy."""
COLD_MS = 30_000
"""The same for the way to another page: a server that just started reads, plans and draws for the first time."""
LONGEST_SECONDS = 180
"""No test takes a sixth of this."""
expect.set_options(timeout=PATIENCE_MS)


def example_corner(number: int) -> str:
    """How addresses name a corner of the example, by its place among the example's corners (from 0)."""
    return draft_job(read_job(example_text())).corners[number].key.token


@pytest.fixture(autouse=True)
def no_endless_wait() -> Iterator[None]:
    """A browser that no longer answers would hold up the tests for ever: not all that it is asked has a time limit.

    Its process ends instead, with this test as failed, and the others go on in a new one.
    """
    faulthandler.dump_traceback_later(LONGEST_SECONDS, exit=True)
    yield
    faulthandler.cancel_dump_traceback_later()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = chromium_path()
    if path is None:
        if os.environ.get("DRAWERWRIGHT_BROWSER") == "required":
            pytest.fail("no Chromium on this machine, and DRAWERWRIGHT_BROWSER says it is required")
        pytest.skip("no Chromium on this machine: install it to run the browser tests")
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=path, args=CHROMIUM_FLAGS)
        yield running
        running.close()


@pytest.fixture(scope="session")
def warm() -> Iterator[WarmApp]:
    """What servers fork from."""
    app = WarmApp()
    yield app
    app.close()


@pytest.fixture(scope="session")
def _served_to_many(tmp_path_factory: pytest.TempPathFactory, warm: WarmApp) -> Iterator[Served]:
    server = Served(tmp_path_factory.mktemp("served") / "data", warm=warm)
    yield server
    server.stop()


@pytest.fixture
def served(request: pytest.FixtureRequest, tmp_path: Path, warm: WarmApp) -> Iterator[Served]:
    """A server on which the test keeps to jobs of its own; marked `alone`, it has a server of its own.

    It needs one to kill it, to pair with it, to count its jobs, to use its shelf, or to leave it at work.
    """
    if request.node.get_closest_marker("alone") is None:
        yield request.getfixturevalue("_served_to_many")
        return
    server = Served(tmp_path / "data", warm=warm)
    yield server
    server.kill()  # whatever it is at, and whoever looks at it


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory, warm: WarmApp) -> Iterator[Served]:
    """A server with the example job and no other, for tests that only look."""
    server = Served(tmp_path_factory.mktemp("shared") / "data", warm=warm)
    yield server
    server.stop()


@pytest.fixture(scope="session")
def example_job(shared: Served, browser: Browser) -> str:
    """The path of the example job on the shared server, planned once."""
    path = shared.add_example()
    context = new_context(browser, "desk")
    page = context.new_page()
    page.goto(f"{shared.url}{path}/run")
    page.get_by_text("steps done").first.wait_for(timeout=COLD_MS)
    context.close()
    return path


@pytest.fixture(scope="module")
def looker(browser: Browser) -> Iterator[Page]:
    """One page at the desk for the tests of a module that only look: each goes to an address of its own."""
    context = new_context(browser, "desk")
    yield context.new_page()
    context.close()


# The browser of the tests draws 3-D without a graphics card and calls that quick; pages then draw it unasked.
SLOW_WEBGL = """
const context = HTMLCanvasElement.prototype.getContext;
HTMLCanvasElement.prototype.getContext = function (kind, wish) {
    return wish?.failIfMajorPerformanceCaveat ? null : context.call(this, kind, wish);
};
"""


def new_context(
    browser: Browser, size: str, *, has_graphics_card: bool = False, **more: object
) -> BrowserContext:
    """A fresh visitor. Anything the page complains of fails the test that sees it."""
    asked: Any = {"locale": "en-GB", "reduced_motion": "reduce"} | more
    context = browser.new_context(viewport=SIZES[size], **asked)
    context.set_default_timeout(PATIENCE_MS)
    context.set_default_navigation_timeout(COLD_MS)
    if not has_graphics_card:
        context.add_init_script(SLOW_WEBGL)
    return context


def job_text(page: Page, server: Served) -> str:
    """The job file of the job whose page is open, as it would be exported."""
    job = page.url.split("/jobs/")[1].split("/")[0]
    return page.request.get(f"{server.url}/jobs/{job}/file").text()


def change_entry(page: Page, page_of_job: str, path: list[str | int], value: str) -> None:
    """Change a length of a job from elsewhere, as its field would; the page asks, whatever it shows."""
    job, origin = "/".join(page_of_job.split("/")[:5]), "/".join(page_of_job.split("/")[:3])
    base = re.search(r"data-version-job=\"(\d+)\"", page.request.get(f"{job}/text").text())
    assert base is not None
    form = {"path": json.dumps(path), "kind": "length", "value": value, "base": base[1]}
    assert page.request.post(f"{job}/entry", form=form, headers={"Origin": origin}).status == 204


def type_into(page: Page, field: str, text: str) -> None:
    """Type into a field and leave it."""
    page.locator(field).fill(text)
    page.locator(field).press("Tab")


@pytest.fixture(scope="session")
def _desk(browser: Browser) -> Iterator[BrowserContext]:
    context = new_context(browser, "desk")
    yield context
    context.close()


@pytest.fixture(scope="session")
def _other(browser: Browser) -> Iterator[BrowserContext]:
    context = new_context(browser, "desk")
    yield context
    context.close()


@pytest.fixture(scope="session")
def _phone(browser: Browser) -> Iterator[BrowserContext]:
    context = new_context(browser, "phone", has_touch=True)
    yield context
    context.close()


def fresh_page(context: BrowserContext) -> Iterator[Page]:
    """A page of a visitor who was here before and has left nothing but what browsers keep of scripts and styles.

    The app keeps cookies, and drafts in the page's own session; a new visitor costs a fourth more of every page.
    """
    yield context.new_page()
    for page in context.pages:
        page.close()
    context.set_offline(False)
    context.clear_cookies()


@pytest.fixture
def desk(_desk: BrowserContext) -> Iterator[Page]:
    yield from fresh_page(_desk)


@pytest.fixture
def other(_other: BrowserContext) -> Iterator[Page]:
    """A second person at another desk."""
    yield from fresh_page(_other)


@pytest.fixture
def phone(_phone: BrowserContext) -> Iterator[Page]:
    yield from fresh_page(_phone)


@pytest.fixture
def drawers(desk: Page, served: Served) -> Page:
    """The page of the drawers of an example of the test's own."""
    desk.goto(f"{served.url}{served.add_example()}/drawers")
    return desk


TRAYS = example_text().split("banks:\n")[0] + "boxes:\n" + example_text().split("boxes:\n")[1]
"""The example without its banks, whose fields and pictures are most of what the page of the drawers draws."""


@pytest.fixture
def trays(desk: Page, served: Served) -> Page:
    """The same page of a job that has a row of trays alone, for what does not depend on which entry is changed."""
    desk.goto(f"{served.url}{served.add_job(TRAYS)}/drawers")
    return desk
