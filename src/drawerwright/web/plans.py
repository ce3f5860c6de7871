"""Plans made in the background."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from drawerwright.web import jobtext
from drawerwright.web.works import PATIENCE_SECONDS, State, Work, WorkDesk

if TYPE_CHECKING:
    from drawerwright.job.planning import JobPlan
    from drawerwright.sheets.plan import Progress

PlanState: TypeAlias = "State[JobPlan]"


class PlanDesk:
    """Makes the plan of a text and remembers the latest; stopping takes the best sheets found so far."""

    def __init__(self) -> None:
        self._desk: WorkDesk[JobPlan] = WorkDesk("plan")

    def ask(self, text: str, patience: float = PATIENCE_SECONDS, job_id: int | None = None) -> PlanState:
        """The plan of a text if it is ready within `patience` seconds, else how far it is."""
        if jobtext.faults_of(text):
            return State()
        return self._desk.ask(text, _plan, job_id=job_id, patience=patience)

    def cancel(self, text: str) -> None:
        """End the search for better sheets: the best so far is used."""
        self._desk.cancel(text)

    def forget(self, text: str) -> None:
        """Search anew when next asked."""
        self._desk.forget(text)

    def close(self) -> None:
        """End all work."""
        self._desk.close()


def _plan(work: Work[JobPlan]) -> JobPlan:
    from drawerwright.job.building import read_job
    from drawerwright.job.planning import plan_job

    def watch(stock: str, progress: Progress) -> None:
        work.stage = stock
        work.best_cost = progress.best_cost
        work.lower_bound = progress.lower_bound

    return plan_job(read_job(work.text), watch=watch, cancelled=work.cancelled.is_set)
