"""The drawers of a plan as solids: each bank in its opening, each divided carcase, each kind of plain box by itself."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache, partial

from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.opening import Carcase
from drawerwright.drawings.carcase_solids import divided_solids, opening_solids
from drawerwright.drawings.glb import write_glb
from drawerwright.drawings.solids import PartSolid, drawer_solids, moved_solids, panel_solid
from drawerwright.job.job import BankOfBoxes
from drawerwright.job.planning.job_plan import JobPlan

Solids = Callable[[str], tuple[PartSolid, ...]]
"""The parts of a drawer by its name."""


def plan_models(plan: JobPlan) -> dict[str, Callable[[], bytes]]:
    """What makes the GLB of each model, by the name of its file.

    A bank's model counts from the lower left corner of its opening at the carcase's front edges, that of a divided
    carcase from its own: x across, y up and z towards the viewer, in metres. Boxes that differ by name alone are one
    model, the first of them.
    """
    solids = cache(partial(_solids, plan))
    made: dict[str, Callable[[], bytes]] = {
        f"bank-{bank.bank.mark}.glb": partial(_bank_model, plan, bank, solids) for bank in plan.job.banks
    }
    for number, (carcase, _banks) in enumerate(plan.job.carcases, start=1):
        made[f"carcase-{number}.glb"] = partial(_carcase_model, plan, carcase, solids)
    kinds: dict[DrawerBox, DrawerBox] = {}
    for box in plan.job.boxes:
        kinds.setdefault(replace(box, name=""), box)
    for number, box in enumerate(kinds.values(), start=1):
        made[f"box-{number}.glb"] = partial(_box_model, plan, box, solids)
    return made


def _bank_model(plan: JobPlan, bank: BankOfBoxes, solids: Solids) -> bytes:
    """The drawers in their opening, with the carcase around it where it is one of its own."""
    around = opening_solids(bank.bank.opening) if bank.bank.opening.carcase is None else ()
    return write_glb((*around, *_hung(bank, solids)), bank.bank.name, style=plan.job.style)


def _carcase_model(plan: JobPlan, carcase: Carcase, solids: Solids) -> bytes:
    """A divided carcase with everything that hangs in it."""
    banks = [bank for bank in plan.job.banks if bank.bank.opening.carcase == carcase]
    parts = [*divided_solids(carcase, max(bank.bank.opening.depth for bank in banks))]
    for bank in banks:
        opening = bank.bank.opening
        parts += moved_solids(_hung(bank, solids), (opening.x, 0.0, opening.z))
    return write_glb(parts, carcase.name, style=plan.job.style)


def _hung(bank: BankOfBoxes, solids: Solids) -> list[PartSolid]:
    """The drawers of a bank, and its fronts without one, where they are in its opening."""
    places = {place.name: place for place in bank.bank.places()}
    return [
        *(
            part
            for box in bank.boxes
            for part in moved_solids(solids(box.name), places[box.name].origin(box))
        ),
        *(panel_solid(front) for front in bank.false_fronts),
    ]


def _box_model(plan: JobPlan, box: DrawerBox, solids: Solids) -> bytes:
    return write_glb(solids(box.name), box.name, style=plan.job.style)


def _solids(plan: JobPlan, name: str) -> tuple[PartSolid, ...]:
    assembled = next(drawer for drawer in plan.draft.assembled if drawer.box.name == name)
    return drawer_solids(assembled, plan.draft.made)
