"""Sheets that were planned before: a change that leaves the parts of a stock as they are leaves its sheets too."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable

from drawerwright.sheets.plan import PlanProgress, SheetPlan, SheetProblem, plan_sheets

MOST_KEPT = 24


class KeptSheets:
    """Plans sheets as `plan_sheets` does, and the same problem once; the latest are kept.

    A search that somebody ended early is not kept: whoever asks next wants a better one.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._plans: OrderedDict[tuple[SheetProblem, float | None], SheetPlan] = OrderedDict()

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
            plan = self._plans.get(asked)
        if plan is None:
            plan = plan_sheets(problem, progress=progress, time_limit=time_limit, cancelled=cancelled)
            if cancelled is not None and cancelled():
                return plan
        with self._lock:
            self._plans[asked] = plan
            self._plans.move_to_end(asked)
            while len(self._plans) > MOST_KEPT:
                self._plans.popitem(last=False)
        return plan

    def forget(self) -> None:
        """Search anew for whatever is asked next."""
        with self._lock:
            self._plans.clear()
