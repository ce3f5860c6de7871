"""The table of drawers: every one by the measures that make it again when the table is read in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import FrontStyle
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.front_panels import FalseFront
from drawerwright.drawers.runners import Runner, RunnerLength
from drawerwright.job.file.table_bank_fields import BANK_ENTRIES
from drawerwright.job.file.table_columns import TableField
from drawerwright.job.file.table_drawers import DRAWER_FIELDS
from drawerwright.job.job import BankOfBoxes, Job
from drawerwright.job.papers.data_table import Cell, Column, DataTable, Quantity
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import ChosenJoint

_ALWAYS = (
    *("drawer", "bank", "width", "depth", "height", "front_height", "front_below", "lip", "lip_right"),
    *("front", "sides", "back", "bottom", "bottom_stock", "groove_depth", "groove_height", "groove_play"),
    *("clearance", "edging", "orientation", "cutter", "joint"),
)
"""Columns that stand there though they may be empty."""
_LEFT_OUT = ("count", "stock")
"""Fields that others say more fully: a row is one drawer, each piece has its stock."""
_FINE = ("lip", "lip_right", "groove_play", "clearance", "edging", "front_edging", "reveal")
_ORDER = (
    *_ALWAYS,
    *(field.name for field in DRAWER_FIELDS if field.name not in (*_ALWAYS, *_LEFT_OUT, "bank")),
)
_RAILS = ("span", "rail", "below", "drop")
_FIELDS = {field.name: field for field in DRAWER_FIELDS}


def drawers_table(job: Job) -> DataTable:
    """Every drawer by the measures that a plain box or a bank of the job file has, so that it can be read in again."""
    rows = [*_rows(job)]
    return DataTable(
        phrase("Drawers"),
        tuple(_column(_FIELDS[name]) for name in _ORDER),
        tuple(tuple(row.get(name) for name in _ORDER) for row in rows),
        is_read_again=True,
    )


def _column(field: TableField) -> Column:
    quantity = {"text": Quantity.TEXT, "load": Quantity.WEIGHT, "price": Quantity.MONEY}[field.holds]
    if field.is_length:
        quantity = Quantity.FINE if field.name in _FINE else Quantity.LENGTH
    return Column(
        field.name,
        field.label,
        quantity,
        is_for_some=field.name not in _ALWAYS,
    )


def _rows(job: Job) -> Iterator[dict[str, Cell]]:
    for bank in job.banks:
        of_bank = _bank(bank)
        boxes = {box.name: box for box in bank.boxes}
        false = {front.name: front for front in bank.false_fronts}
        for shown in bank.bank.shown_fronts():
            if shown.name in boxes:
                yield {**of_bank, **_box(boxes[shown.name]), "front_height": shown.front.height}
            elif shown.name in false:
                is_applied = bank.bank.style is FrontStyle.APPLIED
                yield {
                    **of_bank,
                    **_false_front(false[shown.name], "applied_stock" if is_applied else "front"),
                }
    yield from map(_box, job.boxes)


def _box(box: DrawerBox) -> dict[str, Cell]:
    row: dict[str, Cell] = {
        "drawer": box.name,
        "width": box.width,
        "depth": box.depth,
        "height": box.height,
        "front_height": box.front_height,
        "front_below": box.front_below,
        "lip": box.lips[0],
        "lip_right": box.lips[1],
        "front": box.front.name,
        "sides": box.side.name,
        "back": box.back.name,
        "edging": box.banding.thickness if box.banding.box_top else None,
        "orientation": str(box.orientation),
        "cutter": box.made_by.name if isinstance(box.made_by, Cutter) else None,
        "joint": _joint(box.made_by) if isinstance(box.made_by, ChosenJoint) else None,
    }
    row |= _duty(box)
    if box.bottom is not None:
        row |= {
            "bottom": str(box.bottom.style),
            "bottom_stock": box.bottom.stock.name,
            "groove_depth": box.bottom.groove_depth,
            "groove_height": box.bottom.groove_height,
            "groove_play": box.bottom.groove_play,
            "clearance": box.bottom.clearance,
            "bottom_oversize": box.bottom.oversize or None,
        }
    if box.applied is not None:
        row |= {
            "front_below": box.applied.below,
            "applied_stock": box.applied.stock.name,
            "front_edging": box.banding.thickness if box.banding.applied_front else None,
        }
    return row


def _duty(box: DrawerBox) -> dict[str, Cell]:
    """What it carries and how it stands."""
    duty, rails = box.duty, box.hangers
    return {
        "load": duty.load,
        "contents": None if duty.contents is None else duty.contents.words,
        "use": None if duty.use is None else duty.use.words,
        "climate": None if duty.stated_climate is None else duty.stated_climate.name,
        "inside": box.inside or None,
        **({} if rails is None else {f"rails_{name}": getattr(rails, name) for name in _RAILS}),
        "rails_direction": None if rails is None or rails.is_across else "along",
    }


def _false_front(front: FalseFront, stock: str) -> dict[str, Cell]:
    return {
        "drawer": front.name,
        "false_front": phrase("yes"),
        "front_height": front.panel.height,
        stock: front.panel.stock.name,
        "front_edging": front.banding.thickness if front.banding.applied_front else None,
    }


def _joint(made_by: ChosenJoint) -> str:
    """`finger: finger 9.5 mm, kerf 3 mm`, as a table is read."""
    measures = ", ".join(f"{name} {value:.6g} mm" for name, value in made_by.measures)
    return f"{made_by.joint.name}: {measures}" if measures else made_by.joint.name


def _bank(own: BankOfBoxes) -> dict[str, Cell]:
    """What all drawers of a bank share."""
    bank = own.bank
    overlay = {"overlay": bank.overlay.at_left}
    if bank.overlay.is_uneven:
        overlay = {"overlay_left": bank.overlay.at_left, "overlay_right": bank.overlay.at_right}
    applied = next((box.applied for box in own.boxes if box.applied is not None), None)
    row: dict[str, Cell] = {
        "bank": bank.name,
        "opening_width": bank.opening.width,
        "opening_height": bank.opening.height,
        "opening_depth": bank.opening.depth,
        "fronts": bank.style.words,
        "reveal": bank.reveal,
        **overlay,
        "overlay_top": bank.overlay.top,
        "overlay_bottom": bank.overlay.bottom,
        "grain_upright": phrase("yes") if applied is not None and applied.grain_upright else None,
        "front_oversize": applied.oversize or None if applied is not None else None,
    }
    if own.match is not None:
        is_of_bank = own.match.group == bank.mark
        row["match"] = phrase("yes") if is_of_bank else own.match.group.removeprefix("group ")
        row["match_direction"] = "across" if own.match.is_across else "down"
    if bank.pull is not None:
        row |= {"pull": bank.pull.spacing, "pull_below": bank.pull.below_top, "pull_hole": bank.pull.hole}
        row["pull_price"] = bank.pull.price
    if bank.scoop is not None:
        row |= {f"scoop_{size}": getattr(bank.scoop, size) for size in ("width", "depth", "radius")}
    return row | _runner(bank.runner, bank.runner_length)


def _runner(runner: Runner, chosen: RunnerLength | None) -> dict[str, Cell]:
    """The sheet of runners by its name; else the kind, and what is not its usual."""
    if runner.name:
        return {"runner": runner.name}
    row: dict[str, Any] = {"runner": runner.kind.words}
    if chosen is not None:
        row |= {"runner_length": chosen.length, "runner_load": chosen.rating}
    for name, (section, *path) in BANK_ENTRIES.items():
        if section != "runner" or path[0] in ("kind", "length", "lengths") or path[0] in runner.assumed:
            continue
        value: Any = runner
        for step in path:
            value = getattr(value, step, None)
        row[name] = value
    if chosen is not None and chosen.price is not None:
        row["runner_price"] = chosen.price
    return row
