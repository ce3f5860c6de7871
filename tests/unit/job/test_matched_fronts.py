"""Fronts of a bank that are to match, from the job file to the sheet drawing."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from drawerwright.drawings.svg import write_svg
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_drawings import SheetArtist
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.sheets import referee

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"


def test_matched_fronts_hang_as_they_lay_on_the_sheet() -> None:
    plan = plan_job(read_job(EXAMPLE.read_text("utf-8")))
    (bank,) = [bank for bank in plan.job.banks if bank.match is not None]
    hanging = [box.name for box in bank.boxes]
    (stock,) = [stock for stock in plan.stocks if stock.blanks.matched]
    assert referee.check(stock.sheets) == []
    label = f"matched fronts {hanging[0]} to {hanging[-1]}"
    (sheet,) = {
        number
        for number, layout in enumerate(stock.sheets.layouts, start=1)
        for part in layout.loose
        if part.matched == label
    }
    lying = [part for part in stock.sheets.layouts[sheet - 1].loose if part.matched == label]
    lying.sort(key=lambda part: -part.y)
    assert [stock.blanks.part(part.key, part.number).drawer for part in lying] == hanging
    for upper, lower in pairwise(lying):
        assert abs(upper.y - lower.y - lower.width - plan.job.saw.kerf) < 1e-3
    assert label in write_svg(SheetArtist(plan, stock).draw(sheet))
