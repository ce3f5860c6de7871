"""Other names for stock and cutter: the file stays as it was written, and every corner keeps its key."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.cutter_entries import add_cutter
from drawerwright.job.file.editing import get_value, rename_entry, set_value
from drawerwright.job.planning.corners import corners_of
from drawerwright.job.renaming import rename_cutter, rename_stock, with_own_id
from drawerwright.joints.corner_key import CornerKey

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
SMALL = """\
format: 1
job: small
cutter: {mid_depth: 5.4, step: 3.7}
stock:
  # measured on the rack
  ash15: {nominal: 15, sheets: [{length: 2500, width: 1250}]}  # from the loft
  'beech 15':
    nominal: 15
    sheets: [{length: 2500, width: 1250}]
boxes:
  - name: tray  # of ash15
    outer: {width: 260, depth: 200, height: 60}
    box: {all: ash15, back: beech 15}
    bottom: {stock: ash15, style: fixed}
"""


SHARED = """\
format: 1
job: rows that are made like others
cutter: {mid_depth: 5.4, step: 3.7}
stock:
  ash15: {nominal: 15, sheets: [{length: 2500, width: 1250}]}
banks:
  - &bank
    name: left
    opening: {width: 460, height: 400, depth: 430}
    fronts: {style: applied, stock: ash15, heights: {equal: 2}}
    box: {all: ash15}
    bottom: {stock: ash15, style: fixed}
  - {<<: *bank, name: right, fronts: {style: inset, heights: {equal: 3}}}
"""


def keys(text: str) -> list[CornerKey]:
    return [corner.key for corner in corners_of(read_job(text))]


@pytest.mark.parametrize("text", [EXAMPLE, SMALL, SHARED])
def test_renamed_stock_and_cutter_keep_their_corners(text: str) -> None:
    known = read_job(text)
    for name in known.stock:
        stock_renamed = rename_stock(text, name, f"{name}, new pile")
        renamed = rename_cutter(stock_renamed, known.cutters[0].name, "the blue one")
        job = read_job(renamed)
        assert f"{name}, new pile" in job.stock
        assert name not in job.stock
        assert job.cutters[0].cutter.name == "the blue one"
        assert keys(renamed) == keys(text)


def test_nothing_else_in_the_file_changes() -> None:
    expected = SMALL
    for was, now in (
        ("  ash15: {nominal", "  old ash: {nominal"),
        ("width: 1250}]}  # from", "width: 1250}], id: ash15} # from"),
        ("{all: ash15", "{all: old ash"),
        ("{stock: ash15", "{stock: old ash"),
    ):
        assert expected.count(was) == 1
        expected = expected.replace(was, now)
    assert rename_stock(SMALL, "ash15", "old ash") == expected


def test_the_first_name_is_the_id_for_good_and_no_id_is_left_when_it_comes_back() -> None:
    again = rename_stock(rename_stock(SMALL, "ash15", "b"), "b", "c")
    assert get_value(again, ("stock", "c", "id")) == "ash15"
    assert re.sub(" +#", "  #", rename_stock(again, "c", "ash15")) == SMALL
    named = rename_cutter(rename_cutter(SMALL, "cutter", "red"), "red", "blue")
    assert get_value(named, ("cutter", "id")) == "cutter"
    assert get_value(rename_cutter(named, "blue", ""), ("cutter",)) == get_value(SMALL, ("cutter",))


@settings(deadline=None, max_examples=8)
@example("?0")
@given(st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" "), min_size=1, max_size=12))
def test_any_name_can_be_given(name: str) -> None:
    wanted = name.strip()
    if not wanted or wanted in ("ash15", "beech 15"):
        return
    for old in ("ash15", "beech 15"):
        renamed = rename_stock(SMALL, old, name)
        assert get_value(renamed, ("stock", wanted, "id")) == old
        assert keys(renamed) == keys(SMALL)
        assert "# from the loft" in renamed


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("oak", "elm", "no stock 'oak'"),
        ("ash15", " ", "a name"),
        ("ash15", "beech 15", "'beech 15' is taken"),
    ],
)
def test_what_cannot_be_renamed_is_said(old: str, new: str, said: str) -> None:
    with pytest.raises(InvalidValueError, match=said):
        rename_stock(SMALL, old, new)


def test_a_name_that_cannot_be_changed_where_it_stands_is_left() -> None:
    with pytest.raises(InvalidValueError, match="edit the text of the file"):
        rename_entry("? ash\n: 15\n", ["ash"], "elm")


def test_a_new_stock_is_not_taken_for_one_that_was_called_so_once() -> None:
    renamed = rename_stock(SMALL, "ash15", "old ash")
    fresh = set_value(renamed, ("stock", "ash15"), {"nominal": 15, "sheets": [{"length": 900, "width": 400}]})
    with pytest.raises(FaultyInputError, match="'ash15' is already the id of stock 'old ash'"):
        read_job(fresh)
    told_apart = with_own_id(fresh, "ash15")
    assert read_job(told_apart).stock["ash15"].key == "ash15 2"
    assert keys(told_apart) == keys(SMALL)
    assert with_own_id(SMALL, "ash15") == SMALL


@pytest.mark.parametrize("text", [EXAMPLE, SMALL, SHARED])
def test_one_more_cutter_leaves_every_corner_what_it_was(text: str) -> None:
    more = add_cutter(text, "small", {"mid_depth": 3.6, "step": 2.6})
    assert keys(more) == keys(text)
    assert [cutter.name for cutter in read_job(more).cutters][1:] == ["small"]
    first = read_job(text).cutters[0].name
    named = rename_cutter(rename_cutter(more, first, "large"), "small", "tiny")
    assert [cutter.name for cutter in read_job(named).cutters] == ["large", "tiny"]
    assert keys(named) == keys(text)
    comments = [line.partition("#")[2].strip() for line in text.splitlines() if "#" in line]
    assert all(f"# {comment}" in named for comment in comments)


def test_what_a_job_said_of_its_only_cutter_stays_with_it() -> None:
    text = f"{SMALL}bit_heights: [10.7]\nfences: {{plan: tooth, flushness: 0.04}}\n"
    more = read_job(add_cutter(text, "small", {"mid_depth": 3.6, "step": 2.6}))
    first, second = more.cutters
    assert (first.heights.kept, str(first.fences.plan)) == ((10.7,), "tooth")
    assert (second.heights.kept, str(second.fences.plan)) == ((), "fewest")
    assert first.fences.flushness == second.fences.flushness == 0.04


def test_a_new_cutter_is_not_taken_for_one_that_was_called_so_once() -> None:
    more = rename_cutter(add_cutter(SMALL, "red", {"mid_depth": 3.6, "step": 2.6}), "red", "green")
    again = read_job(add_cutter(more, "red", {"mid_depth": 4.0, "step": 3.0}))
    assert [cutter.key for cutter in again.cutters] == ["cutter", "red", "red 2"]
