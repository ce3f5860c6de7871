"""The work drawn: the sheets of a plan, and the set-ups of the router table."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import Phrase
from drawerwright.drawings.setup import draw_passes
from drawerwright.job.papers.plan_drawings import SheetArtist
from drawerwright.job.pictures.on_screen import on_screen
from drawerwright.job.pictures.sheet_views import DESK, PHONE
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.joints.table import Feed
from drawerwright.run.setups import SetUp
from drawerwright.run.steps import Step
from drawerwright.run.work import CheckSheet, CutSheet

STEP_AT_DESK = replace(
    DESK, room=(124.0, 110.0), rips_numbered=True, only_at_hand=True, number_size=2.6, is_dimensioned=False
)
STEP_AT_HAND = replace(PHONE, rips_numbered=True, only_at_hand=True, number_size=2.6)
"""How a sheet is set beside the step that cuts it, on a wide page and on a phone: the cuts of the step alone have
their numbers, which are looked for from the saw."""


@dataclass(frozen=True, slots=True)
class StepSheet:
    """A sheet that a step cuts: what it is, and its picture for a wide page and for a phone."""

    name: Phrase
    wide: str
    narrow: str


def step_sheet_pictures(plan: JobPlan, step: Step) -> list[StepSheet]:
    """The sheets that a step cuts, with its cuts standing out; of those that it fetches the one of each size that is
    checked, and none for another step."""
    if step.sawing is None:
        return []
    cuts = {item.number: [cut.order for cut in item.cuts] for item in step.work if isinstance(item, CutSheet)}
    checked = [item.number for item in step.work if isinstance(item, CheckSheet)]
    artists = {place: SheetArtist(plan, plan.stocks[place]) for place, _ in step.sawing.sheets}
    shown = []
    for place, number in step.sawing.sheets:
        if checked and number not in checked:
            continue
        artist = artists[place]
        wide, narrow = (
            on_screen(artist.draw(number, at_hand=cuts.get(number, ()), look=look))
            for look in (STEP_AT_DESK, STEP_AT_HAND)
        )
        shown.append(StepSheet(artist.name(number), wide, narrow))
    return shown


def setup_pictures(setup: SetUp, style: LengthStyle, feed: Feed) -> list[str]:
    """The passes of a set-up at the machine."""
    return [on_screen(scene) for scene in draw_passes(setup, style=style, feed=feed)]
