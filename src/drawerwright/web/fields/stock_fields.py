"""The fields of a stock and of its sheets."""

from __future__ import annotations

from typing import Any

from drawerwright.basics import usual
from drawerwright.job.file.entry_paths import value_at
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.field_plate import FieldPlate
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _


def stock_fields(entry: Any) -> FieldPlate:
    """Entries of one stock but for its sheets; paths are relative to it. How solid wood moves is asked first of it."""
    grains = (("length", _("along the sheet")), ("width", _("across the sheet")), ("none", _("none")))
    asked = (
        Field(("nominal",), _("Nominal thickness")),
        Field(("panel",), _("Kind of panel"), "choice", _panels(), absent=_("not stated")),
        Field(("grain",), _("Grain"), "choice", grains, absent=usual_text("stock", "grain", words=grains)),
        Field(
            ("measured",),
            _("Measured thicknesses"),
            "lengths",
            hint=_("one sheet in brackets: (14.6 14.7); 14.5"),
        ),
    )
    otherwise = (_("Thickness known otherwise"), _thickness_known_otherwise())
    if value_at(entry, ("panel",)) == "solid":
        return FieldPlate("", "", (*asked, *_solid_wood(entry)), (otherwise,))
    return FieldPlate(
        "", "", asked, ((_("Species and moisture of solid wood"), _solid_wood(entry)), otherwise)
    )


def _thickness_known_otherwise() -> tuple[Field, ...]:
    return (
        Field(
            ("mean",),
            _("Mean thickness, if not measured here"),
            hint=_("you may add an uncertainty, as in %s; ± 0 means exact") % "14.6 ± 0.05",
            usual_doubt=usual.CALIPER_READING,
        ),
        Field(("scatter",), _("Scatter within a sheet, if known"), absent=usual_text("stock", "scatter")),
    )


def _solid_wood(entry: Any) -> tuple[Field, ...]:
    from drawerwright.job.file.usual_entries import species_taken

    taken = species_taken(value_at(entry, ("species",)))
    cuts = (("tangential", _("flat-sawn")), ("radial", _("quarter-sawn")))
    return (
        Field(
            ("species",),
            _("Species, of solid wood"),
            "text",
            absent=_("not stated"),
            hint=_("taken as %s") % taken if taken else _("for instance %s") % _("white oak"),
        ),
        Field(
            ("cut",), _("Cut of its boards"), "choice", cuts, absent=usual_text("stock", "cut", words=cuts)
        ),
        Field(
            ("moisture",),
            _("Moisture read today (%)"),
            "number",
            absent=_("middle of its climate"),
            hint=_("what a moisture meter shows"),
        ),
    )


def _panels() -> tuple[tuple[str, str], ...]:
    return (
        ("birch-plywood", _("birch plywood")),
        ("us-plywood", _("structural plywood in inch sizes")),
        ("hardwood-plywood", _("hardwood plywood")),
        ("plywood", _("other plywood")),
        ("solid", _("solid wood")),
        ("mdf", _("fibreboard (MDF)")),
        ("other", _("another kind")),
    )


def sheet_fields(kind: str) -> tuple[Field, ...]:
    """The columns of a table of sheets or of offcuts."""
    price = (Field(("price",), _("Price"), "price", absent="–"),)
    return (
        Field(("length",), _("Length")),
        Field(("width",), _("Width")),
        Field(
            ("on_hand",),
            _("On hand"),
            "whole",
            absent=_("any") if kind == "sheets" else usual_text("stock", "offcuts", "on_hand"),
        ),
        *(price if kind == "sheets" else ()),
        Field(("label",), _("Name"), "text", absent=_("its size")),
    )
