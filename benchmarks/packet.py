"""How long drawings and the packet take: of whole jobs, then of one drawer to sixty. Prints a line for each.

Run it with `python benchmarks/packet.py`. The sheets are planned first and not counted.
"""

from __future__ import annotations

import time
from pathlib import Path

from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.parts import Role
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.packet import (
    Figure,
    Packet,
    PacketTable,
    SetupCard,
    SheetPage,
    WorkPhase,
    WorkStep,
)
from drawerwright.drawings.printing import ToldPacket
from drawerwright.drawings.setup import draw_pass
from drawerwright.drawings.sheet import draw_sheet
from drawerwright.drawings.typesetting import page_count
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.packet_pages import plan_packet
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry, set_corner
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, StripDemand
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.plan import plan_sheets
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

SIZES = (1, 6, 12, 24, 60)
EXAMPLES = Path(__file__).parents[1] / "examples"


def layouts(drawers: int) -> tuple[SheetLayout, ...]:
    """Sheets for so many drawers."""
    problem = SheetProblem(
        stock="ply",
        sizes=(SheetSize("ply 2440 x 1220", 2440.0, 1220.0),),
        saw=Saw(kerf=3.0, trim=8.0),
        band_rules=BandRules(sacrificial_strip=15.0),
        strips=(
            StripDemand("sides", "sides", 412.3, 96.4, 2 * drawers),
            StripDemand("ends", "ends", 506.0, 96.4, 2 * drawers),
        ),
        loose=(LooseDemand("bottom", 488.0, 401.5, drawers),),
    )
    return plan_sheets(problem, time_limit=5.0).layouts


def packet(drawers: int, sheets: tuple[SheetLayout, ...]) -> Packet:
    """A packet of the usual parts for so many drawers."""
    cutter = Cutter(
        "drawer-lock",
        mid_depth=Estimate(5.5),
        step=Estimate(3.6),
        slope=Estimate(50.0),
        diameter=45.0,
    )
    setting = set_corner(cutter, CornerGeometry(14.6, 14.7))
    kinds = ("front", "back", "left side", "right side", "bottom")
    rows = tuple((f"D{n} {kind}", "412.30 mm", "96.4 mm") for n in range(drawers) for kind in kinds)
    card = SetupCard(
        "Set-up 1",
        (("bit height", "11.00 mm"), ("fence", "9.15 mm")),
        draw_pass(setting, Role.UPRIGHT),
        (Figure(draw_corner(setting, scale=1.0, annotated=False)),),
    )
    return Packet(
        job=f"{drawers} drawers",
        sheets=tuple(SheetPage(f"Sheet {n}", draw_sheet(one)) for n, one in enumerate(sheets, start=1)),
        cards=(card, card),
        parts=PacketTable(("part", "length", "width"), rows, ticks=True),
        work=(WorkPhase("Glue up", tuple(WorkStep(f"Drawer {n}") for n in range(drawers))),),
    )


def seven_chests() -> str:
    """The example with six more chests, each of other widths: a packet of about 100 pages."""
    head, _, rest = (EXAMPLES / "music-school.yaml").read_text("utf-8").partition("banks:")
    banks, _, boxes = rest.partition("\nboxes:")
    for old in ("Choir scores", "Orchestra parts", "width: 462", "width: 574"):
        assert old in banks
    chests = [
        banks.replace("Choir scores", f"Choir scores {chest}")
        .replace("Orchestra parts", f"Orchestra parts {chest}")
        .replace("width: 462", f"width: {462 + 7 * chest}")
        .replace("width: 574", f"width: {574 - 6 * chest}")
        for chest in range(7)
    ]
    return f"{head.replace('on_hand: 6', 'on_hand: 99')}banks:{''.join(chests)}\nboxes:{boxes}"


def whole_job(name: str, text: str) -> None:
    """Every drawing and page of a job as `plan` writes them, twice: the first time loads what the second has."""
    plan = plan_job(read_job(text), time_limit=1.0)
    for _ in range(2):
        began = time.process_time()
        drawings = plan_drawings(plan)
        drawn = time.process_time()
        pdf = plan_packet(plan, drawings)
        done = time.process_time()
    count = page_count(pdf)
    print(
        f"{name}: {count} pages; draw {1000 * (drawn - began):.0f} ms, describe and typeset "
        f"{1000 * (done - drawn):.0f} ms, {1000 * (done - began) * 15 / count:.0f} ms for 15 pages, "
        f"{1000 * (done - began) * 100 / count:.0f} ms for 100"
    )


def main() -> None:
    """Measure and print."""
    for job in ("music-school", "repair-bench"):
        whole_job(job, (EXAMPLES / f"{job}.yaml").read_text("utf-8"))
    whole_job("seven chests", seven_chests())
    print("drawers  sheets  draw (ms)  typeset (ms)  size (kB)")
    for drawers in SIZES:
        sheets = layouts(drawers)
        began = time.perf_counter()
        described = packet(drawers, sheets)
        drawn = time.perf_counter()
        pdf = ToldPacket.of(described).pdf()
        done = time.perf_counter()
        print(
            f"{drawers:7d}  {len(sheets):6d}  {1000 * (drawn - began):9.0f}  {1000 * (done - drawn):12.0f}  "
            f"{len(pdf) / 1024:9.0f}"
        )


if __name__ == "__main__":
    main()
