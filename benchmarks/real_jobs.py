"""Plan whole job files of the kind that a shop has, and compare their sheets with the best that is known.

    python benchmarks/real_jobs.py [FOLDER] [--time-limit S] [--job NAME ...] [--stock NAME ...] [--untrimmed]
        [--processor] [--markdown] [--write]

Each stock of each job file in FOLDER (the jobs beside this script where none is given) is planned with a cold planner,
and every plan passes the independent referee. `reference.json` in the folder holds, by job, the lowest `cost` that is
known of the box stock and the highest `bound` where no band is trimmed (`--untrimmed`), the lowest cost where bands are
(`trimmed`), and the largest `leftover` in m² that is known without trimmed bands at the cost `leftover_at`. Seconds are
by the clock and of the processor; with `--processor` the time limit counts those of the processor, so that other work
does not tell. `--write` puts the table into docs/sheets.md as well, where its marker stands. Exit code 1 when a plan
costs more than the reference or a bound lies above it.
"""

from __future__ import annotations

import argparse
import json
import math
import re
import sys
import time
from dataclasses import dataclass, replace
from pathlib import Path

from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import open_job
from drawerwright.sheets import referee
from drawerwright.sheets.plan import SheetPlan, plan_sheets
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.solver import outcome

DATA = Path(__file__).parent / "data" / "real-jobs"
DOCS = Path(__file__).parents[1] / "docs" / "sheets.md"
REFERENCE_STOCK = "box"
"""The stock that the figures of `reference.json` are of."""
CENT = 0.005


@dataclass(frozen=True, slots=True)
class Row:
    """One stock of one job."""

    job: str
    drawers: int
    plan: SheetPlan
    seconds: float
    processor: float
    reference: float | None
    leftover: float | None

    @property
    def cost(self) -> float:
        return self.plan.figures.new_sheet_cost

    @property
    def is_worse(self) -> bool:
        return self.reference is not None and self.cost > self.reference + CENT

    @property
    def cells(self) -> tuple[str, ...]:
        plan = self.plan
        largest = plan.figures.largest_offcut / 1e6
        share = "" if self.leftover is None else f"{largest / self.leftover:.2f}"
        cheapest = min(plan.problem.cost_of(size) for size in plan.problem.sizes if not size.is_offcut)
        gap = (self.cost - plan.lower_bound) / cheapest
        return (
            self.job,
            str(self.drawers),
            plan.problem.stock,
            f"{self.cost:.2f}",
            f"{plan.lower_bound:.2f}",
            "proven" if plan.proven else f"{gap:.2f} sheet",
            f"{self.seconds:.2f}",
            f"{self.processor:.2f}",
            "" if self.reference is None else f"{self.reference:.2f}" + (" WORSE" if self.is_worse else ""),
            f"{largest:.2f}",
            share,
            str(plan.figures.fence_settings),
            str(plan.cuts_made),
        )


HEADINGS = (
    "job",
    "drawers",
    "stock",
    "cost",
    "bound",
    "gap",
    "s",
    "s of processor",
    "reference",
    "largest leftover (m²)",
    "of the best known",
    "fence settings",
    "cuts",
)


def problems_of(path: Path) -> tuple[int, list[SheetProblem]]:
    """How many drawers a job has, and what each of its stocks has to give."""
    draft = draft_job(open_job(path))
    return len(draft.assembled), [draft.sheet_problem(blanks) for blanks in draft.blanks]


def measure(problem: SheetProblem, limit: float) -> tuple[SheetPlan, float, float]:
    """The plan, with seconds by the clock and of the processor; the referee must accept it."""
    began, worked = time.monotonic(), time.process_time()
    plan = plan_sheets(problem, time_limit=limit)
    seconds, processor = time.monotonic() - began, time.process_time() - worked
    if violations := referee.check(plan):
        raise SystemExit(f"the referee rejects a plan: {violations[0]}")
    return plan, seconds, processor


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path, default=DATA)
    parser.add_argument("--time-limit", type=float, default=10.0)
    parser.add_argument("--job", action="append", help="plan only this job (may be given several times)")
    parser.add_argument("--stock", action="append", help="plan only this stock (may be given several times)")
    parser.add_argument("--untrimmed", action="store_true", help="trim no band to fit a wider column")
    parser.add_argument(
        "--processor", action="store_true", help="however long it takes by the clock of a busy machine"
    )
    parser.add_argument("--markdown", action="store_true", help="print the table as it stands in the docs")
    parser.add_argument("--write", action="store_true", help="write it into docs/sheets.md as well")
    args = parser.parse_args()
    if args.processor:
        outcome.MOST_BY_THE_CLOCK = math.inf
    known_path = args.folder / "reference.json"
    known = json.loads(known_path.read_text(encoding="utf-8")) if known_path.exists() else {}
    hidden = {"s"} if args.processor else set()
    hidden |= set() if args.untrimmed else {"of the best known"}
    shown = [place for place, heading in enumerate(HEADINGS) if heading not in hidden]
    lines: list[str] = []

    def tell(cells: tuple[str, ...]) -> None:
        lines.append("| " + " | ".join(cells) + " |")
        print(lines[-1] if args.markdown else "  ".join(f"{cell:>9}" for cell in cells), flush=True)

    tell(tuple(HEADINGS[place] for place in shown))
    lines.append("|" + "---|" * len(shown))
    if args.markdown:
        print(lines[-1])
    rows: list[Row] = []
    for path in sorted(args.folder.glob("*.yaml")):
        if args.job and path.stem not in args.job:
            continue
        drawers, problems = problems_of(path)
        for problem in problems:
            if args.stock and problem.stock not in args.stock:
                continue
            best = known.get(path.stem, {}) if problem.stock == REFERENCE_STOCK else {}
            if args.untrimmed:
                problem = replace(problem, preferences=replace(problem.preferences, trim_bands=False))
            plan, seconds, processor = measure(problem, args.time_limit)
            reference = best.get("cost" if args.untrimmed else "trimmed", best.get("cost"))
            cost = plan.figures.new_sheet_cost
            is_told = args.untrimmed and abs(cost - best.get("leftover_at", 0.0)) < CENT
            leftover = best.get("leftover") if is_told else None
            rows.append(Row(path.stem, drawers, plan, seconds, processor, reference, leftover))
            cells = rows[-1].cells
            tell(tuple(cells[place] for place in shown))
    proven = sum(row.plan.proven for row in rows)
    worse = sum(row.is_worse for row in rows)
    print(f"{len(rows)} stocks, {proven} proven, {worse} dearer than the reference")
    if args.write:
        write("real jobs, untrimmed" if args.untrimmed else "real jobs", lines)
    too_high = [row for row in rows if row.reference is not None and row.plan.lower_bound > row.cost + CENT]
    return 1 if worse or too_high else 0


def write(name: str, lines: list[str]) -> None:
    """Put a table between its markers in the docs."""
    text = DOCS.read_text(encoding="utf-8")
    between = re.compile(rf"(<!-- table: {re.escape(name)} -->\n).*?(<!-- end -->)", re.DOTALL)
    made, count = between.subn(lambda found: f"{found[1]}\n" + "\n".join(lines) + f"\n\n{found[2]}", text)
    if not count:
        raise SystemExit(f"docs/sheets.md has no marker for the table of {name}")
    DOCS.write_text(made, encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main())
