"""A row that is named by its number in an older revision is found again, or nothing is written."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from drawerwright.web.fields.row_places import place_now

A, B, C = ({"length": length, "width": 1250} for length in (2500, 1525, 3050))
B_CHEAPER = B | {"price": 60}


@pytest.mark.parametrize(
    ("before", "now", "places"),
    [
        ([A, B, C], [A, B, C], [0, 1, 2]),
        ([A, B, C], [B, C], [None, 0, 1]),
        ([A, B, C], [A, C], [0, None, 1]),
        ([A, B, C], [A, B], [0, 1, None]),
        ([A, B], [A, B, C], [0, 1]),
        ([B], [A, C, B], [2]),
        ([A, B, C], [A, B_CHEAPER, C], [0, 1, 2]),
        ([A, B], [B, C], [None, 0]),
        # Moved and changed: what stands in its place is another row.
        ([A, B, C], [A, C, B_CHEAPER], [0, None, 1]),
        ([A, A, A], [A, A], [0, 1, None]),
        ([A], [], [None]),
    ],
)
def test_rows_without_names(before: Sequence[Any], now: Sequence[Any], places: Sequence[int | None]) -> None:
    for number, place in enumerate(places):
        path = ("stock", "birch", "sheets", number, "price")
        texts = ({"stock": {"birch": {"sheets": list(rows)}}} for rows in (before, now))
        expected = None if place is None else ("stock", "birch", "sheets", place, "price")
        assert place_now(path, *texts) == expected, number


def test_rows_with_names_keep_them_wherever_they_go() -> None:
    rows = [{"name": name, "count": count} for name, count in (("one", 1), ("two", 2), ("three", 3))]
    now = [rows[2] | {"count": 9}, rows[0], rows[1] | {"count": 4}]
    found = [place_now(("boxes", number, "count"), {"boxes": rows}, {"boxes": now}) for number in range(3)]
    assert found == [("boxes", 1, "count"), ("boxes", 2, "count"), ("boxes", 0, "count")]
    renamed = [rows[0], rows[1] | {"name": "another"}, rows[2]]
    assert place_now(("boxes", 1, "count"), {"boxes": rows}, {"boxes": renamed}) == ("boxes", 1, "count")


def test_what_was_not_there_yet_keeps_its_number_and_its_name() -> None:
    assert place_now(("boxes", 3, "name"), {"boxes": [A]}, {"boxes": [A]}) == ("boxes", 3, "name")
    assert place_now(("cutter", "step"), {}, {}) == ("cutter", "step")
    assert place_now(("stock", "oak", "nominal"), {}, {}) == ("stock", "oak", "nominal")


def test_a_stock_that_was_taken_out_is_not_made_anew_by_one_of_its_entries() -> None:
    stock = {"oak": {"nominal": 15}}
    assert place_now(("stock", "oak", "scatter"), {"stock": stock}, {"stock": {}}) is None
    assert place_now(("stock", "oak", "scatter"), {"stock": stock}, {"stock": stock}) is not None
