"""Drawers drawn: the fronts of a bank, and one drawer to turn round."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache, partial

from drawerwright.basics.lengths import Degrees, LengthStyle
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.opening import Carcase
from drawerwright.drawings.carcase_elevation import draw_carcase
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.glb import write_glb
from drawerwright.drawings.solids import cut_open, drawer_solids
from drawerwright.job.job import BankOfBoxes
from drawerwright.job.pictures.on_screen import on_screen
from drawerwright.job.planning.draft import JobDraft

REMEMBERED = 32
"""Elevations that are kept: of the banks of a job one is changed, and its page asks for all."""


def bank_pictures(draft: JobDraft, style: LengthStyle) -> list[tuple[str, Callable[[], str]]]:
    """Name of each carcase and bank, and what draws its elevation, with the drawers behind its fronts."""
    found: list[tuple[str, Callable[[], str]]] = [
        (carcase.name, partial(_carcase, draft, carcase, banks, style))
        for carcase, banks in draft.job.carcases
    ]
    found += [(bank.bank.name, partial(_bank, draft, bank, style)) for bank in draft.job.banks]
    return found


def _carcase(draft: JobDraft, carcase: Carcase, banks: Sequence[Bank], style: LengthStyle) -> str:
    return on_screen(draw_carcase(carcase, banks, fibres=draft.job.fibres, style=style))


def _bank(draft: JobDraft, bank: BankOfBoxes, style: LengthStyle) -> str:
    trays = tuple(box for box in draft.job.boxes if box.inside)
    return _elevation(bank.bank, draft.drawers_of(bank), bank.fibre, trays, style)


@lru_cache(maxsize=REMEMBERED)
def _elevation(
    bank: Bank,
    drawers: tuple[AssembledDrawer, ...],
    fibre: Degrees | None,
    trays: tuple[DrawerBox, ...],
    style: LengthStyle,
) -> str:
    return on_screen(draw_elevation(bank, drawers, style=style, fibre=fibre, trays=trays))


def drawer_model(draft: JobDraft, name: str, style: LengthStyle, *, is_open: bool = False) -> bytes | None:
    """A drawer as a GLB file, whole or cut open at half its height; None where the job has none of this name."""
    drawer = next((drawer for drawer in draft.assembled if drawer.box.name == name), None)
    if drawer is None:
        return None
    solids = drawer_solids(drawer, draft.made)
    if is_open:
        solids = tuple(part for part in cut_open(solids, drawer.box.height / 2) if part.volume > 0)
    return write_glb(solids, name, style=style)
