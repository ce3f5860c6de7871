"""The use case `replace`: one part was spoiled; where another comes from, and the steps that it needs alone."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawerwright.basics.phrases import phrase
from drawerwright.drawers.parts import Part
from drawerwright.job.parts_by_name import part_named
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.job_plan import JobPlan, StockPlan
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.run.cautions import cautions
from drawerwright.run.edge_cuts import how_cut
from drawerwright.run.order import Run, plan_run
from drawerwright.run.setups import plan_setups
from drawerwright.run.steps import RunInput
from drawerwright.sheets.alternatives import left_after
from drawerwright.sheets.from_parts import blanks_of
from drawerwright.sheets.plan import plan_sheets
from drawerwright.sheets.problem import SheetPlan
from drawerwright.sheets.sheet_stock import SheetSize


@dataclass(frozen=True, slots=True)
class Replacement:
    """A part that is made again.

    plan: as the sheets are cut for it alone; `draft`: the job with its blanks alone. `run`: what is done.
    """

    part: Part
    draft: JobDraft
    plan: StockPlan
    run: Run
    cautions: tuple[str, ...]

    @property
    def source(self) -> SheetSize:
        """The offcut or sheet that it comes from."""
        return self.plan.sheets.layouts[0].size


def plan_replacement(plan: JobPlan, label: str, *, time_limit: float = 5.0) -> Replacement:
    """Make one part of a planned job again.

    What the job's own sheets leave over is at hand, and what lies on the rack beside it; a new sheet is begun only
    where none of that is large enough.

    Args:
        plan: of the whole job, as it was cut.
        label: what the part is called on the parts list: "A1 left side".
        time_limit: seconds for its sheet.

    Raises:
        InvalidValueError: the job has no such part.
        NoPlanError: nothing that is at hand or to be bought is large enough.
    """
    part = part_named(label, plan.parts)
    draft, job = plan.draft, plan.job
    cut = next(stock for stock in plan.stocks if stock.blanks.stock.name == part.stock.name)
    plain = [corner.keyed for corner in draft.plain_corners]
    (blanks,) = blanks_of([part], how_cut=how_cut(draft.settings, plain))
    draft = replace(draft, blanks=(blanks,))
    problem = replace(draft.sheet_problem(blanks), sizes=_at_hand(cut.sheets))
    stock = StockPlan(blanks, plan_sheets(problem, time_limit=time_limit))
    bands = [band for layout in stock.sheets.layouts for band in layout.bands]
    setups = plan_setups(blanks.families, bands, draft.settings, job.table)
    drawers = tuple(each for each in draft.assembled if each.box.name == part.drawer)
    shown = {each.shown_front.part.kind for each in drawers}
    holes = [hole for hole in plan.pull_holes if hole.drawer == part.drawer and part.kind in shown]
    run = plan_run(
        RunInput(
            drawers=drawers,
            plans=(stock.sheets,),
            blanks=(blanks,),
            setups=setups,
            rates=job.rates,
            table=job.table,
            pull_holes=tuple(holes),
            style=job.style,
            only=part,
            learnt_joints=job.learnt_joints,
        )
    )
    used = {end.corner.cutter for end in part.ends if end.is_routed}
    return Replacement(
        part,
        draft,
        stock,
        run,
        cautions(
            [cutter.cutter for cutter in job.cutters_in_use if cutter.key in used],
            job.table,
            job.band_rules.shortest_piece,
            joints=[
                plain_joint(corner.keyed.made.kind)
                for corner in draft.plain_corners
                if part.drawer in corner.drawers
            ],
            are_stacked=False,
        ),
    )


def _at_hand(cut: SheetPlan) -> tuple[SheetSize, ...]:
    """What there is once the sheets of a job are cut, its own offcuts by the sheet that they come from."""
    left = list(left_after(cut, 1))
    own = [
        SheetSize(
            phrase("offcut of sheet {sheet}", sheet=sheet)
            if len(layout.kept_offcuts) == 1
            else phrase("offcut {number} of sheet {sheet}", number=number, sheet=sheet),
            offcut.length,
            offcut.width,
            None,
            1,
            True,
        )
        for sheet, layout in enumerate(cut.layouts, start=1)
        for number, offcut in enumerate(layout.kept_offcuts, start=1)
    ]
    return (*left[: len(left) - len(own)], *own)
