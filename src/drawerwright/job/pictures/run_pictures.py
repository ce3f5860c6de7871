"""The work drawn: the sheets of a plan, and the set-ups of the router table."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.setup import draw_passes
from drawerwright.job.papers.plan_drawings import SheetArtist
from drawerwright.job.pictures.on_screen import on_screen
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.joints.table import Feed
from drawerwright.run.setups import SetUp
from drawerwright.run.steps import Step
from drawerwright.run.work import CheckSheet, CutSheet


def step_sheet_pictures(plan: JobPlan, step: Step) -> list[str]:
    """The sheets that a step cuts, with its cuts standing out; of those that it fetches the one of each size that is
    checked, and none for another step."""
    if step.sawing is None:
        return []
    cuts = {item.number: [cut.order for cut in item.cuts] for item in step.work if isinstance(item, CutSheet)}
    checked = [item.number for item in step.work if isinstance(item, CheckSheet)]
    artists = {place: SheetArtist(plan, plan.stocks[place]) for place, _ in step.sawing.sheets}
    return [
        on_screen(artists[place].draw(number, at_hand=cuts.get(number, ())))
        for place, number in step.sawing.sheets
        if not checked or number in checked
    ]


def setup_pictures(setup: SetUp, style: LengthStyle, feed: Feed) -> list[str]:
    """The passes of a set-up at the machine."""
    return [on_screen(scene) for scene in draw_passes(setup, style=style, feed=feed)]
