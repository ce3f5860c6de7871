"""The sheets of a stock, planned in a process of its own.

A search keeps the interpreter busy, so that threads would only take turns: where the sheets of several stocks take
long, each gets a process, and a machine of several cores plans them in the time of the slowest.
"""

from __future__ import annotations

import os
import pickle
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from typing import IO, Any, Final, TypeAlias

from drawerwright.basics.errors import DrawerwrightError, SolverError
from drawerwright.basics.phrases import phrase
from drawerwright.sheets.plan import PlanProgress, SheetPlan, SheetProblem, plan_sheets

WORTH_A_PROCESS = 200
"""Parts of a stock from which on its sheets are planned in a process of their own: one takes half a second to begin."""
PATIENCE = 0.1
"""Seconds after which it is asked again whether the search is to stop."""
BEGIN = f"from {__name__} import answer; answer()"
ENDED: Final = None

_Said: TypeAlias = PlanProgress | SheetPlan | DrawerwrightError


def processors() -> int:
    """How many processes this one may keep busy at once."""
    allowed: Any = getattr(os, "sched_getaffinity", None)  # not on every system
    return len(allowed(0)) if allowed is not None else os.cpu_count() or 1


def plan_in_process(
    problem: SheetProblem,
    *,
    progress: Callable[[PlanProgress], None] | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> SheetPlan:
    """As `plan_sheets`; a stock of many parts in a process of its own, which ends with this one.

    Raises:
        SolverError: the process ended without an answer.
    """
    if sum(problem.demand.values()) < WORTH_A_PROCESS or not sys.executable:
        return plan_sheets(problem, progress=progress, time_limit=time_limit, cancelled=cancelled)
    process = subprocess.Popen(
        [sys.executable, "-c", BEGIN],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
    )
    assert process.stdin is not None
    assert process.stdout is not None
    with process, process.stdin as asked, process.stdout as told:
        try:
            with suppress(OSError):  # it has ended already, as will be heard
                _write(asked, (problem, time_limit))
            for said in _heard(told, lambda: _ask_to_stop(asked, cancelled)):
                if isinstance(said, SheetPlan):
                    return replace(said, problem=problem)
                if isinstance(said, DrawerwrightError):
                    raise said
                if progress is not None:
                    progress(said)
        finally:
            process.kill()
    raise SolverError(
        phrase("the process that planned the sheets ended with code {code}", code=process.returncode)
    )


def _heard(told: IO[bytes], between: Callable[[], None]) -> Iterator[_Said]:
    """What the process says until it ends; `between` is called now and then while it says nothing."""
    said: queue.SimpleQueue[_Said | None] = queue.SimpleQueue()

    def listen() -> None:
        with suppress(EOFError, pickle.UnpicklingError, OSError, ValueError):
            while True:
                said.put(pickle.load(told))
        said.put(ENDED)

    threading.Thread(target=listen, daemon=True).start()
    while True:
        try:
            each = said.get(timeout=PATIENCE)
        except queue.Empty:
            between()
            continue
        if each is ENDED:
            return
        yield each


def _ask_to_stop(asked: IO[bytes], cancelled: Callable[[], bool] | None) -> None:
    if cancelled is not None and cancelled():
        with suppress(OSError):  # it has ended meanwhile
            _write(asked, "stop")


def _write(line: IO[bytes], what: object) -> None:
    pickle.dump(what, line)
    line.flush()


def answer() -> None:
    """The process's own work: read a problem, plan its sheets, say how far it is and what came out."""
    signal.signal(
        signal.SIGINT, signal.SIG_IGN
    )  # Ctrl-C reaches all; what began this one says what becomes of it
    line = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # nothing else gets between the words
    problem, time_limit = pickle.load(sys.stdin.buffer)
    stopped = threading.Event()

    def listen() -> None:
        if not sys.stdin.buffer.read(1):
            os._exit(1)  # nobody waits any more
        stopped.set()

    threading.Thread(target=listen, daemon=True).start()
    said: _Said
    try:
        said = plan_sheets(
            problem,
            progress=lambda progress: _write(line, progress),
            time_limit=time_limit,
            cancelled=stopped.is_set,
        )
    except DrawerwrightError as error:
        said = error
    _write(line, said)
    os._exit(0)  # the listener still waits
