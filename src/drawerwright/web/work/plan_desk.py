"""Plans made in the background."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, TypeAlias

from drawerwright.web.fields import job_text
from drawerwright.web.work.background import PATIENCE_SECONDS, State, Work, WorkDesk

if TYPE_CHECKING:
    from drawerwright.job.planning.job_plan import JobPlan, Watcher
    from drawerwright.job.planning.kept_sheets import KeptSheets

PlanState: TypeAlias = "State[JobPlan]"


class PlanDesk:
    """Makes the plan of a text and remembers the latest; stopping takes the best sheets found so far.

    A job that is split into days has one plan for each day, made together, beside the one of all drawers at once.
    """

    def __init__(self) -> None:
        self._desk: WorkDesk[JobPlan] = WorkDesk("plan")
        self._days: WorkDesk[tuple[JobPlan, ...]] = WorkDesk("days")

    def ask(
        self,
        text: str,
        patience: float = PATIENCE_SECONDS,
        job_id: int | None = None,
        *,
        day: int | None = None,
    ) -> PlanState:
        """The plan of a text if it is ready within `patience` seconds, else how far it is.

        Args:
            text: of the job file.
            patience: seconds to wait.
            job_id: whose older texts are no longer worth working on.
            day: which day of a job that is split, from 1; None for all drawers at once.
        """
        if job_text.faults_of(text):
            return State()
        if day is None:
            return self._desk.ask(text, _plan, job_id=job_id, patience=patience)
        state = self._days.ask(text, _plan_days, job_id=job_id, patience=patience)
        return State(
            None if state.made is None else state.made[day - 1],
            state.fault,
            state.work,
            state.is_stopped,
        )

    def all_days(self, text: str) -> tuple[JobPlan, ...]:
        """The plans of every day, once they are made."""
        return self._days.ask(text, _plan_days, patience=0.0).made or ()

    def every_plan(
        self, text: str, patience: float | None = None, job_id: int | None = None, *, is_split: bool
    ) -> State[tuple[JobPlan, ...]]:
        """All plans of a job that is planned as a whole: one, or one for each day of a job that `is_split`.

        Waits `patience` seconds for them; None begins nothing and says what there is by now.
        """
        if job_text.faults_of(text):
            return State()
        if is_split:
            if patience is None:
                return self._days.known(text)
            return self._days.ask(text, _plan_days, job_id=job_id, patience=patience)
        if patience is None:
            state = self._desk.known(text)
        else:
            state = self._desk.ask(text, _plan, job_id=job_id, patience=patience)
        made = None if state.made is None else (state.made,)
        return State(made, state.fault, state.work, state.is_stopped)

    def cancel(self, text: str) -> None:
        """End the search for better sheets: the best so far is used."""
        self._desk.cancel(text)
        self._days.cancel(text)

    def forget(self, text: str) -> None:
        """Search anew when next asked."""
        _kept_sheets().forget()
        self._desk.forget(text)
        self._days.forget(text)

    def close(self) -> None:
        """End all work."""
        self._desk.close()
        self._days.close()


@cache
def _kept_sheets() -> KeptSheets:
    """Of every job, so that a copy of a job need not be searched again either."""
    from drawerwright.job.planning.kept_sheets import KeptSheets
    from drawerwright.job.planning.planner_process import plan_in_process

    return KeptSheets(plan_in_process)


def _plan(work: Work[JobPlan]) -> JobPlan:
    from drawerwright.job.file.building import read_job
    from drawerwright.job.planning.job_plan import plan_job
    from drawerwright.job.planning.planner_process import processors

    return plan_job(
        read_job(work.text),
        watch=_watcher(work),
        cancelled=work.cancelled.is_set,
        planner=_kept_sheets().plan,
        at_once=processors(),
    )


def _plan_days(work: Work[tuple[JobPlan, ...]]) -> tuple[JobPlan, ...]:
    from drawerwright.job.file.building import read_job
    from drawerwright.job.planning.days import plan_days
    from drawerwright.job.planning.planner_process import processors

    return plan_days(
        read_job(work.text),
        watch=_watcher(work),
        cancelled=work.cancelled.is_set,
        planner=_kept_sheets().plan,
        at_once=processors(),
    )


def _watcher(work: Work[JobPlan] | Work[tuple[JobPlan, ...]]) -> Watcher:
    return lambda stock, progress: work.searching(
        stock, progress.best_cost, progress.lower_bound, has_prices=progress.has_prices
    )
