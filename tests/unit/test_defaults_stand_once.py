"""A default is known in one place: pages and docs that show it show what is read from there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from drawerwright.basics import usual
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.usual_entries import usual_entry
from drawerwright.joints.mate import GLUE_GAP
from drawerwright.joints.readings import FitRange
from drawerwright.joints.table import GAUGE_STEP
from drawerwright.web.fields.cutter_fields import cutter_fields, profile_fields
from drawerwright.web.fields.drawer_fields import columns_of, panels_of
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.job_fields import whole_fields
from drawerwright.web.fields.machine_fields import machine_fields, machine_name
from drawerwright.web.fields.stock_fields import sheet_fields, stock_fields
from drawerwright.web.fields.usual_text import usual_text

COMMANDS = (Path(__file__).parents[2] / "docs" / "commands.md").read_text("utf-8")
WHOLE = {
    "bottom": {"stock": "ply"},
    "banding": {"thickness": 1},
    "fronts": {"style": "applied", "heights": {"arithmetic": {"count": 3}}, "pull": {}},
}
BY_SIZE_OR_KIND = ("banks.fronts.pull.spacing", "sheets.later_aims")
"""Their hints are words that say what the default means."""


def fields_of_pages() -> Iterator[tuple[tuple[str, ...], Field]]:
    """Every field with its path in the model: names and numbers of members are left out."""
    for above, fields in (
        ((), (machine_name(), *whole_fields({}).fields)),
        *(((), machine.fields) for machine in machine_fields()),
        (("cutter",), (*cutter_fields(), *profile_fields())),
        (("stock",), stock_fields({}).fields),
        (("stock", "sheets"), sheet_fields("sheets")),
        (("stock", "offcuts"), sheet_fields("offcuts")),
        *(
            (
                (name,),
                (
                    *columns_of(name, WHOLE),
                    *(f for group in panels_of(name, WHOLE, {}) for f in group[1]),
                ),
            )
            for name in ("banks", "boxes")
        ),
    ):
        for field in fields:
            yield (*above, *(step for step in field.path if isinstance(step, str))), field


FIELDS = dict(fields_of_pages())


@pytest.mark.parametrize(
    "path",
    [
        path
        for path in FIELDS
        if isinstance(usual_entry(*path), int | float | Estimate)
        and not isinstance(usual_entry(*path), bool)
        and ".".join(path) not in BY_SIZE_OR_KIND
    ],
    ids=".".join,
)
def test_an_empty_field_shows_what_the_model_takes(path: tuple[str, ...]) -> None:
    assert FIELDS[path].absent == usual_text(*path)


@pytest.mark.parametrize("path", FIELDS, ids=".".join)
def test_no_field_shows_a_figure_that_the_model_does_not_have(path: tuple[str, ...]) -> None:
    if path[1:2] == ("runner",):  # the standing table of its kind
        return
    figures = re.findall(r"\d+(?:\.\d+)?", FIELDS[path].absent)
    known = usual_entry(*path)
    in_model = [known.value, known.uncertainty] if isinstance(known, Estimate) else [known]
    assert [float(figure) for figure in figures] == ([] if not figures else in_model)


@pytest.mark.parametrize(
    "said",
    [
        f"(default: {FitRange().least_play:g} and {FitRange().most_play:g} mm)",
        f"(default: {FitRange().flushness:g} mm)",
        f"(default: {GAUGE_STEP:g} mm)",
        f"(default: {usual.UNKNOWN_SLOPE.value:g})",
        f"insets in that file (default: {usual.PROFILE_INSET:g} mm; 0 for exact)",
        f"of each inset (default: {usual.PROFILE_INSET:g} mm)",
        f"(default: {GLUE_GAP:g} mm, what glue fills)",
    ],
)
def test_the_docs_of_the_commands_name_the_defaults_that_are_used(said: str) -> None:
    assert said in " ".join(COMMANDS.split())
