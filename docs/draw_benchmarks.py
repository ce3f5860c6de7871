"""Draw the plots of `benchmarks.md` from the runs kept in benchmarks/data/runs: `make tables`."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10
from pathlib import Path
from typing import TypeAlias

HERE = Path(__file__).parent
RUNS = HERE.parent / "benchmarks" / "data" / "runs"
PICTURES = HERE / "pictures" / "benchmarks"
LEFT, RIGHT, TOP, BOTTOM, WIDE, HIGH = 20.0, 154.0, 8.0, 84.0, 160, 100
"""Edges of the field that is plotted in, and the size of the picture (mm)."""
DASHES = ("", "3 1.5", "1 1")
Line: TypeAlias = Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Plot:
    """Lines over two axes, both in powers of ten."""

    title: str
    below: str
    unit: str
    lines: Mapping[str, Line]

    def svg(self) -> str:
        """The picture."""
        every = [point for line in self.lines.values() for point in line]
        x_low, x_high = (log10(pick(x for x, _ in every)) for pick in (min, max))
        y_low, y_high = floor(log10(min(y for _, y in every))), ceil(log10(max(y for _, y in every)))

        def place(x: float, y: float) -> tuple[float, float]:
            across = (log10(x) - x_low) / (x_high - x_low)
            return LEFT + across * (RIGHT - LEFT), BOTTOM - (log10(y) - y_low) / (y_high - y_low) * (
                BOTTOM - TOP
            )

        marks: list[str] = []
        for power in range(y_low, y_high + 1):
            y = place(10**x_low, 10.0**power)[1]
            marks.append(f'<line class="thin" x1="{LEFT}" y1="{y:.2f}" x2="{RIGHT}" y2="{y:.2f}"/>')
            marks.append(_text(LEFT - 2, y + 1.2, f"{10.0**power:g} {self.unit}", "end"))
        for x_value in sorted({x for x, _ in every}):
            x = place(x_value, 10.0**y_low)[0]
            marks.append(f'<line class="thin" x1="{x:.2f}" y1="{BOTTOM}" x2="{x:.2f}" y2="{BOTTOM + 1.5}"/>')
            marks.append(_text(x, BOTTOM + 5, f"{x_value:,.0f}", "middle"))
        marks.append(_text((LEFT + RIGHT) / 2, BOTTOM + 11, self.below, "middle"))
        for number, (label, line) in enumerate(self.lines.items()):
            dash = f' stroke-dasharray="{DASHES[number]}"' if DASHES[number] else ""
            points = " ".join("{:.2f},{:.2f}".format(*place(*point)) for point in line)
            marks.append(f'<polyline class="line"{dash} points="{points}"/>')
            key = BOTTOM - 6 - 5 * (len(self.lines) - 1 - number)
            marks.append(f'<line class="line"{dash} x1="96" y1="{key}" x2="106" y2="{key}"/>')
            marks.append(_text(108, key + 1.2, label, "start"))
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE}mm" height="{HIGH}mm" '
            f'viewBox="0 0 {WIDE} {HIGH}" role="img" aria-label="{self.title}">\n'
            "<style>.thin{stroke:#1f2a33;stroke-width:.12}.line{stroke:#1f2a33;stroke-width:.5;fill:none}"
            "text{font:3.2px sans-serif;fill:#1f2a33}</style>\n"
            f'<rect width="{WIDE}" height="{HIGH}" fill="#fbf8f0"/>\n' + "\n".join(marks) + "\n</svg>\n"
        )


def _text(x: float, y: float, words: str, anchor: str) -> str:
    return f'<text x="{x:.2f}" y="{y:.2f}" text-anchor="{anchor}">{words}</text>'


def rows(run: str, pattern: str) -> list[tuple[str, ...]]:
    """What a pattern finds in the lines of a run.

    Raises:
        ValueError: it finds nothing.
    """
    found = re.findall(pattern, (RUNS / f"{run}.txt").read_text("utf-8"), re.MULTILINE)
    if not found:
        raise ValueError(f"{run}.txt has no line like {pattern}")
    return found


def plots() -> dict[str, Plot]:
    """Every plot by the name of its run."""
    growth: dict[str, list[tuple[float, float]]] = {}
    for label, drawers, seconds in rows("sheets_growth", r"^(\S.*?) +(\d+) drawers.* (\d+\.\d+) s$"):
        growth.setdefault(label, []).append((float(drawers), float(seconds)))
    packet = [tuple(map(float, row)) for row in rows("packet", r"^ +(\d+) +\d+ +(\d+) +(\d+) +\d+$")]
    fences = [
        tuple(map(float, row)) for row in rows("fences", r"^ +(\d+) +\d+/\d+ +\d+/\d+ +([\d.]+) +([\d.]+)")
    ]
    return {
        "sheets_growth": Plot("Planning time against drawers", "drawers in the batch", "s", growth),
        "packet": Plot(
            "Time for the packet against drawers",
            "drawers in the packet",
            "ms",
            {
                "drawing": [(row[0], row[1]) for row in packet],
                "typesetting": [(row[0], row[2]) for row in packet],
            },
        ),
        "fences": Plot(
            "Time for the fewest fence positions",
            "different corners",
            "s",
            {
                "slowest job": [(row[0], row[1]) for row in fences],
                "mean": [(row[0], row[2]) for row in fences],
            },
        ),
    }


def draw() -> None:
    """Write every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, plot in plots().items():
        (PICTURES / f"{name}.svg").write_text(plot.svg(), "utf-8")


if __name__ == "__main__":
    draw()
