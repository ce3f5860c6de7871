"""The fields of the cutter."""

from __future__ import annotations

from drawerwright.basics import usual
from drawerwright.web.fields.field import Field
from drawerwright.web.reader.words import gettext as _


def cutter_fields(has_profile: bool = False) -> tuple[Field, ...]:
    """Entries of the cutter; with a measured profile the measures follow from it where they are not given."""
    from drawerwright.job.file.usual_entries import cutter_kinds, usual_cutter_kind

    kinds = tuple((joint.name, _(joint.meaning)) for joint in cutter_kinds())
    doubt = _("you may add an uncertainty, as in %s; ± 0 means exact")
    example = doubt % "6.1 ± 0.05"
    measure = None if has_profile else usual.CUTTER_MEASURE
    from_profile = _("from the profile") if has_profile else ""
    return (
        Field(("cutter", "name"), _("Name"), "text", absent=_("cutter")),
        Field(("cutter", "kind"), _("Kind of cutter"), "choice", kinds, absent=_(usual_cutter_kind().words)),
        Field(
            ("cutter", "mid_depth"),
            _("Mid depth"),
            hint=doubt % "6.1 ± 0.05",
            absent=from_profile,
            usual_doubt=measure,
        ),
        Field(("cutter", "step"), _("Step"), hint=example, absent=from_profile, usual_doubt=measure),
        Field(
            ("cutter", "slope"),
            _("Slope (degrees)"),
            "number",
            absent=from_profile or f"{usual.UNKNOWN_SLOPE.value:g} ± {usual.UNKNOWN_SLOPE.uncertainty:g}",
            hint=doubt % "55 ± 1",
            usual_doubt=None if has_profile else usual.SLOPE,
        ),
        Field(("cutter", "diameter"), _("Cutting diameter")),
        Field(("cutter", "cutting_height"), _("Cutting height")),
        Field(("cutter", "max_speed"), _("Top speed marked on it (1/min)"), "number"),
    )


def profile_fields() -> tuple[Field, ...]:
    """Entries that come with a profile that is loaded: fields of no page, but the shelf may have them otherwise."""
    return (
        Field(("cutter", "points"), _("Points of the profile"), "lengths"),
        Field(
            ("cutter", "profile_uncertainty"),
            _("Standard uncertainty of the points"),
            absent=f"{usual.PROFILE_INSET:g}",
        ),
    )
