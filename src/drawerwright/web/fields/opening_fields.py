"""The entries of divided openings as fields, and of what is one of their openings."""

from __future__ import annotations

from typing import Any

from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _


def part_fields(item: Any, data: Any) -> tuple[Field, ...]:
    """Which opening of which carcase a bank closes; nothing where the job divides none."""
    own = value_at(item, ("name",))
    names = [str(value_at(entry, ("name",))) for entry in rows_at(data, ("openings",))]
    choices = tuple((name, name) for name in names if name != own)
    of = value_at(item, ("opening", "of"))
    if not choices and of is None:
        return ()
    which = Field(("opening", "of"), _("Carcase"), "choice", choices, absent=_("a carcase of its own"))
    if of is None:
        return (which,)
    return (
        which,
        Field(
            ("opening", "column"),
            _("Column, from the left"),
            "whole",
            absent=usual_text("banks", "opening", "column"),
        ),
        Field(
            ("opening", "row"), _("Row, from the top"), "whole", absent=usual_text("banks", "opening", "row")
        ),
    )


def reading_fields(item: Any) -> tuple[Field, ...]:
    """Several readings of an opening."""
    own = ("opening", "measured")
    part = Field(own, _("Measured at several places"), "part")
    if value_at(item, own) is None:
        return (part,)
    words = {
        "front_above": _("Width at the front, above"),
        "front_below": _("Width at the front, below"),
        "back_above": _("Width at the back, above"),
        "back_below": _("Width at the back, below"),
        "left": _("Height on the left"),
        "right": _("Height on the right"),
        "diagonal_up": _("Diagonal from the lower left"),
        "diagonal_down": _("Diagonal from the upper left"),
    }
    return (part, *(Field((*own, name), label, absent="–") for name, label in words.items()))


def divided_groups(item: Any, data: Any) -> tuple[tuple[str, tuple[Field, ...]], ...]:
    """The entries of a divided carcase that its table does not have, in groups."""
    groups = [(_("Dividers"), _dividers(item)), (_("Face frame"), _frame(item))]
    groups.append((_("Readings of the opening"), reading_fields(item)))
    if part := part_fields(item, data):
        groups.append((_("Opening of a divided carcase"), part))
    return tuple(groups)


def _dividers(item: Any) -> tuple[Field, ...]:
    own = "dividers"
    part = Field((own,), _("Divided by boards"), "part")
    if value_at(item, (own,)) is None:
        return (part,)
    return (
        part,
        Field((own, "thickness"), _("Thickness of the dividers")),
        Field((own, "columns"), _("Equal columns"), "whole", absent="–"),
        Field(
            (own, "vertical"),
            _("or: left faces of the upright dividers"),
            "lengths",
            hint=_("from the left edge inside"),
        ),
        Field((own, "rows"), _("Equal rows"), "whole", absent="–"),
        Field(
            (own, "horizontal"),
            _("or: lower faces of the level dividers"),
            "lengths",
            hint=_("from the lower edge inside"),
        ),
    )


def _frame(item: Any) -> tuple[Field, ...]:
    own = "frame"
    part = Field((own,), _("With a face frame"), "part")
    if value_at(item, (own,)) is None:
        return (part,)
    return (
        part,
        Field((own, "stile"), _("Width of the outer stiles")),
        Field((own, "rail"), _("Width of the outer rails")),
        Field(
            (own, "board"),
            _("Thickness of the carcase behind it"),
            hint=_("the frame is flush with it outside"),
            absent=_("by the reveal"),
        ),
        Field(
            (own, "reveal"),
            _("Reveal: how far it stands inside the carcase"),
            absent=_("by the thickness of the carcase"),
        ),
        Field(
            (own, "mid_stile"), _("Width of the stiles in front of dividers"), absent=_("as the outer ones")
        ),
        Field((own, "mid_rail"), _("Width of the rails in front of dividers"), absent=_("as the outer ones")),
    )
