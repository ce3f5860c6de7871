"""The entries of runners as fields: those of a sheet, and those of a bank that names one or has figures of its own."""

from __future__ import annotations

from typing import Any

from drawerwright.job.file.entry_paths import members_at, rows_at, value_at
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.field_plate import FieldPlate
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _


def bank_runner_fields(item: Any, data: Any) -> tuple[Field, ...]:
    """What the runners of a bank are: a sheet by its name, or a kind and a length."""
    names = tuple((str(name), str(name)) for name in members_at(data, ("runners",)))
    runner = value_at(item, ("runner",))
    own = isinstance(runner, dict) or runner is None
    sheet = Field(("runner",), _("Sheet of runners"), "choice", names, absent=_("figures of its own"))
    if not own:
        return (sheet,)
    return (*([sheet] if names else []), *(field.at("runner") for field in _kind_and_lengths(runner)))


def own_clearances(item: Any) -> tuple[Field, ...]:
    """Clearances of a bank whose runners are on no sheet."""
    runner = value_at(item, ("runner",))
    if isinstance(runner, str):
        return ()
    return tuple(field.at("runner") for field in (*_clearances(runner), *_cuts(runner)))


def sheet_fields_of(sheet: Any) -> FieldPlate:
    """The entries of a sheet but for its lengths; paths are relative to it."""
    asked = _kind_and_lengths({"kind": value_at(sheet, ("kind",))})
    return FieldPlate(
        "", "", asked, ((_("Clearances"), _clearances(sheet)), (_("Notches, holes and locks"), _cuts(sheet)))
    )


def length_columns() -> tuple[Field, ...]:
    """The columns of the table of lengths of a sheet."""
    return (
        Field(("length",), _("Length")),
        Field(("load",), _("A pair carries"), "load", absent=_("not stated")),
        Field(("price",), _("Price of a pair"), "price", absent="–"),
    )


def _kind_and_lengths(runner: Any) -> tuple[Field, ...]:
    """Kind, length, and the lengths that are there; a bank gets its table of lengths on a sheet."""
    lengths = rows_at(runner, ("lengths",))
    return (
        Field(
            ("kind",),
            _("How the drawers run"),
            "choice",
            _kinds(),
            absent=usual_text("banks", "runner", "kind", words=_kinds()),
            pictures="runners",
        ),
        Field(("length",), _("Runner length"), absent=_("the longest that fits") if lengths else "–"),
        Field(("price",), _("Price of a pair"), "price", absent=_("as each length says") if lengths else "–"),
        *(field.at("lengths", place) for place, _length in enumerate(lengths) for field in length_columns()),
    )


def _clearances(runner: Any) -> tuple[Field, ...]:
    from drawerwright.job.file.usual_entries import usual_clearances

    usual = usual_clearances(value_at(runner, ("kind",)))
    words = {
        "side": _("Beside the box, each side"),
        "top": _("Above the box"),
        "bottom": _("Below the box"),
        "back": _("Behind the box"),
        "line": _("Runner line above the sides' lower edges"),
        "inside_deduction": _("Opening width less the box's inside width"),
        "bottom_recess": _("Bottom above the sides' lower edges"),
        "thickest_side": _("Thickest side the runner takes"),
        "play": _("Opening wider than elsewhere by at most"),
    }
    return tuple(
        Field((name,), label, absent="–" if (value := usual[name]) is None else f"{value:g}")
        for name, label in words.items()
    )


def _cuts(runner: Any) -> tuple[Field, ...]:
    """Notches, bores and room for the locks: each a section that may be left out."""
    found = []
    for name, label, entries in (
        (
            "notch",
            _("The back is notched for the runners"),
            (
                Field(("width",), _("Notch, from the side's inner face")),
                Field(("height",), _("Notch, above the sides' lower edges")),
            ),
        ),
        (
            "bore",
            _("The back is bored for hooks"),
            (
                Field(("diameter",), _("Hook hole, diameter")),
                Field(("beside",), _("Hook hole, from the side's inner face")),
                Field(("above",), _("Hook hole, above the sides' lower edges")),
                Field(("depth",), _("Hook hole, depth"), absent=_("through the back")),
            ),
        ),
        (
            "locking",
            _("Locking devices behind the front"),
            (
                Field(("width",), _("Locking device, from the side's inner face")),
                Field(("depth",), _("Locking device, behind the front")),
                Field(("height",), _("Locking device, above the sides' lower edges")),
            ),
        ),
    ):
        found.append(Field((name,), label, "part"))
        if value_at(runner, (name,)) is not None:
            found += [field.at(name) for field in entries]
    return tuple(found)


def _kinds() -> tuple[tuple[str, str], ...]:
    return (
        ("side-mounted", _("at the side")),
        ("under-mounted", _("under the box")),
        ("wooden", _("wooden")),
        ("none", _("none")),
    )
