"""The glue-up page: where glue goes, how much, how it is clamped, what is measured, what stays free."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import partial

from drawerwright.basics.lengths import Mm
from drawerwright.basics.loads import WrittenGrams, WrittenSpread
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.glue_up import draw_glue_up
from drawerwright.drawings.packet import DrawerPage, PacketTable
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.solids import drawer_solids
from drawerwright.job.papers.drawer_types import drawer_types
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.joints.holding import PullOff
from drawerwright.joints.joint import joint_named
from drawerwright.run.gluing import LOST, SPREAD, drawers_by_glue
from drawerwright.run.work import GlueUp

ROOM: tuple[Mm, Mm] = (86.0, 84.0)
USUAL_SPREAD = RoughLength("150–200", "0.49–0.66")
"""What is usual beside `SPREAD` (common practice, from memory)."""


def gluing_drawings(draft: JobDraft) -> Iterator[tuple[str, Callable[[], Scene]]]:
    """Name and maker of the drawing of each type."""
    for each in drawer_types(draft.assembled):
        parts = drawer_solids(each.shown, draft.made)
        yield (
            f"{each.slug}-glue-up",
            partial(
                draw_glue_up,
                each.shown,
                parts,
                each.names,
                ROOM,
                draft.job.style,
                is_hooked=_is_hooked(draft, each.shown),
            ),
        )


def _is_hooked(draft: JobDraft, drawer: AssembledDrawer) -> bool:
    made = draft.made[drawer[PartKind.LEFT].part.ends[0].corner]
    return joint_named(made.kind).holding(made, PullOff.ALONG_UPRIGHT).hook is not None


def gluing_page(plan: JobPlan, drawings: Mapping[str, Scene]) -> DrawerPage | None:
    """The page; None where nothing is glued up. `drawings` from `plan_drawings`."""
    draft = plan.draft
    types = drawer_types(draft.assembled)
    steps = [step for step in plan.run.steps if any(isinstance(item, GlueUp) for item in step.work)]
    if not types or not steps:
        return None
    return DrawerPage(
        title=phrase("Glue-up"),
        views=tuple(drawings[f"{each.slug}-glue-up"] for each in types),
        notes=(
            phrase(
                "Heavy lines: glue, thinly on both cut faces, none in the grooves. Arrows: clamps and their direction."
            ),
            phrase(
                "Glue: {spread} of one face ({usual} is common practice, from memory) "
                "and {lost:.0f} % for what is lost; the glue's own sheet governs.",
                spread=WrittenSpread(SPREAD),
                usual=USUAL_SPREAD,
                lost=100 * LOST,
            ),
            *(line for step in steps for line in step.lines),
            phrase("If the diagonals differ, shift the clamps towards the longer one until both are equal."),
            *_free(draft),
        ),
        tables=(_amounts(draft, PaperLengths(draft.job.style)),),
    )


def _free(draft: JobDraft) -> Iterator[str]:
    styles = {drawer.box.bottom.style for drawer in draft.assembled if drawer.box.bottom is not None}
    if BottomStyle.CAPTURED in styles:
        yield phrase("Stays free: a captured bottom lies loose in its grooves, so that it can move.")
    if BottomStyle.SLID in styles:
        yield phrase(
            "Stays free: a slid bottom is held by its screws at the back alone; wood behind the front may move."
        )


def _amounts(draft: JobDraft, lengths: PaperLengths) -> PacketTable:
    """A row for drawers of one size."""
    grams = drawers_by_glue(draft.assembled, draft.made)
    rows: dict[tuple[str, ...], list[str]] = {}
    for drawer in draft.assembled:
        box = drawer.box
        depth = drawer[PartKind.BACK].bounds[1][1] - drawer[PartKind.FRONT].bounds[0][1]
        row = (
            lengths.coarse(box.width),
            lengths.coarse(depth),
            lengths.coarse(math.hypot(box.width, depth)),
            Phrase("{glue}", {"glue": WrittenGrams(math.ceil(grams[box.name]))}),
        )
        rows.setdefault(tuple(map(lengths.style.say, row)), []).append(box.name)
    return PacketTable(
        (
            phrase("Drawer"),
            phrase("Outer width"),
            phrase("Outer depth"),
            phrase("Diagonal"),
            phrase("Glue for each"),
        ),
        tuple((names_in_row(names), *row) for row, names in rows.items()),
        title=phrase("Sizes to check and glue"),
    )
