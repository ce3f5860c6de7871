"""Sheets that were planned before: a change that leaves the parts of a stock as they are leaves its sheets too."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from typing import NamedTuple

from drawerwright.job.planning.job_plan import SheetPlanner
from drawerwright.job.weighing import bytes_of
from drawerwright.sheets.plan import PlanProgress, SheetPlan, SheetProblem, plan_sheets

MOST_KEPT_BYTES = 50_000_000
"""Of all plans together: the sheets of 400 drawers take 3 MB."""


class _Kept(NamedTuple):
    plan: SheetPlan
    weight: int
    """Bytes."""


class KeptSheets:
    """Plans sheets as its planner does, and the same problem once; the latest are kept, as many as there is room for.

    A search that somebody ended early is not kept: whoever asks next wants a better one.
    """

    def __init__(self, planner: SheetPlanner = plan_sheets) -> None:
        self._planner = planner
        self._lock = threading.Lock()
        self._plans: OrderedDict[tuple[SheetProblem, float | None], _Kept] = OrderedDict()

    def plan(
        self,
        problem: SheetProblem,
        *,
        progress: Callable[[PlanProgress], None] | None = None,
        time_limit: float | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> SheetPlan:
        """The sheets of a problem (see `plan_sheets`)."""
        asked = problem, time_limit
        with self._lock:
            kept = self._plans.get(asked)
            if kept is not None:
                self._plans.move_to_end(asked)
                return kept.plan
        plan = self._planner(problem, progress=progress, time_limit=time_limit, cancelled=cancelled)
        if cancelled is not None and cancelled():
            return plan
        made = _Kept(plan, bytes_of((asked, plan)))
        with self._lock:
            self._plans[asked] = made
            self._plans.move_to_end(asked)
            self._keep_what_there_is_room_for()
        return plan

    def _keep_what_there_is_room_for(self) -> None:
        """Let go of what was asked for longest ago."""
        weight = sum(kept.weight for kept in self._plans.values())
        while weight > MOST_KEPT_BYTES:
            _asked, oldest = self._plans.popitem(last=False)
            weight -= oldest.weight

    def forget(self) -> None:
        """Search anew for whatever is asked next."""
        with self._lock:
            self._plans.clear()
