"""Every run of the tests is the same: time limits count computing time, and hypothesis draws the same examples."""

from __future__ import annotations

import gc
import math
import time
from collections.abc import Callable, Generator, Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from _pytest.doctest import DoctestModule
from hypothesis import HealthCheck, settings

settings.register_profile(
    "the same each time",
    deadline=None,
    derandomize=True,  # so that more examples find nothing new until something changes; `make fuzz` draws others
    max_examples=50,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("the same each time")


@pytest.hookimpl(wrapper=True)
def pytest_collect_file() -> Generator[None, list[pytest.Collector], list[pytest.Collector]]:
    """Examples stand in the docstrings of the program: nobody looks for them in the tests."""
    return [found for found in (yield) if not isinstance(found, DoctestModule)]


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The browser's tests come first: one process has them all, and what another takes over from it at the end is small
    and needs no server and no browser of its own."""
    of_browser = Path(__file__).parent / "functional" / "web"
    items.sort(key=lambda item: of_browser not in item.path.parents)


def pytest_collection_finish() -> None:
    """What the tests are made of stays to the end: to look it over for garbage took a tenth of their time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)


@pytest.fixture(scope="session", autouse=True)
def own_time() -> Iterator[None]:
    """Time limits hold for what this process computes: a busy machine finds the same plans as an idle one.

    It comes before every other fixture, so that plans which many tests share are the same each time too.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(time, "perf_counter", time.process_time)
        patch.setattr("drawerwright.sheets.solver.outcome.MOST_BY_THE_CLOCK", math.inf)
        yield


ENOUGH_SECONDS = 0.15
"""Of computing: both examples cost after a third of it what they cost after 2 s."""
OF_SHEETS = (
    "unit/sheets",
    "unit/drawings",
    "validation",
    "functional/test_sheets_command.py",
    "unit/job/test_kept_sheets.py",
)
"""Tests that look at how good the sheets are, how they are drawn, or how long they are looked for: these get the time
that they ask for."""


class PlannedOnce:
    """Plans of sheets for tests that look at something else: quick ones, and the same problem once in a process."""

    def __init__(self, find: Callable[..., Any]) -> None:
        self._find = find
        self._found: dict[object, Any] = {}
        self.is_of_sheets = False

    def find(self, problem: Any, *, time_limit: float | None = None, **told: Any) -> Any:
        if self.is_of_sheets:
            return self._find(problem, time_limit=time_limit, **told)
        limit = ENOUGH_SECONDS if time_limit is None else min(time_limit, ENOUGH_SECONDS)
        if (problem, limit) in self._found:
            return self._found[problem, limit]
        found = self._find(problem, time_limit=limit, **told)
        if not (told.get("cancelled") and told["cancelled"]()):
            self._found[problem, limit] = found
        return found


@pytest.fixture(scope="session", autouse=True)
def planned_once(own_time: None) -> Iterator[PlannedOnce]:
    from drawerwright.sheets import plan

    with pytest.MonkeyPatch.context() as patch:
        once = PlannedOnce(plan.find_plan)
        patch.setattr(plan, "find_plan", once.find)
        yield once


SET_ANEW = ("functional/test_packet.py", "unit/drawings/test_typesetting.py")
"""Tests that look whether the same pages come of the same packet, and how they are set."""


class SetOnce:
    """Pages that were set in this process before: the same template and data give the same bytes.

    Only what our own templates are made of is remembered; a folder of a document's own holds other files too.
    """

    def __init__(self, make: Callable[..., Any], templates: str) -> None:
        self._make = make
        self._templates = templates
        self._set: dict[bytes, Any] = {}
        self.is_used = True

    def compiler(self, source: bytes, *, root: str, sys_inputs: dict[str, str], **told: Any) -> Any:
        made = self._make(source, root=root, sys_inputs=sys_inputs, **told)
        if root != self._templates or not self.is_used:
            return made
        name = sha256(repr((source, told, sorted(sys_inputs.items()))).encode()).digest()
        return SetCompiler(made, self._set, name)


@dataclass(frozen=True)
class SetCompiler:
    """What typst made of a source, and what it was set as before."""

    made: Any
    known: dict[bytes, Any]
    name: bytes

    def compile(self, *source: bytes, **wanted: Any) -> Any:
        if source:  # another one, as typst is given to let go of what it remembers
            return self.made.compile(*source, **wanted)
        key = sha256(self.name + repr(sorted(wanted.items())).encode()).digest()
        if key not in self.known:
            self.known[key] = self.made.compile(**wanted)
        return self.known[key]


@pytest.fixture(scope="session", autouse=True)
def set_once() -> Iterator[SetOnce]:
    import typst

    from drawerwright.drawings.typesetting import TEMPLATES

    with pytest.MonkeyPatch.context() as patch:
        once = SetOnce(typst.Compiler, str(TEMPLATES))
        patch.setattr(typst, "Compiler", once.compiler)
        yield once


@pytest.fixture(scope="module", autouse=True)
def pages_set_anew(request: pytest.FixtureRequest, set_once: SetOnce) -> None:
    here = request.path.relative_to(Path(__file__).parent).as_posix()
    set_once.is_used = not here.startswith(SET_ANEW)


@pytest.fixture(scope="module", autouse=True)
def time_of_sheets(request: pytest.FixtureRequest, planned_once: PlannedOnce) -> None:
    here = request.path.relative_to(Path(__file__).parent).as_posix()
    planned_once.is_of_sheets = here.startswith(OF_SHEETS)


@pytest.fixture
def screwed_butt_known() -> Iterator[None]:
    """A joint of somebody else's package is there."""
    from drawerwright.joints.registry import forget, register
    from screwed_butt import SCREWED_BUTT

    register(SCREWED_BUTT)
    yield
    forget(SCREWED_BUTT.name)
