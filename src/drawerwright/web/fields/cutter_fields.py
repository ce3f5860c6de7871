"""The fields of a cutter; their paths are relative to where the job file has it."""

from __future__ import annotations

from drawerwright.basics import usual
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _


def cutter_fields(has_profile: bool = False, *, is_only: bool = True) -> tuple[Field, ...]:
    """Entries of a cutter; with a measured profile the measures follow from it where they are not given.

    The only one of a job has its name among them; each of several has settings of its own.
    """
    from drawerwright.job.file.usual_entries import cutter_kinds, usual_cutter_kind

    kinds = tuple((joint.name, _(joint.meaning)) for joint in cutter_kinds())
    doubt = _("you may add an uncertainty, as in %s; ± 0 means exact")
    measure = None if has_profile else usual.CUTTER_MEASURE
    from_profile = _("from the profile") if has_profile else ""
    name = (Field(("name",), _("Name"), "text", absent=_("cutter")),)
    return (
        *(name if is_only else ()),
        Field(("kind",), _("Kind of cutter"), "choice", kinds, absent=_(usual_cutter_kind().words)),
        Field(
            ("mid_depth",),
            _("Mid depth"),
            hint=doubt % "6.1 ± 0.05",
            absent=from_profile,
            usual_doubt=measure,
        ),
        Field(("step",), _("Step"), hint=doubt % "3.6 ± 0.05", absent=from_profile, usual_doubt=measure),
        Field(
            ("slope",),
            _("Slope (degrees)"),
            "number",
            absent=from_profile or usual_text("cutter", "slope"),
            hint=doubt % "55 ± 1",
            usual_doubt=None if has_profile else usual.SLOPE,
        ),
        Field(("diameter",), _("Cutting diameter")),
        Field(("cutting_height",), _("Cutting height")),
        Field(("max_speed",), _("Top speed marked on it (1/min)"), "number"),
        *(() if is_only else _own_settings()),
    )


def _own_settings() -> tuple[Field, ...]:
    """How one of several cutters is used, where that is not as for the whole job."""
    as_job = _("as for the whole job")
    return (
        Field(("bit_heights",), _("Only these bit heights"), "lengths", absent=as_job),
        Field(("fences", "plan"), _("How to choose fence positions"), "choice", fence_plans(), absent=as_job),
        Field(("fences", "positions"), _("Or only these positions"), "lengths"),
    )


def fence_plans() -> tuple[tuple[str, str], ...]:
    """The ways to choose fence positions, and what each is called."""
    return (
        ("fewest", _("fewest positions")),
        ("tooth", _("usual: tooth alone")),
        ("one", _("one setting per corner")),
        ("two-position", _("fronts moved out by their lip")),
    )


def profile_fields() -> tuple[Field, ...]:
    """Entries that come with a profile that is loaded: fields of no page, but the shelf may have them otherwise."""
    return (
        Field(("points",), _("Points of the profile"), "lengths"),
        Field(
            ("profile_uncertainty",),
            _("Standard uncertainty of the points"),
            absent=usual_text("cutter", "profile_uncertainty"),
        ),
    )
