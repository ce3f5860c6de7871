"""The entries of what a drawer holds as fields: rails for folders, and of a box the drawer that it lies in."""

from __future__ import annotations

from typing import Any

from drawerwright.job.file.drawer_names import drawers_named
from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _


def tray_fields(item: Any, data: Any) -> tuple[Field, ...]:
    """In which drawer a box lies, and how loosely."""
    which = Field(("inside",), _("It lies in drawer"), "choice", _drawers_before(item, data), absent="–")
    if value_at(item, ("inside",)) is None and value_at(item, ("tray_clearance",)) is None:
        return (which,)
    return (
        which,
        Field(
            ("tray_clearance",),
            _("Smaller than that drawer's inside by"),
            absent=usual_text("boxes", "tray_clearance"),
            hint=_("where its width or depth is left out"),
        ),
    )


def _drawers_before(item: Any, data: Any) -> tuple[tuple[str, str], ...]:
    """The drawers that a box may lie in: those of the banks, and of the boxes above it."""
    boxes = rows_at(data, ("boxes",))
    place = next((place for place, box in enumerate(boxes) if box is item or box == item), len(boxes))
    above = {"banks": rows_at(data, ("banks",)), "boxes": boxes[:place]}
    names = (name for section in above for name in drawers_named(above, section))
    return tuple((name, name) for name in names)


def hanger_fields(name: str, item: Any) -> tuple[Field, ...]:
    own = ("hangers",)
    part = Field(own, _("Rails that folders hang on"), "part")
    if value_at(item, own) is None:
        return (part,)
    directions = (
        ("across", _("from side to side, rails on the sides")),
        ("along", _("from front to back, rails on front and back")),
    )
    which = Field(
        (*own, "drawers"),
        _("Only in drawers"),
        "numbers",
        absent=_("all"),
        hint=_("by their numbers from the top: 1; 3"),
    )
    return (
        part,
        *((which,) if name == "banks" else ()),
        Field((*own, "span"), _("From the middle of one rail to that of the other")),
        Field((*own, "rail"), _("Thickness of a rail"), absent=usual_text(name, *own, "rail")),
        Field(
            (*own, "below"), _("A folder hangs below the rails by"), absent=usual_text(name, *own, "below")
        ),
        Field(
            (*own, "drop"), _("Rails below the sides' upper edges by"), absent=usual_text(name, *own, "drop")
        ),
        Field(
            (*own, "direction"),
            _("Folders hang"),
            "choice",
            directions,
            absent=usual_text(name, *own, "direction", words=directions),
        ),
    )
