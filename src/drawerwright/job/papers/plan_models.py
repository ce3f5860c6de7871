"""The drawers of a plan as solids: each bank in its opening, each kind of plain box by itself."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from drawerwright.drawers.box import DrawerBox
from drawerwright.drawings.glb import write_glb
from drawerwright.drawings.solids import PartSolid, drawer_solids, moved_solids, panel_solid
from drawerwright.job.job import BankOfBoxes
from drawerwright.job.planning.job_plan import JobPlan


def plan_models(plan: JobPlan) -> dict[str, Callable[[], bytes]]:
    """What makes the GLB of each model, by the name of its file.

    A bank's model counts from the lower left corner of its opening at the carcase's front edges: x across, y up and z
    towards the viewer, in metres. Boxes that differ by name alone are one model, the first of them.
    """
    made: dict[str, Callable[[], bytes]] = {
        f"bank-{bank.bank.mark}.glb": partial(_bank_model, plan, bank) for bank in plan.job.banks
    }
    kinds: dict[DrawerBox, DrawerBox] = {}
    for box in plan.job.boxes:
        kinds.setdefault(replace(box, name=""), box)
    for number, box in enumerate(kinds.values(), start=1):
        made[f"box-{number}.glb"] = partial(_box_model, plan, box)
    return made


def _bank_model(plan: JobPlan, bank: BankOfBoxes) -> bytes:
    places = {place.name: place for place in bank.bank.places()}
    solids = [
        part for box in bank.boxes for part in moved_solids(_solids(plan, box), places[box.name].origin(box))
    ]
    solids += [panel_solid(front) for front in bank.false_fronts]
    return write_glb(solids, bank.bank.name, style=plan.job.style)


def _box_model(plan: JobPlan, box: DrawerBox) -> bytes:
    return write_glb(_solids(plan, box), box.name, style=plan.job.style)


def _solids(plan: JobPlan, box: DrawerBox) -> tuple[PartSolid, ...]:
    assembled = next(drawer for drawer in plan.draft.assembled if drawer.box.name == box.name)
    return drawer_solids(assembled, plan.draft.made)
