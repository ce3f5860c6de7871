"""How long it takes to read what is far too much of something: time over size must grow no faster than the size.

    PYTHONPATH=src python benchmarks/reading_time.py [LARGEST]

Each line is one way to be too large. The columns are processor seconds at a quarter of the largest size, at half and at
the whole; the last one is how much longer the whole takes than the quarter (4 is linear).
"""

from __future__ import annotations

import contextlib
import sys
import time
from collections.abc import Callable

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.loads import parse_load
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.building import read_job
from drawerwright.job.file.entry_types import parse_given
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.profiles import parse_profile

EXAMPLE = example_text()
READINGS = "[6.38, 6.42, 6.35]"


def of_job(changed: Callable[[int], str]) -> Callable[[int], object]:
    """Reading a job file that is `changed`."""
    return lambda size: read_job(changed(size))


WAYS: dict[str, Callable[[int], object]] = {
    "blanks in a length": lambda size: parse_length("1" + " " * size + "x"),
    "blanks before a length": lambda size: parse_length(" " * size + "x"),
    "digits of a length": lambda size: parse_length("1" * size),
    "feet of a length": lambda size: parse_length("1' " * size),
    "blanks in a load": lambda size: parse_load("1" + " " * size + "x"),
    "plus or minus": lambda size: parse_given("±" * size),
    "blanks before ±": lambda size: parse_given("1" + " " * size + "x"),
    "unknown entries": of_job(lambda size: EXAMPLE + "".join(f"u{n}: 1\n" for n in range(size))),
    "open brackets": of_job(lambda size: EXAMPLE + "x: " + "[" * size),
    "nested brackets": of_job(lambda size: EXAMPLE + "x: " + "[" * size + "]" * size),
    "nested dashes": of_job(lambda size: EXAMPLE + "x:\n  " + "- " * size),
    "readings": of_job(lambda size: EXAMPLE.replace(READINGS, f"[{', '.join(['6.38'] * size)}]")),
    "faulty readings": of_job(lambda size: EXAMPLE.replace(READINGS, f"[{', '.join(['x'] * size)}]")),
    "faulty boxes": of_job(lambda size: EXAMPLE + "  - {a: 1}\n" * size),
    "days of nobody": of_job(lambda size: EXAMPLE + f"days: [{', '.join(['[x]'] * size)}]"),
    "references": of_job(lambda size: EXAMPLE + "a: &a 1\n" + "".join(f"b{n}: *a\n" for n in range(size))),
    "characters of a name": of_job(lambda size: EXAMPLE.replace("Choir scores", "x" * size)),
    "points of a profile": lambda size: parse_profile(
        "\n".join(f"{n / size * 10:.4f};1" for n in range(size))
    ),
    "faulty points": lambda size: parse_profile("\n".join("x;y" for _ in range(size))),
}


def seconds(way: Callable[[int], object], size: int) -> float:
    """Of processor time."""
    began = time.process_time()
    with contextlib.suppress(DrawerwrightError):
        way(size)
    return time.process_time() - began


def main() -> None:
    largest = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    read_job(EXAMPLE)  # loads what is loaded once
    sizes = (largest // 4, largest // 2, largest)
    print(f"{'':24}" + "".join(f"{size:>9,}" for size in sizes) + "   times")
    for name, way in WAYS.items():
        taken = [seconds(way, size) for size in sizes]
        growth = taken[2] / taken[0] if taken[0] > 0.01 else 1.0
        print(f"{name:24}" + "".join(f"{each:9.3f}" for each in taken) + f"{growth:8.1f}")


if __name__ == "__main__":
    main()
