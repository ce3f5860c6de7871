"""A real server process and a real Chromium."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from drawerwright.job.building import read_job
from drawerwright.job.draft import draft_job
from drawerwright.web.jobtext import example_text

CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-unsafe-swiftshader",  # draws WebGL without a graphics card
]
SIZES = {"desk": {"width": 1366, "height": 860}, "phone": {"width": 390, "height": 844}}
PATIENCE_MS = 8000
"""How long a page may take before a test gives up; machines that run tests are busy."""


def chromium_path() -> str | None:
    """Chromium as the system has it."""
    return shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


def example_corner(number: int) -> str:
    """How addresses name a corner of the example, by its place among the example's corners (from 0)."""
    return draft_job(read_job(example_text())).corners[number].key.token


class Served:
    """The app as a process of its own, as a user starts it."""

    def __init__(self, data: Path, *arguments: str, port: int = 0) -> None:
        self.data = data
        self.arguments = arguments
        self.start(port)

    def start(self, port: int) -> None:
        """Start and wait until it answers."""
        command = [
            sys.executable,
            "-m",
            "drawerwright",
            "serve",
            "--data",
            str(self.data),
            "--port",
            str(port),
        ]
        self.process = subprocess.Popen(
            [*command, *self.arguments], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        )
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        assert "http://" in line, line + self.process.stdout.read()
        self.address = line.split("http://")[1].split("/")[0]
        self.port = int(self.address.rsplit(":", 1)[1])
        self.url = f"http://{self.address}"
        for _ in range(100):
            try:
                urllib.request.urlopen(f"{self.url}/alive", timeout=1).close()
                break
            except OSError:
                time.sleep(0.05)

    def lines(self, count: int) -> list[str]:
        """The next lines that it prints."""
        assert self.process.stdout is not None
        return [self.process.stdout.readline() for _ in range(count)]

    def kill(self) -> None:
        """End it without any chance to tidy up."""
        self.process.send_signal(signal.SIGKILL if os.name != "nt" else signal.SIGTERM)
        self._reap()

    def stop(self) -> None:
        """End it as Ctrl-C does."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        self._reap()

    def _reap(self) -> None:
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()


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


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    server = Served(tmp_path / "data")
    yield server
    server.stop()


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server with the example job, for tests that only look."""
    server = Served(tmp_path_factory.mktemp("shared") / "data")
    yield server
    server.stop()


@pytest.fixture(scope="session")
def example_job(shared: Served, browser: Browser) -> str:
    """The path of the example job on the shared server, planned once."""
    context = new_context(browser, "desk")
    page = context.new_page()
    path = add_example(page, shared)
    page.goto(f"{shared.url}{path}/run")
    page.get_by_text("steps done").first.wait_for(timeout=30_000)
    context.close()
    return path


def new_context(browser: Browser, size: str, **more: object) -> BrowserContext:
    """A fresh visitor. Anything the page complains of fails the test that sees it."""
    context = browser.new_context(viewport=SIZES[size], locale="en-GB", **more)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE_MS)
    return context


def add_example(page: Page, server: Served) -> str:
    """Add the example job and return its path."""
    page.goto(server.url)
    page.get_by_role("button", name="From the example").click()
    page.wait_for_url("**/jobs/*/drawers")
    return "/" + "/".join(page.url.split("/")[3:5])


def job_text(page: Page, server: Served) -> str:
    """The job file of the job whose page is open, as it would be exported."""
    job = page.url.split("/jobs/")[1].split("/")[0]
    return page.request.get(f"{server.url}/jobs/{job}/file").text()


def type_into(page: Page, field: str, text: str) -> None:
    """Type into a field and leave it."""
    page.locator(field).fill(text)
    page.locator(field).press("Tab")


@pytest.fixture
def desk(browser: Browser) -> Iterator[Page]:
    context = new_context(browser, "desk")
    yield context.new_page()
    context.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = new_context(browser, "phone", has_touch=True)
    yield context.new_page()
    context.close()


@pytest.fixture
def drawers(desk: Page, served: Served) -> Page:
    """The page of the example's drawers on a server of its own."""
    path = add_example(desk, served)
    desk.goto(f"{served.url}{path}/drawers")
    return desk
