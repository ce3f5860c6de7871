"""How much was tried, kept in benchmarks/data/tried.json by the runs themselves; docs/reliability.md shows it."""

from __future__ import annotations

import fcntl
import json
import time
from collections.abc import Mapping
from pathlib import Path

KEPT = Path(__file__).parents[1] / "benchmarks" / "data" / "tried.json"
Row = dict[str, str | int]


def kept_rows() -> list[Row]:
    """Every run that was kept: its command, what it tried, how many, how many finds, and the day."""
    rows: list[Row] = json.loads(KEPT.read_text("utf-8"))
    return rows


def keep_run(command: str, tried: Mapping[str, int], finds: Mapping[str, int], *, adds: bool = False) -> None:
    """Keep what a run tried, with what it found.

    Args:
        command: that runs it again.
        tried: how many of what.
        finds: how many in which of them.
        adds: to what earlier runs of the command tried, in place of it.
    """
    with KEPT.open("r+", encoding="utf-8") as file:
        fcntl.flock(file, fcntl.LOCK_EX)  # several runs may go on side by side
        rows: list[Row] = json.load(file)
        for what, count in tried.items():
            row: Row = {"command": command, "tried": what, "count": count, "finds": finds.get(what, 0)}
            before = next((one for one in rows if (one["command"], one["tried"]) == (command, what)), None)
            if before is None:
                rows.append(before := {})
            elif adds:
                row["count"] = int(before["count"]) + count
                row["finds"] = int(before["finds"]) + finds.get(what, 0)
            before |= {**row, "day": time.strftime("%Y-%m-%d")}
        file.seek(0)
        file.truncate()
        file.write(json.dumps(rows, indent=2) + "\n")
