"""Time in tests."""

from __future__ import annotations

import time

import pytest


@pytest.fixture(autouse=True)
def own_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Time limits hold for what this process computes: a busy machine finds the same plans as an idle one."""
    monkeypatch.setattr(time, "perf_counter", time.process_time)
