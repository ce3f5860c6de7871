"""The app over HTTP with the example job in it.

Starlette's test client warns on import that it prefers a successor of httpx; httpx serves it as well.
"""

from __future__ import annotations

import shutil
import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest
from anyio.from_thread import BlockingPortal, start_blocking_portal

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"


@pytest.fixture(scope="session", autouse=True)
def one_event_loop() -> Iterator[BlockingPortal]:
    """Every request is served in one event loop, as by the real server; the client would begin one for each."""
    with start_blocking_portal() as portal, pytest.MonkeyPatch.context() as patch:
        patch.setattr(TestClient, "portal", portal)
        yield portal


@pytest.fixture(scope="session")
def data_of_example(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder whose job 1 is the example; tests get a copy."""
    folder = tmp_path_factory.mktemp("example")
    shop = Shop(folder)
    shop.jobs.add("example", example_text(), "")
    shop.close()
    return folder


@pytest.fixture
def shop(tmp_path: Path, data_of_example: Path) -> Iterator[Shop]:
    """A shop whose job 1 is the example."""
    shutil.copytree(data_of_example, tmp_path, dirs_exist_ok=True)
    shop = Shop(tmp_path)
    yield shop
    shop.close()


@pytest.fixture
def client(shop: Shop) -> TestClient:
    """The browser at the desk."""
    return TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
