"""Plans in the background: progress shows, cancelling ends the search, faults of the program are said."""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from crates import crates
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning import job_plan
from drawerwright.sheets.plan import PlanProgress
from drawerwright.web.server.shop import Shop
from drawerwright.web.work.plan_desk import PlanDesk


@pytest.fixture
def text() -> str:
    return example_text()


def wait_for(condition: Callable[[], bool]) -> None:
    until = time.monotonic() + 10
    while not condition():
        assert time.monotonic() < until
        time.sleep(0.01)


def test_progress_then_cancel(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def slow_plan(job: Any, *, watch: Any, cancelled: Callable[[], bool], **_more: Any) -> str:
        watch("birch15", PlanProgress(2.0, 1.0, seconds=3.0, has_prices=False))
        while not cancelled():
            time.sleep(0.01)
        return "best so far"

    monkeypatch.setattr(job_plan, "plan_job", slow_plan)
    desk = PlanDesk()
    state = desk.ask(text, patience=0.05)
    assert state.made is None
    assert state.work is not None
    work = state.work
    wait_for(lambda: work.stage == "birch15")
    assert (work.best_cost, work.lower_bound, work.has_prices) == (2.0, 1.0, False)
    desk.cancel(text)
    assert desk.ask(text, patience=10).made == "best so far"
    desk.close()


def test_the_same_text_is_planned_once(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []
    go = threading.Event()

    def plan(job: Any, **_more: Any) -> str:
        calls.append(job)
        go.wait(10)
        return "plan"

    monkeypatch.setattr(job_plan, "plan_job", plan)
    desk = PlanDesk()
    desk.ask(text, patience=0.01)
    desk.ask(text, patience=0.01)
    go.set()
    assert desk.ask(text, patience=10).made == "plan"
    assert len(calls) == 1
    desk.close()


def test_a_fault_of_the_program_is_said_and_tried_again(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    answers: list[Any] = [ZeroDivisionError("of all things"), "plan"]

    def plan(job: Any, **_more: Any) -> Any:
        answer = answers.pop(0)
        if isinstance(answer, Exception):
            raise answer
        return answer

    monkeypatch.setattr(job_plan, "plan_job", plan)
    desk = PlanDesk()
    assert "ZeroDivisionError" in desk.ask(text, patience=10).fault
    assert desk.ask(text, patience=10).made == "plan"
    desk.close()


def test_a_faulty_text_has_no_plan(text: str) -> None:
    desk = PlanDesk()
    state = desk.ask(text.replace("step: 3.45", "step: wide"))
    assert (state.made, state.work, state.fault) == (None, None, "")
    desk.close()


def test_names_stay_text_in_every_drawing(tmp_path: Path, text: str) -> None:
    """A bank named like a script is lettering, in SVG as elsewhere."""
    from starlette.testclient import TestClient

    from drawerwright.web.server.shop import Shop
    from drawerwright.web.serving import app_of

    shop = Shop(tmp_path)
    evil = '<img src=x onerror=alert(1)>"&'
    shop.jobs.add(
        "evil", text.replace("name: Choir scores", f"name: '{evil}'").replace("birch15", "birch<i>")
    )
    desk = "http://127.0.0.1:8744"
    client = TestClient(app_of(shop), base_url=desk, client=("127.0.0.1", 5), headers={"Origin": desk})
    for page in ("drawers", "card", "stock", "cutter", "corner", "trial", "text"):
        answer = client.get(f"/jobs/1/{page}")
        assert answer.status_code == 200
        assert "<img" not in answer.text, page
        assert "birch<i>" not in answer.text, page
    assert "&lt;img src=x" in client.get("/jobs/1/drawers").text
    shop.plans.close()
    shop.database.close()


@pytest.mark.parametrize(
    ("best", "bound", "words"),
    [
        (1.0, 1.0, "Best so far: 1 new sheet, the fewest possible."),
        (2.0, 2.0, "Best so far: 2 new sheets, the fewest possible."),
        (2.0, 1.0, "Best so far: 2 new sheets; at least 1 needed."),
    ],
)
def test_the_best_so_far_is_counted_in_words(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, best: float, bound: float, words: str
) -> None:
    def slow_plan(job: Any, *, watch: Any, cancelled: Callable[[], bool], **_more: Any) -> str:
        watch("birch15", PlanProgress(best, bound, seconds=3.0, has_prices=False))
        while not cancelled():
            time.sleep(0.01)
        return "best so far"

    monkeypatch.setattr(job_plan, "plan_job", slow_plan)
    pages: list[str] = []

    def is_told() -> bool:
        pages.append(client.get("/jobs/1/sheets").text)
        return "Best so far" in pages[-1]

    wait_for(is_told)
    client.post("/jobs/1/plan/cancel")
    assert words in pages[-1]


def test_areas_and_runs_are_in_feet_for_readers_of_inches(client: TestClient, shop: Shop) -> None:
    """A foot is 0.3048 m (international foot, 1959), so a square metre 10.764 square feet."""
    job = shop.jobs.add("crates", crates(2), "")

    def figures(unit: str, of_area: str, of_run: str) -> tuple[float, float]:
        client.cookies.set("drawerwright_reader", f"en|{unit}|.|system")
        page = client.get(f"/jobs/{job.id}/sheets").text.replace("\xa0", " ")
        largest = re.search(rf"Largest piece left</th><td[^>]*>([\d.]+) {of_area}<", page)
        routed = re.search(rf"Routed length</th><td[^>]*>([\d.]+) {of_run}<", page)
        assert largest is not None
        assert routed is not None
        assert ("m²" in page) is (of_area == "m²")
        return float(largest[1]), float(routed[1])

    wait_for(lambda: "Largest piece left" in client.get(f"/jobs/{job.id}/sheets").text)
    square_metres, metres = figures("mm", "m²", "m")
    square_feet, feet = figures("in", "ft²", "ft")
    assert square_feet == pytest.approx(square_metres * 10.764, abs=0.12)
    assert feet == pytest.approx(metres / 0.3048, abs=0.25)


def test_the_corner_waits_for_no_sheets(tmp_path: Path, text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    from drawerwright.web.serving import app_of

    def no_plan(job: Any, **_more: Any) -> Any:
        raise AssertionError("the corner asked for a plan")

    monkeypatch.setattr(job_plan, "plan_job", no_plan)
    shop = Shop(tmp_path)
    shop.jobs.add("chest", text)
    client = TestClient(app_of(shop), base_url="http://127.0.0.1:8744", client=("127.0.0.1", 5))
    shown = client.get("/jobs/1/corner").text
    assert 'id="corner-form"' in shown
    assert "How sure is the first cut?" in shown
    shop.close()
