"""Many people at work at once: how long a save and a redraw take them, and whether the app grows.

    PYTHONPATH=src python benchmarks/load.py [--clients N] [--seconds S] [--pause S] [--keep]

Each client changes a width of a job of its own, draws the page of the drawers again, and rests; all are at one
computer, so no more of them ask at once than the app lets one computer. Printed: the 95th percentile of both, answers
that were none, and how much memory the app has more for each minute after the first third.
"""

from __future__ import annotations

import argparse
import http.client
import sys
import tempfile
import threading
import time
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


@dataclass
class Person(Client):
    """Somebody who changes a width, looks at the drawers, and rests."""

    saves: list[float] = field(default_factory=list)
    redraws: list[float] = field(default_factory=list)

    def work(self, until: float, pause: float) -> None:
        """Until the time has come."""
        time.sleep(self.random.uniform(0, pause))
        while time.monotonic() < until:
            try:
                self.saves.append(self._seconds(self.save))
                self.redraws.append(self._seconds(self._redraw))
            except (OSError, http.client.HTTPException) as error:
                self.refused.append(f"{self.path}: {error!r}")
            time.sleep(self.random.uniform(0.5, 1.5) * pause)

    @staticmethod
    def _seconds(work: object) -> float:
        with ASKING:
            began = time.monotonic()
            work()  # type: ignore[operator]
            return time.monotonic() - began

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
        began = time.monotonic()
        ends = began + options.seconds
        threads = [threading.Thread(target=one.work, args=(ends, options.pause)) for one in people]
        for thread in threads:
            thread.start()
        weights = []
        while time.monotonic() < ends:
            weights.append(((time.monotonic() - began) / 60, memory_of(served.process.pid) / MEGABYTE))
            time.sleep(1)
        for thread in threads:
            thread.join()
        served.kill()
    saves, redraws = ([s for one in people for s in getattr(one, name)] for name in ("saves", "redraws"))
    errors = [line for one in people for line in one.refused]
    later = weights[len(weights) // 3 :]
    slope = linear_regression(*zip(*later, strict=True)).slope
    late = {what: quantiles(taken, n=20)[-1] for what, taken in (("save", saves), ("redraw", redraws))}
    print(f"{len(saves)} saves and {len(redraws)} redraws of {options.clients} clients, {len(errors)} errors")
    print(", ".join(f"{what}: 95 % within {1000 * taken:.0f} ms" for what, taken in late.items()))
    print(f"memory {later[0][1]:.0f} MB, then {slope:+.1f} MB a minute")
    for line in errors[:5]:
        print(f"  {line}")
    if options.keep:
        times = ", ".join(f"{what} within {taken:.1f} s" for what, taken in late.items())
        what = (
            f"saves and redraws of {options.clients} clients in {options.seconds / 60:.0f} min: 95 % of {times}; "
            f"memory {slope:+.1f} MB a minute"
        )
        keep_run("python benchmarks/load.py", {what: len(saves) + len(redraws)}, {what: len(errors)})
    return 1 if errors else 0


if __name__ == "__main__":
    sys.exit(main())
