"""Which fields the panel of a bank shows."""

from __future__ import annotations

from typing import Any

import pytest

from drawerwright.web.fields.drawer_fields import columns_of, panels_of

OF_APPLIED = {("fronts", "stock"), ("fronts", "grain_upright"), ("fronts", "match")}


def paths(fronts: dict[str, Any]) -> set[tuple[str | int, ...]]:
    item = {"fronts": {"heights": {"equal": 3}, **fronts}}
    return {field.path for _title, group in panels_of("banks", item, {}) for field in group}


@pytest.mark.parametrize(
    ("fronts", "shown"),
    [
        ({"style": "applied"}, OF_APPLIED),
        ({"style": "lipped"}, set()),
        ({"style": "lipped", "match": True}, {("fronts", "match")}),
        ({"style": "inset", "grain_upright": True}, {("fronts", "grain_upright")}),
    ],
)
def test_nothing_that_a_file_says_of_its_fronts_is_out_of_reach(
    fronts: dict[str, Any], shown: set[tuple[str, ...]]
) -> None:
    assert paths(fronts) & OF_APPLIED == shown


def test_a_list_of_heights_stands_in_the_panel_and_a_number_in_the_table() -> None:
    given = {"style": "lipped", "heights": {"given": [100, "rest"]}}
    assert ("fronts", "heights", "given") in paths(given)
    assert ("fronts", "heights", "equal") not in paths({"style": "lipped"})
    (*_sizes, number) = columns_of("banks", {"fronts": {"heights": {"equal": 3}}})
    assert (number.path, number.kind) == (("fronts", "heights", "equal"), "whole")
