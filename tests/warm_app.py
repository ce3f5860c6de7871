"""The app, loaded and warm, in a process that forks: tests get servers of their own that need not begin from nothing.

What a server reads, compiles and plans when the example is first asked for is there in each fork. A fork goes the way
of the command, arguments and all, on a data folder of its own. Python's start and the first pages cost ten times more
than what most tests then ask.
"""

from __future__ import annotations

import gc
import json
import math
import os
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import highspy

DESK = "http://127.0.0.1:8000"
PLANNED_SECONDS = 120.0
ENOUGH_SECONDS = 0.3
"""Of computing: the example and its likes have their least cost long before."""
VISITED = (
    *("/", "/corner", "/jobs/new", "/help/cutter"),
    *(
        "{job}/drawers",
        "{job}/glance",
        "{job}/cutter",
        "{job}/stock",
        "{job}/corner",
        "{job}/trial",
        "{job}/text",
    ),
    *("{job}/sheets", "{job}/run", "{job}/run?view=one"),
)
LONGEST_MESSAGE = 65536
LOOK_AGAIN = 0.01
"""Seconds."""


class ForkedServer:
    """A fork of the warm app, with as much of the ways of `subprocess.Popen` as a server needs."""

    def __init__(self, parent: WarmApp, pid: int, output: int) -> None:
        self.pid = pid
        self.stdout = os.fdopen(output, encoding="utf-8")
        self._parent = parent
        self._code: int | None = None

    def poll(self) -> int | None:
        """What it ended with, or None while it runs."""
        if self._code is None:
            self._code = self._parent.code(self.pid)
        return self._code

    def wait(self, timeout: float) -> int:
        """What it ends with.

        Raises:
            TimeoutExpired: it has not ended within `timeout` seconds.
        """
        end = time.monotonic() + timeout
        while (code := self.poll()) is None:
            if time.monotonic() > end:
                raise subprocess.TimeoutExpired("a forked server", timeout)
            time.sleep(LOOK_AGAIN)
        return code

    def send_signal(self, number: int) -> None:
        """To a server that runs."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def kill(self) -> None:
        """End it without any chance to tidy up."""
        self.send_signal(signal.SIGKILL)


class WarmApp:
    """The process that forks; a message each way, over a socket that also hands over where a fork prints to."""

    def __init__(self) -> None:
        self._socket, theirs = socket.socketpair()
        with theirs:
            self._process = subprocess.Popen(
                [sys.executable, "-W", "ignore", __file__, str(theirs.fileno())], pass_fds=[theirs.fileno()]
            )

    def start(self, arguments: Sequence[str]) -> ForkedServer:
        """The command with these arguments, in a fork."""
        readable, writable = os.pipe()
        pid = self._answer([writable], "start", *arguments)
        os.close(writable)
        return ForkedServer(self, pid, readable)

    def code(self, pid: int) -> int | None:
        """What a fork ended with, or None while it runs."""
        code: int | None = self._answer([], "code", pid)
        return code

    def close(self) -> None:
        """Fork no more."""
        self._socket.close()
        self._process.wait()

    def _answer(self, handed_over: list[int], *words: object) -> Any:
        socket.send_fds(self._socket, [json.dumps(words).encode()], handed_over)
        answer = self._socket.recv(LONGEST_MESSAGE)
        assert answer, "the warm app has ended"
        return json.loads(answer)


def plan_quickly() -> None:
    """Jobs that do not say how long to search get plans that are good enough, and the same on a busy machine.

    Tests of the pages look at what becomes of a plan. The search is looked at where a job says `time_limit`.
    """
    from drawerwright.job.file.model import SheetsEntry
    from drawerwright.sheets import plan
    from drawerwright.sheets.solver import outcome

    search = plan.find_plan
    unsaid = (None, SheetsEntry.model_fields["time_limit"].default)

    def find_plan(problem: Any, *, time_limit: float | None = None, **told: Any) -> Any:
        return search(problem, time_limit=ENOUGH_SECONDS if time_limit in unsaid else time_limit, **told)

    vars(plan)["find_plan"] = find_plan
    vars(time)["perf_counter"] = time.process_time
    vars(outcome)["MOST_BY_THE_CLOCK"] = math.inf


def warm_up() -> None:
    """Visit the pages of the example until they are planned, drawn and compiled."""
    from starlette.testclient import TestClient

    from drawerwright.job.file.first_jobs import example_text
    from drawerwright.web.server.shop import Shop
    from drawerwright.web.serving import app_of

    with tempfile.TemporaryDirectory() as folder:
        shop = Shop(Path(folder))
        client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
        job = (
            client.post("/jobs/example", follow_redirects=False).headers["Location"].removesuffix("/drawers")
        )
        assert shop.plans.ask(example_text(), PLANNED_SECONDS).made
        for path in VISITED:
            assert client.get(path.format(job=job)).status_code == 200, path
        shop.close()


def answer_each(asking: socket.socket) -> None:
    """Fork and tell how forks ended, until nobody asks any more; who asked may have been killed, so no fork stays."""
    running: set[int] = set()
    while True:
        message, handed_over, _flags, _address = socket.recv_fds(asking, LONGEST_MESSAGE, 1)
        if not message:
            for pid in running:
                os.kill(pid, signal.SIGKILL)
            return
        wish, *words = json.loads(message)
        if wish == "start":
            pid = os.fork()
            if pid == 0:
                asking.close()
                _become_the_command(handed_over[0], words)
            running.add(pid)
            os.close(handed_over[0])
            asking.sendall(json.dumps(pid).encode())
        else:
            pid, status = os.waitpid(words[0], os.WNOHANG)
            running.discard(pid)
            asking.sendall(json.dumps(os.waitstatus_to_exitcode(status) if pid else None).encode())


def _become_the_command(output: int, arguments: list[str]) -> None:
    from drawerwright.cli import main

    signal.signal(signal.SIGINT, signal.default_int_handler)
    os.dup2(output, 1)
    os.dup2(output, 2)
    os.close(output)
    sys.stdout = os.fdopen(1, "w", encoding="utf-8", closefd=False)
    sys.stderr = os.fdopen(2, "w", encoding="utf-8", closefd=False)
    code = 1
    try:
        code = main(arguments)
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        os._exit(code)


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for who asks; then nobody asks any more
    plan_quickly()
    warm_up()
    while threading.active_count() > 1:  # a thread would not come along into a fork
        time.sleep(LOOK_AGAIN)
    # Nor would those of the solver: a fork would wait for them for ever.
    highspy.Highs.resetGlobalScheduler(True)
    gc.collect()
    gc.freeze()
    answer_each(socket.socket(fileno=int(sys.argv[1])))
