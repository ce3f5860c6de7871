"""What drawers carry, how they are used and where they stand, as fields: of one bank or box, and of the whole job."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from drawerwright.job.file.entry_paths import members_at
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _


def duty_fields(data: Any) -> tuple[Field, ...]:
    """The entries of one bank or box; paths are relative to it."""
    climate = Field(("climate",), _("Where it will stand"), "choice", _climates(data), absent=_("as the job"))
    return (*load_fields(), climate)


def load_fields() -> tuple[Field, ...]:
    """What lies in a drawer or fills it, and how it is used."""
    from drawerwright.job.file.usual_entries import contents_of_drawers, uses_of_drawers

    unknown = _("not stated")
    return (
        Field(("load",), _("Load of each drawer"), "load", absent=unknown),
        Field(("contents",), _("Or what fills it"), "choice", _read(contents_of_drawers()), absent=unknown),
        Field(("use",), _("How it is used"), "choice", _read(uses_of_drawers()), absent=_("as the job")),
    )


def whole_duty_fields(data: Any) -> tuple[tuple[str, tuple[Field, ...]], ...]:
    """The entries of the job: climate, use, how far bottoms may sag, and the climates that it describes itself."""
    from drawerwright.job.file.usual_entries import uses_of_drawers

    climates = _climates(data)
    return (
        (
            _("Climate, use and load"),
            (
                Field(
                    ("climate",),
                    _("Where the drawers will stand"),
                    "choice",
                    climates,
                    absent=usual_text("climate", words=climates),
                    hint=_("solid wood moves between the dry and the damp end of its year"),
                ),
                Field(
                    ("use",),
                    _("How the drawers are used"),
                    "choice",
                    _read(uses_of_drawers()),
                    absent=_("not stated"),
                ),
                Field(
                    ("sag", "span_over"),
                    _("Bottoms may sag their span over"),
                    "number",
                    absent=usual_text("sag", "span_over"),
                ),
                Field(("sag", "most"), _("and never more than"), absent=usual_text("sag", "most")),
            ),
        ),
        *(
            (_("Climate %s") % name, tuple(field.at("climates", name) for field in _ends()))
            for name in members_at(data, ("climates",))
        ),
    )


def _ends() -> Iterable[Field]:
    """Both ends of the year; paths are relative to a climate."""
    return (
        Field(("dry", "temperature"), _("Dry end: temperature (°C)"), "number"),
        Field(("dry", "humidity"), _("Dry end: relative humidity (%)"), "number"),
        Field(("damp", "temperature"), _("Damp end: temperature (°C)"), "number"),
        Field(("damp", "humidity"), _("Damp end: relative humidity (%)"), "number"),
    )


def _climates(data: Any) -> tuple[tuple[str, str], ...]:
    """The standing climates, then those of the job."""
    from drawerwright.job.file.usual_entries import standing_climates

    standing = _read(standing_climates())
    known = dict(standing)
    own = (str(name) for name in members_at(data, ("climates",)))
    return (*standing, *((name, name) for name in own if name not in known))


def _read(choices: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Choices in the reader's language."""
    return tuple((value, _(words)) for value, words in choices)
