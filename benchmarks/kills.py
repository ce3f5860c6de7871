"""Whether a killed app loses anything that it said was saved.

    PYTHONPATH=src python benchmarks/kills.py [--kills N] [--clients N] [--seed N] [--keep]

Each client changes a job of its own as fast as it can, one entry after the other, while the app is killed at random
moments and started again. After each kill every job must say what was acknowledged last, or what was on its way then,
and the data file must be whole. Ends with 1 where anything was lost.
"""

from __future__ import annotations

import argparse
import http.client
import json
import re
import sqlite3
import sys
import tempfile
import threading
import time
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from urllib.parse import urlencode

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from counted_runs import keep_run
from served_app import Served

JOB = """\
format: 1
job: Tray
cutter: {mid_depth: 5.65, step: 3.45}
stock: {birch: {nominal: 15, sheets: [{length: 2500, width: 1250}]}}
boxes:
  - name: tray
    outer: {width: 300, depth: 400, height: 90}
    box: {all: birch}
"""
"""Saved quickly, so that there is much to lose."""
ENTRY = ["boxes", 0, "outer", "width"]
STEP = "drawerwright-step"
PATIENCE = 120
"""Seconds for an answer; a machine that many share takes its time."""


@dataclass
class Client:
    """Somebody who types widths into one job."""

    address: str
    path: str
    random: Random
    base: int = 1
    said: int | None = None
    """The width acknowledged last."""
    on_the_way: int | None = None
    acknowledged: int = 0
    refused: list[str] = field(default_factory=list)

    def type_on(self, stopped: threading.Event) -> None:
        """Change the width until the app is gone or `stopped`."""
        while not stopped.is_set() and not self.refused:
            try:
                self.save()
            except (OSError, http.client.HTTPException):
                return

    def save(self) -> None:
        """Type another width and wait until it is acknowledged."""
        width = self.random.choice([number for number in range(400, 900) if number != self.said])
        self.on_the_way = width
        form = {"path": json.dumps(ENTRY), "kind": "length", "value": str(width), "base": str(self.base)}
        status, step = self._post(f"{self.path}/entry", form)
        if status != 204 or step is None:
            self.refused.append(f"{self.path}: {status}")
            return
        self.base = int(step.split()[-1])
        self.said, self.on_the_way = width, None
        self.acknowledged += 1

    def _post(self, path: str, form: dict[str, str]) -> tuple[int, str | None]:
        with closing(self.connected()) as connection:
            headers = {
                "Origin": f"http://{self.address}",
                "Content-Type": "application/x-www-form-urlencoded",
            }
            connection.request("POST", path, urlencode(form), headers)
            answer = connection.getresponse()
            answer.read()
            return answer.status, answer.getheader(STEP)

    def connected(self) -> http.client.HTTPConnection:
        """A new connection to the app."""
        return http.client.HTTPConnection(self.address, timeout=PATIENCE)

    def look(self) -> list[str]:
        """What the job has lost. Its revision is read anew, as a page does when its app is back."""
        with closing(self.connected()) as connection:
            connection.request("GET", f"{self.path}/text")
            page = connection.getresponse().read().decode()
            connection.request("GET", f"{self.path}/file")
            text = connection.getresponse().read().decode()
        revision = re.search(r'data-version-job="(\d+)"', page)
        width = re.search(r"^ +outer: \{width: (\d+)", text, re.MULTILINE)
        if revision is None or width is None:
            return [f"{self.path} cannot be read"]
        self.base = int(revision[1])
        if self.said is None and self.on_the_way is None:
            return []
        kept, wanted = int(width[1]), [self.said, self.on_the_way]
        self.said, self.on_the_way = kept, None
        return [] if kept in wanted or wanted[0] is None else [f"{self.path}: {kept}, not {wanted}"]


def added(served: Served) -> str:
    """The path of a new job."""
    mark = "----------------------------a-job"
    head = 'Content-Disposition: form-data; name="file"; filename="tray.yaml"\r\nContent-Type: text/yaml'
    body = f"--{mark}\r\n{head}\r\n\r\n{JOB}\r\n--{mark}--\r\n"
    headers = {"Origin": served.url, "Content-Type": f"multipart/form-data; boundary={mark}"}
    with closing(http.client.HTTPConnection(served.address, timeout=PATIENCE)) as connection:
        connection.request("POST", "/jobs/import", body, headers)
        place = connection.getresponse().getheader("Location")
    assert place is not None
    return "/".join(place.split("/")[:3])


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--clients", type=int, default=8)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", action="store_true", help="keep the counts for docs/reliability.md")
    options = parser.parse_args()
    random = Random(options.seed)
    lost: list[str] = []
    began = time.perf_counter()
    with tempfile.TemporaryDirectory() as name:
        served = Served(Path(name))
        clients = [
            Client(served.address, added(served), Random(random.random())) for _ in range(options.clients)
        ]
        for _kill in range(options.kills):
            stopped = threading.Event()
            threads = [threading.Thread(target=client.type_on, args=(stopped,)) for client in clients]
            for thread in threads:
                thread.start()
            time.sleep(random.uniform(0.05, 2.5))
            served.kill()
            stopped.set()
            for thread in threads:
                thread.join()
            with closing(sqlite3.connect(next(Path(name).glob("*.sqlite3")))) as data:
                found = data.execute("PRAGMA integrity_check").fetchone()[0]
            lost += [] if found == "ok" else [f"the data file: {found}"]
            served.start(served.port)
            for client in clients:
                lost += client.look()
        served.kill()
    refused = [line for client in clients for line in client.refused]
    if options.keep:
        kills = f"kills of the app under {options.clients} clients that save"
        saved = "changes acknowledged between them"
        tried = {kills: options.kills, saved: sum(client.acknowledged for client in clients)}
        keep_run("python benchmarks/kills.py", tried, {kills: len(refused), saved: len(lost)}, adds=True)
    print(
        f"{options.kills} kills under {options.clients} clients, "
        f"{sum(client.acknowledged for client in clients)} acknowledged changes, "
        f"{len(refused)} refused, {len(lost)} lost; {time.perf_counter() - began:.0f} s"
    )
    for line in [*lost, *refused[:5]]:
        print(f"  {line}")
    return 1 if lost or refused else 0


if __name__ == "__main__":
    sys.exit(main())
