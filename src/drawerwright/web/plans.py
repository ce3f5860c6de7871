"""Plans made in the background: a page waits a moment, then shows progress, and may cancel.

A plan belongs to a text; texts never change, so a plan made once serves every page that asks for it.
"""

from __future__ import annotations

import threading
import traceback
from collections import OrderedDict
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as NotYetError
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.web import jobtext

if TYPE_CHECKING:
    from drawerwright.job.planning import JobPlan
    from drawerwright.sheets.plan import Progress

PATIENCE_SECONDS = 0.6
"""How long a page waits before it shows progress instead."""
KEPT_PLANS = 12
WORKERS = 2


@dataclass(slots=True)
class Work:
    """One plan in the making."""

    future: Future[JobPlan]
    cancelled: threading.Event
    stage: str = ""
    best_cost: float | None = None
    lower_bound: float = 0.0
    seconds: float = 0.0


@dataclass(frozen=True, slots=True)
class PlanState:
    """What there is of a plan: exactly one of `plan`, `fault`, `work`, or none of them for a faulty text."""

    plan: JobPlan | None = None
    fault: str = ""
    work: Work | None = None


@dataclass(slots=True)
class PlanDesk:
    """Makes plans and remembers the latest."""

    _lock: threading.Lock = field(default_factory=threading.Lock)
    _works: OrderedDict[str, Work] = field(default_factory=OrderedDict)
    _pool: ThreadPoolExecutor = field(default_factory=lambda: ThreadPoolExecutor(WORKERS, "plan"))

    def ask(self, text: str, patience: float = PATIENCE_SECONDS) -> PlanState:
        """The plan of a text if it is ready within `patience` seconds, else how far it is."""
        if jobtext.faults_of(text):
            return PlanState()
        with self._lock:
            work = self._works.get(text)
            if work is None:
                work = self._start(text)
            self._works.move_to_end(text)
        try:
            return PlanState(plan=work.future.result(patience))
        except NotYetError:
            return PlanState(work=work)
        except DrawerwrightError as error:
            return PlanState(fault=str(error))
        except Exception as error:  # a fault of the program itself: say so here, and trace it in the terminal
            traceback.print_exception(error)
            with self._lock:
                self._works.pop(text, None)
            return PlanState(fault=f"{type(error).__name__}: {error}")

    def cancel(self, text: str) -> None:
        """End the search for better sheets: the best so far is used."""
        with self._lock:
            work = self._works.get(text)
        if work is not None:
            work.cancelled.set()

    def close(self) -> None:
        """End all work."""
        with self._lock:
            for work in self._works.values():
                work.cancelled.set()
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _start(self, text: str) -> Work:
        work = Work(Future(), threading.Event())
        self._works[text] = work
        while len(self._works) > KEPT_PLANS:
            _, oldest = self._works.popitem(last=False)
            oldest.cancelled.set()
        self._pool.submit(_plan, text, work)
        return work


def _plan(text: str, work: Work) -> None:
    from drawerwright.job.building import read_job
    from drawerwright.job.planning import plan_job

    def watch(stock: str, progress: Progress) -> None:
        work.stage = stock
        work.best_cost = progress.best_cost
        work.lower_bound = progress.lower_bound
        work.seconds = progress.seconds

    try:
        work.future.set_result(plan_job(read_job(text), watch=watch, cancelled=work.cancelled.is_set))
    except BaseException as error:
        work.future.set_exception(error)
