"""Fields of a job beside its stock, machines and drawers: the job as a whole, and the times of the work."""

from __future__ import annotations

from typing import Any

from drawerwright.job.file.entry_paths import value_at
from drawerwright.web.fields.cutter_fields import fence_plans
from drawerwright.web.fields.duty_fields import whole_duty_fields
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.field_plate import FieldPlate, TitledFields
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _


def whole_fields(data: Any) -> FieldPlate:
    """Entries about the job as a whole, which has the climates of `data`."""
    (_title, duty), *climates = whole_duty_fields(data)
    return FieldPlate(
        _("The job as a whole"),
        "job",
        (*_name_and_days(), *duty),
        (
            *climates,
            *_how_it_is_planned(),
            *_how_it_is_told(),
            (_("Labels for parts"), _label_fields(data)),
            (_("Packs and their prices"), _price_fields(data)),
            (_("Times used for planning"), _time_fields()),
        ),
    )


def _name_and_days() -> tuple[Field, ...]:
    return (
        Field(("job",), _("Name of the job"), "text"),
        Field(
            ("days",),
            _("Which drawers on which day"),
            "name-groups",
            absent=_("all on one day"),
            hint=_(
                "banks, boxes or drawers, with a semicolon between days: A1, A2; A3. "
                'Put a name with a comma or a semicolon in quotes: "Reeds, oboe"'
            ),
        ),
    )


def _how_it_is_planned() -> tuple[TitledFields, ...]:
    from drawerwright.job.file.aim_words import AIM_WORDS

    return (
        (
            _("Sheets"),
            (
                Field(
                    ("sheets", "later_aims"),
                    _("Rank equal-cost sheet plans by"),
                    "aims",
                    absent="; ".join(_(words) for words in AIM_WORDS.values()),
                    hint=_(
                        "most important first, separated by semicolons; leave out what does "
                        "not matter. Choose from: %s"
                    )
                    % "; ".join(_(words) for words in AIM_WORDS.values()),
                ),
                Field(
                    ("sheets", "trim_bands"),
                    _("Trim bands to length where that saves sheets"),
                    "usual",
                    hint=_(
                        "a shorter band is crosscut together with longer ones, then trimmed: "
                        "one cut more for each"
                    ),
                ),
                Field(
                    ("sheets", "least_offcut", "length"),
                    _("Keep offcuts from this length"),
                    absent=usual_text("sheets", "least_offcut", "length"),
                    hint=_("the longer side; anything smaller is waste and drawn without hatching"),
                ),
                Field(
                    ("sheets", "least_offcut", "width"),
                    _("and from this width"),
                    absent=usual_text("sheets", "least_offcut", "width"),
                    hint=_("the shorter side"),
                ),
                Field(
                    ("sheets", "time_limit"),
                    _("Time limit for the sheet search (s)"),
                    "number",
                    absent=usual_text("sheets", "time_limit"),
                ),
            ),
        ),
        (
            _("Bit height and fence positions"),
            (
                Field(
                    ("bit_heights",),
                    _("Only these bit heights"),
                    "lengths",
                    absent=_("as calculated"),
                ),
                Field(
                    ("fences", "plan"),
                    _("How to choose fence positions"),
                    "choice",
                    fence_plans(),
                    absent=usual_text("fences", "plan", words=fence_plans()),
                ),
                Field(
                    ("fences", "positions"),
                    _("Or only these positions"),
                    "lengths",
                    hint=_("for instance %s") % "9; 16.5",
                ),
                Field(
                    ("fences", "flushness"),
                    _("Faces flush to within"),
                    absent=usual_text("fences", "flushness"),
                ),
            ),
        ),
        (
            _("What counts as a fit"),
            (
                Field(("fit", "least_play"), _("Least play"), absent=usual_text("fit", "least_play")),
                Field(("fit", "most_play"), _("Most play"), absent=usual_text("fit", "most_play")),
                Field(("fit", "flushness"), _("Flush to within"), absent=usual_text("fit", "flushness")),
            ),
        ),
    )


def _how_it_is_told() -> tuple[TitledFields, ...]:
    units = (("mm", "mm"), ("in", _("inches")), ("in/64", _("inches in 64ths")))
    signs = ((".", _("point")), (",", _("comma")))
    return (
        (
            _("Papers and the command line"),
            (
                Field(
                    ("shown", "unit"),
                    _("Unit of lengths"),
                    "choice",
                    units,
                    absent=_("as in the job file"),
                ),
                Field(
                    ("shown", "decimal"),
                    _("Decimal sign"),
                    "choice",
                    signs,
                    absent=usual_text("shown", "decimal", words=signs),
                ),
                Field(
                    ("shown", "step"),
                    _("Sizes in steps of"),
                    absent=_("what a saw can be set to"),
                    hint=_("parts are cut and listed in these steps"),
                ),
                Field(
                    ("shown", "paper"),
                    _("Paper"),
                    "choice",
                    (("a4", "A4"), ("letter", "Letter")),
                    absent=_("as is usual with the unit"),
                ),
            ),
        ),
    )


def _label_fields(data: Any) -> tuple[Field, ...]:
    """A common sheet of labels, or the measures of another."""
    from drawerwright.job.file.papers_model import common_label_sheets

    paper = _("%(count)s on a sheet of %(paper)s")
    common = tuple(
        (str(count), paper % {"count": count, "paper": name}) for count, name in common_label_sheets()
    )
    sheet = Field(
        ("labels", "sheet"), _("Common sheet of labels"), "choice", common, absent=_("each to choose from")
    )
    if value_at(data, ("labels", "sheet")) is not None:
        return (sheet,)
    labels = {
        "columns": _("Or your own: labels side by side"),
        "rows": _("Labels below each other"),
        "width": _("Width of a label"),
        "height": _("Height of a label"),
        "left": _("Paper's left edge to the first label"),
        "top": _("Paper's upper edge to the first label"),
        "between_columns": _("Gap between labels side by side"),
        "between_rows": _("Gap between labels below each other"),
    }
    counts = ("columns", "rows")
    return (
        sheet,
        *(
            Field(
                ("labels", name),
                label,
                "whole" if name in counts else "length",
                absent="–" if name in (*counts, "width", "height") else usual_text("labels", name),
            )
            for name, label in labels.items()
        ),
    )


def _price_fields(data: Any) -> tuple[Field, ...]:
    """Each pack is a section that may be left out."""
    found: list[Field] = []
    for name, label, price, holds in (
        (
            "screws",
            _("Screws come in boxes"),
            _("Price of a box of screws"),
            Field(("count",), _("Screws in a box"), "whole", absent=usual_text("prices", "screws", "count")),
        ),
        (
            "edging",
            _("Edging comes on rolls"),
            _("Price of a roll of edging"),
            Field(("length",), _("Edging on a roll")),
        ),
        (
            "glue",
            _("Glue comes in bottles"),
            _("Price of a bottle of glue"),
            Field(("grams",), _("Glue in a bottle (g)"), "number"),
        ),
    ):
        found.append(Field(("prices", name), label, "part"))
        if value_at(data, ("prices", name)) is not None:
            found += [Field(("prices", name, "price"), price, "price", absent="–"), holds.at("prices", name)]
    return tuple(found)


def _time_fields() -> tuple[Field, ...]:
    """The times behind the estimate of the work."""
    labels = {
        "sheet": _("Get a sheet to the saw (min)"),
        "saw_cut": _("Saw cut (min)"),
        "saw_setting": _("Set the rip fence (min)"),
        "router_setting": _("Set up the router table (min)"),
        "cutter_change": _("Change the cutter (min)"),
        "test_cut": _("Test cut (min)"),
        "router_pass": _("Pass, apart from its length (min)"),
        "feed_m_per_min": _("Router feed (m/min)"),
        "groove_pass": _("Groove pass (min)"),
        "pull_hole": _("Hole for a pull or a hook (min)"),
        "back_notch": _("Notch in a back (min)"),
        "scoop": _("Scoop in a front (min)"),
        "rail": _("Rail for folders (min)"),
        "glue_up": _("Glue up a drawer (min)"),
        "runners": _("Fit a pair of runners (min)"),
        "applied_front": _("Fit an applied front (min)"),
        "banding_m_per_min": _("Edge banding (m/min)"),
    }
    return tuple(
        Field(("rates", name), label, "number", absent=usual_text("rates", name))
        for name, label in labels.items()
    )
