"""Drawers of a bank that differ from the rest, as fields: those that the file has, and one for another."""

from __future__ import annotations

from typing import Any

from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.job.file.single_drawers_model import SINGLE_DRAWERS
from drawerwright.web.fields.duty_fields import load_fields
from drawerwright.web.fields.field import Field
from drawerwright.web.reader.words import gettext as _


def single_drawer_fields(item: Any, cutters: tuple[tuple[str, str], ...]) -> tuple[Field, ...]:
    """The entries of a bank about its single drawers; paths are relative to it. `cutters` are all that the job has."""
    rows = rows_at(item, (SINGLE_DRAWERS,))
    fields = [
        field.at(SINGLE_DRAWERS, place) for place, row in enumerate(rows) for field in _fields(row, cutters)
    ]
    another = Field(
        (SINGLE_DRAWERS, len(rows), "number"),
        _("Another drawer that differs"),
        "whole",
        absent=_("none"),
        hint=_("its number from the top"),
    )
    return (*fields, another)


def _fields(row: Any, cutters: tuple[tuple[str, str], ...]) -> tuple[Field, ...]:
    from drawerwright.job.file.usual_entries import joints_without_cutter

    joints = tuple((joint.name, _(joint.meaning)) for joint in joints_without_cutter())
    path = ("joint", "kind") if isinstance(value_at(row, ("joint",)), dict) else ("joint",)
    number = value_at(row, ("number",))
    as_bank = _("as the bank")
    drawer = f"{_('Drawer')} {number}:"

    def called(label: str) -> str:
        return _("Drawer %(number)s: %(entry)s") % {"number": number, "entry": label}

    return (
        Field(("number",), _("Drawer"), "whole", hint=_("leave blank to match the rest"), names_part=True),
        *(
            Field(field.path, called(label), field.kind, field.choices, absent=as_bank, part_of=drawer)
            for field, label in zip(load_fields(), (_("load"), _("what fills it"), _("use")), strict=True)
        ),
        Field(path, called(_("joint without a cutter")), "choice", joints, absent=as_bank, part_of=drawer),
        Field(("cutter",), called(_("cutter")), "choice", cutters, absent=as_bank, part_of=drawer),
    )
