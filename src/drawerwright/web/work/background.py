"""Long work in the background: a page waits a moment, then shows how far it is, and may stop it.

A piece of work belongs to a text of a job file and to what else it depends on. Texts never change, so what was
made once serves every page that asks for it. When a job has a newer text, work for its older ones is ended.
"""

from __future__ import annotations

import contextvars
import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as NotYetError
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.job.weighing import bytes_of

Made = TypeVar("Made")

PATIENCE_SECONDS = 0.6
"""How long a page waits before it shows progress instead."""
KEPT_WORKS = 12
MOST_KEPT_BYTES = 100_000_000
"""Of one kind of work: the papers of 400 drawers take some 70 MB."""
WORKERS = 2


class StoppedError(Exception):
    """Raised inside work that somebody has stopped, where half of it is of no use."""


@dataclass(slots=True, eq=False)
class Work(Generic[Made]):
    """One piece of work in the making, and how far it is.

    `stage` names what is being worked on; `done` of `count` steps are behind it, where they can be counted.
    Sheets add the best cost so far and what nothing can go below; without prices these are numbers of new sheets.
    """

    text: str
    job_id: int | None = None
    future: Future[Made] = field(default_factory=Future)
    cancelled: threading.Event = field(default_factory=threading.Event)
    stage: str = ""
    done: int = 0
    count: int = 0
    best_cost: float | None = None
    lower_bound: float = 0.0
    has_prices: bool = True
    began: float = field(default_factory=time.monotonic)
    weight: int = 0
    """Bytes of what was made."""

    @property
    def seconds(self) -> float:
        """Since it was asked for."""
        return time.monotonic() - self.began

    def step(self, done: int, count: int, stage: str = "") -> None:
        """Say how far it is.

        Raises:
            StoppedError: somebody has stopped it.
        """
        if self.cancelled.is_set():
            raise StoppedError
        self.done, self.count, self.stage = done, count, stage

    def searching(self, stage: str, best_cost: float | None, lower_bound: float, *, has_prices: bool) -> None:
        """Say what a search has found so far, and what it cannot undercut."""
        self.stage, self.best_cost = stage, best_cost
        self.lower_bound, self.has_prices = lower_bound, has_prices


@dataclass(frozen=True, slots=True)
class State(Generic[Made]):
    """What there is: what was made, or why it cannot be, or the work, or the word that it was stopped.

    Nothing of these for a text with faults.
    """

    made: Made | None = None
    fault: str = ""
    work: Work[Any] | None = None
    is_stopped: bool = False


class WorkDesk(Generic[Made]):
    """Does one kind of work and remembers the latest of it."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._lock = threading.Lock()
        self._works: OrderedDict[Hashable, Work[Made]] = OrderedDict()
        self._pool = ThreadPoolExecutor(WORKERS, name)

    def ask(
        self,
        text: str,
        make: Callable[[Work[Made]], Made],
        *,
        variant: Hashable = None,
        job_id: int | None = None,
        patience: float = PATIENCE_SECONDS,
    ) -> State[Made]:
        """What was made from a text if it is ready within `patience` seconds, else how far it is.

        Args:
            text: of the job file.
            make: does the work, in a thread of its own with the language of whoever asked first.
            variant: what else the work depends on.
            job_id: whose older texts are no longer worth working on.
            patience: seconds to wait.
        """
        key = (text, variant)
        with self._lock:
            work = self._works.get(key)
            if work is None:
                work = self._start(key, Work(text, job_id), make)
            self._works.move_to_end(key)
        return self._state(work, patience)

    def known(self, text: str, variant: Hashable = None) -> State[Made]:
        """What there is of a text by now; nothing is begun for it."""
        with self._lock:
            work = self._works.get((text, variant))
        return State() if work is None else self._state(work, 0.0)

    def _state(self, work: Work[Made], patience: float) -> State[Made]:
        try:
            return State(made=work.future.result(patience))
        except NotYetError:
            return State(work=work)
        except StoppedError:
            return State(is_stopped=True)
        except DrawerwrightError as error:
            return State(fault=str(error))
        except Exception as error:
            from drawerwright.job.own_faults import own_fault

            self.forget(work.text)
            return State(fault=own_fault(error, f"In the background: {self._name}"))

    def cancel(self, text: str, variant: Hashable = None) -> None:
        """End a piece of work. Where half of it is of use, that is what comes of it."""
        with self._lock:
            work = self._works.get((text, variant))
        if work is not None:
            work.cancelled.set()

    def forget(self, text: str) -> None:
        """Whoever next asks for something of this text has it made anew."""
        with self._lock:
            for key, work in list(self._works.items()):
                if work.text == text:
                    self._drop(key)

    def close(self) -> None:
        """End all work."""
        with self._lock:
            for work in self._works.values():
                work.cancelled.set()
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _start(self, key: Hashable, work: Work[Made], make: Callable[[Work[Made]], Made]) -> Work[Made]:
        for old_key, old in list(self._works.items()):
            is_outdated = work.job_id is not None and old.job_id == work.job_id and old.text != work.text
            if is_outdated:
                self._drop(old_key)
        self._works[key] = work
        while len(self._works) > KEPT_WORKS:
            self._drop(next(iter(self._works)))
        self._pool.submit(contextvars.copy_context().run, self._do, work, make)
        return work

    def _do(self, work: Work[Made], make: Callable[[Work[Made]], Made]) -> None:
        try:
            made = make(work)
            work.weight = bytes_of(made)
        except BaseException as error:
            work.future.set_exception(error)
            return
        work.future.set_result(made)
        with self._lock:
            self._keep_what_there_is_room_for()

    def _keep_what_there_is_room_for(self) -> None:
        """Let go of what was asked for longest ago, but for the last one, for which somebody waits."""
        weight = sum(work.weight for work in self._works.values())
        for key, work in list(self._works.items())[:-1]:
            if weight <= MOST_KEPT_BYTES:
                return
            if work.future.done():
                weight -= work.weight
                self._drop(key)

    def _drop(self, key: Hashable) -> None:
        self._works.pop(key).cancelled.set()
