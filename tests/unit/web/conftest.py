"""The app over HTTP with the example job in it.

Starlette's test client warns on import that it prefers a successor of httpx; httpx serves it as well.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """A shop whose job 1 is the example."""
    shop = Shop(tmp_path)
    shop.jobs.add("example", example_text(), "")
    yield shop
    shop.close()


@pytest.fixture
def client(shop: Shop) -> TestClient:
    """The browser at the desk."""
    return TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
