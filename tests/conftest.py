"""Every run of the tests is the same: time limits count computing time, and hypothesis draws the same examples."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "the same each time", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("the same each time")


@pytest.fixture(scope="session", autouse=True)
def own_time() -> Iterator[None]:
    """Time limits hold for what this process computes: a busy machine finds the same plans as an idle one.

    It comes before every other fixture, so that plans which many tests share are the same each time too.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(time, "perf_counter", time.process_time)
        yield


@pytest.fixture
def screwed_butt_known() -> Iterator[None]:
    """A joint of somebody else's package is there."""
    from drawerwright.joints.registry import forget, register
    from screwed_butt import SCREWED_BUTT

    register(SCREWED_BUTT)
    yield
    forget(SCREWED_BUTT.name)
