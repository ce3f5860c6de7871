"""Fields of the machines: saw, router table, and what both are called together."""

from __future__ import annotations

from drawerwright.basics import usual
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.field_plate import FieldPlate
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _

SAW, TABLE, STRIP = ("machine", "saw"), ("machine", "router_table"), ("machine", "sacrificial_strip")


def machine_name() -> Field:
    """What the shop calls this set of machines."""
    return Field(("machine", "name"), _("Name of this set of machines"), "text", absent=_("machine"))


def machine_fields() -> tuple[FieldPlate, ...]:
    """Entries of saw and router table."""
    return _saw(), _router_table()


def _saw() -> FieldPlate:
    return FieldPlate(
        _("Saw"),
        "saw",
        (
            Field((*SAW, "kerf"), _("Saw kerf"), absent=usual_text(*SAW, "kerf")),
            Field((*SAW, "trim"), _("Edge trim of a new sheet"), absent=usual_text(*SAW, "trim")),
            Field(
                (*SAW, "tolerance"),
                _("Parts come out within"),
                absent=usual_text(*SAW, "tolerance"),
                hint=_("either way of their size; left over in gaps that close in the damp season"),
            ),
        ),
        (
            (
                _("Kerf test"),
                (
                    Field((*SAW, "kerf_test", "before"), _("Kerf test: width before the cuts")),
                    Field(
                        (*SAW, "kerf_test", "after"),
                        _("Kerf test: width after the cuts"),
                        hint=_("of all pieces pushed together; the kerf follows from both widths"),
                    ),
                    Field(
                        (*SAW, "kerf_test", "cuts"),
                        _("Kerf test: number of cuts"),
                        "whole",
                        absent=usual_text(*SAW, "kerf_test", "cuts"),
                    ),
                ),
            ),
            (
                _("Several sheets at once"),
                (
                    Field(
                        (*SAW, "stack"),
                        _("Equal sheets cut at once, at most"),
                        "whole",
                        absent=usual_text(*SAW, "stack"),
                        hint=_("laid on each other as a stack, if your saw's manual allows it"),
                    ),
                    Field((*SAW, "cutting_height"), _("Thickest stack the blade cuts")),
                ),
            ),
        ),
    )


def _router_table() -> FieldPlate:
    doubt = _("you may add an uncertainty, as in %s; ± 0 means exact") % "0.05 ± 0.05"
    return FieldPlate(
        _("Router table"),
        "table",
        (
            Field((*TABLE, "tallest_upright"), _("Tallest piece you can run upright")),
            Field((*TABLE, "longest_band"), _("Longest band the table supports")),
            Field(
                (*TABLE, "shortest_piece"),
                _("Shortest safe piece"),
                absent=usual_text(*TABLE, "shortest_piece"),
            ),
            Field((*TABLE, "largest_fence_setting"), _("Largest fence setting")),
            Field(
                (*TABLE, "feed"),
                _("Pieces are fed"),
                "choice",
                _feeds(),
                absent=usual_text(*TABLE, "feed", words=_feeds()),
            ),
            Field(
                (*TABLE, "height_gauge_offset"),
                _("Height gauge reads high by"),
                absent=usual_text(*TABLE, "height_gauge_offset"),
                hint=doubt,
                usual_doubt=usual.GAUGE,
            ),
            Field(
                (*TABLE, "fence_gauge_offset"),
                _("Fence scale reads high by"),
                absent=usual_text(*TABLE, "fence_gauge_offset"),
                hint=doubt,
                usual_doubt=usual.GAUGE,
            ),
        ),
        (
            (
                _("How finely it is set and measured"),
                (
                    Field(
                        (*TABLE, "repeatability"),
                        _("Settings repeat to within"),
                        absent=usual_text(*TABLE, "repeatability"),
                    ),
                    Field(
                        (*TABLE, "height_gauge_step"),
                        _("Height gauge, mark to mark"),
                        absent=usual_text(*TABLE, "height_gauge_step"),
                        hint=_("or the step of its display"),
                    ),
                    Field(
                        (*TABLE, "fence_gauge_step"),
                        _("Fence scale, mark to mark"),
                        absent=usual_text(*TABLE, "fence_gauge_step"),
                        hint=_("or the step of its display"),
                    ),
                    Field(
                        ("machine", "calipers"),
                        _("Calipers' zero known to within"),
                        absent=usual_text("machine", "calipers"),
                    ),
                ),
            ),
            (
                _("Spindle speeds"),
                (
                    Field(
                        (*TABLE, "speeds"),
                        _("Spindle speeds (1/min)"),
                        "numbers",
                        hint=_("for instance %s") % "8000; 12000; 16000",
                    ),
                ),
            ),
            (
                _("Sacrificial strip, to take the tear-out"),
                (
                    Field(
                        (*STRIP, "width"), _("Sacrificial strip, width"), absent=usual_text(*STRIP, "width")
                    ),
                    Field(
                        (*STRIP, "ends"),
                        _("Ends of a band that get one"),
                        "whole",
                        absent=usual_text(*STRIP, "ends"),
                    ),
                ),
            ),
        ),
    )


def _feeds() -> tuple[tuple[str, str], ...]:
    return (("right-to-left", _("from right to left")), ("left-to-right", _("from left to right")))
