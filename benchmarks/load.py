"""Many people at work at once: whether anything fails or is lost, whether the app grows, and how long it takes them.

    PYTHONPATH=src python benchmarks/load.py [--clients N] [--seconds S] [--pause S] [--keep]

Each client changes a width of a job of its own, draws the page of the drawers again, and rests; all are at one
computer, so no more of them ask at once than the app lets one computer. As a page does, a client asks again where the
data file is held or the connection is cut off. At the end every job must say what was acknowledged last.

What holds on a busy machine too: errors, what is lost, memory for each thousand changes after the first third, and
the seconds of the processor that the app takes for a change and its redraw. The seconds by the clock, of which the
95th percentile is printed, hold on an idle one alone.
"""

from __future__ import annotations

import argparse
import http.client
import os
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import linear_regression, quantiles

from kills import Client, added

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from counted_runs import keep_run
from drawerwright.web.server.connections import MOST_OF_ONE_ADDRESS
from served_app import Served

MEGABYTE = 2**20
ASKING = threading.Semaphore(MOST_OF_ONE_ADDRESS - 5)
"""Some stay open a moment longer than their client needs them."""
HELD = ": 503"
"""The end of what a client notes where the data file is held by another; pages try again then."""
HELD_SECONDS = 1.0
MOST_TRIES = 20


@dataclass
class Person(Client):
    """Somebody who changes a width, looks at the drawers, and rests."""

    saves: list[float] = field(default_factory=list)
    redraws: list[float] = field(default_factory=list)
    again: int = 0
    lost: list[str] = field(default_factory=list)

    def work(self, until: float, pause: float) -> None:
        """Until the time has come; then see whether all is there."""
        time.sleep(self.random.uniform(0, pause))
        while time.monotonic() < until:
            self._do(self.save, self.saves)
            self._do(self._redraw, self.redraws)
            time.sleep(self.random.uniform(0.5, 1.5) * pause)
        with ASKING:
            self.lost += self._missing()

    def _missing(self) -> list[str]:
        """What the job has lost, as soon as the app answers."""
        for _try in range(MOST_TRIES):
            try:
                return self.look()
            except (OSError, http.client.HTTPException):
                time.sleep(HELD_SECONDS)
        return [f"{self.path} is not answered"]

    def _do(self, work: Callable[[], None], seconds: list[float]) -> None:
        """Once, or as often as the app asks to try again."""
        with ASKING:
            for _try in range(MOST_TRIES):
                began, refused = time.monotonic(), len(self.refused)
                try:
                    work()
                except (OSError, http.client.HTTPException) as error:
                    cut_off = f"{self.path}: {error!r}"
                    self.lost += self._missing()  # what was on its way is there, or it is not
                else:
                    if not self.refused[refused:]:
                        seconds.append(time.monotonic() - began)
                        return
                    if not self.refused[-1].endswith(HELD):
                        return
                    cut_off = self.refused.pop()
                self.again += 1
                time.sleep(HELD_SECONDS)
            self.refused.append(cut_off)

    def _redraw(self) -> None:
        with closing(self.connected()) as connection:
            connection.request("GET", f"{self.path}/drawers", headers={"hx-request": "true"})
            answer = connection.getresponse()
            answer.read()
            if answer.status != 200:
                self.refused.append(f"{self.path}/drawers: {answer.status}")


def memory_of(process: int) -> int:
    """Bytes of a process that lie in memory (Linux)."""
    words = Path(f"/proc/{process}/status").read_text("ascii").split()
    return int(words[words.index("VmRSS:") + 1]) * 1024


def processor_seconds_of(process: int) -> float:
    """What a process has taken of the processor (Linux)."""
    after_name = Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(")")[2].split()
    return (int(after_name[11]) + int(after_name[12])) / os.sysconf("SC_CLK_TCK")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--clients", type=int, default=50)
    parser.add_argument("--seconds", type=float, default=600)
    parser.add_argument("--pause", type=float, default=2.0, help="between two changes of one client (s)")
    parser.add_argument("--keep", action="store_true", help="keep the counts for docs/reliability.md")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        served = Served(Path(name))
        people = [Person(served.address, added(served), Random(seed)) for seed in range(options.clients)]
        process = served.process.pid
        used = processor_seconds_of(process)
        ends = time.monotonic() + options.seconds
        threads = [threading.Thread(target=one.work, args=(ends, options.pause)) for one in people]
        for thread in threads:
            thread.start()
        weights = []
        while time.monotonic() < ends:
            changes = sum(len(one.saves) for one in people)
            weights.append((changes / 1000, memory_of(process) / MEGABYTE))
            time.sleep(1)
        for thread in threads:
            thread.join()
        used = processor_seconds_of(process) - used
        served.kill()
    saves, redraws = ([s for one in people for s in getattr(one, name)] for name in ("saves", "redraws"))
    errors, lost = ([line for one in people for line in getattr(one, name)] for name in ("refused", "lost"))
    again = sum(one.again for one in people)
    later = weights[len(weights) // 3 :]
    if len({changes for changes, _weight in later}) < 2:
        raise SystemExit("too few changes were made to tell anything: give it more --seconds")
    slope = linear_regression(*zip(*later, strict=True)).slope
    late = {what: quantiles(taken, n=20)[-1] for what, taken in (("save", saves), ("redraw", redraws))}
    print(
        f"{len(saves)} saves and {len(redraws)} redraws of {options.clients} clients, {again} asked again; "
        f"{len(errors)} errors, {len(lost)} of {len(people)} jobs have lost something"
    )
    print(f"memory {later[0][1]:.0f} MB, then {slope:+.1f} MB for each thousand changes")
    print(f"{1000 * used / max(len(saves), 1):.0f} ms of the processor for a change and its redraw")
    print(", ".join(f"{what}: 95 % within {1000 * taken:.0f} ms" for what, taken in late.items()))
    for line in [*errors[:5], *lost[:5]]:
        print(f"  {line}")
    if options.keep:
        done = f"saves and redraws of {options.clients} clients at once"
        kept = "their jobs, read afterwards: as acknowledged last"
        tried = {done: len(saves) + len(redraws), kept: len(people)}
        keep_run("python benchmarks/load.py", tried, {done: len(errors), kept: len(lost)})
    return 1 if errors or lost else 0


if __name__ == "__main__":
    sys.exit(main())
