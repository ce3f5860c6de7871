"""The table of factors against the finite elements that gave it, and against what it may not depend on."""

import csv
import math
from collections import Counter
from dataclasses import fields

import pytest
from derive_corner_factors import TABLE, Case, cases

from drawerwright.joints.holding import PullOff
from drawerwright.joints.joint import joint_of
from drawerwright.strength.corner_factors import factors_of

ROWS = list(csv.DictReader(TABLE.read_text("utf-8").splitlines()))
SIZES = [field.name for field in fields(Case) if field.name != "wood"]


def case_of(row):
    return Case(row["wood"], *(float(row[name]) for name in SIZES))


def hook_of(case):
    made = case.made
    return joint_of(made.cutter).holding(made, PullOff.ALONG_UPRIGHT).hook


def test_table_has_every_section_of_the_script():
    """Source: the script's own list."""
    assert [case_of(row) for row in ROWS] == list(cases())
    assert Counter(row["wood"] for row in ROWS)["hardwood"] > 100


@pytest.mark.parametrize("number", [40, 165, 190])  # hardwood, softwood, plywood
def test_a_row_comes_out_again(number):
    """Source: the finite elements, run anew."""
    row = ROWS[number]
    for name, value in case_of(row).factors().items():
        assert value == pytest.approx(float(row[name]), abs=2e-3), name


@pytest.mark.parametrize(
    "row", [row for row in ROWS if row["wood"] == "hardwood" and row["lip"] == "0.0"][::23]
)
def test_a_section_of_the_table_is_looked_up_as_it_stands(row):
    """Source: the table's row."""
    (found,) = factors_of(hook_of(case_of(row)))
    for name in ("none pull hook normal near", "all turn shoulder normal whole", "shoulder-open pull give"):
        assert found[name] == pytest.approx(float(row[name]), rel=0.03, abs=0.02)


def capacity(row, state, plane, words):
    """Of a plane in yellow birch, over its length (MPa)."""
    normal, shear = (float(row[f"{state} pull {plane} {part} {words}"]) for part in ("normal", "shear"))
    return 1 / math.hypot(max(normal, 0) / 6.3, shear / 13.0)


PLANES = [("none", "neck-root"), ("none", "head"), ("none", "hook"), ("shoulder-open", "neck-root")]


@pytest.mark.parametrize(("state", "plane"), PLANES)
@pytest.mark.parametrize("words", ["near", "whole"])
def test_between_its_sections_the_table_is_good_enough(state, plane, words):
    """Source: the finite elements at a section in the middle of a cell, the worst place; a straight line between the
    table's sections lies on the safe side there."""
    found = factors_of(hook_of(BETWEEN))[0]
    exact = _between()
    ratio = capacity(found, state, plane, words) / capacity(exact, state, plane, words)
    assert 0.75 < ratio < 1.1


BETWEEN = Case("hardwood", mid=0.375, step=0.225, neck=0.45, flank=0.25, roof=0.4)
_FOUND = []


def _between():
    if not _FOUND:
        _FOUND.append(BETWEEN.factors())
    return _FOUND[0]


@pytest.mark.parametrize(
    ("differs", "most"), [("lip", 0.01), ("softwood", 0.15)], ids=["a lip", "softer wood, of like strength"]
)
def test_what_hardly_matters(differs, most):
    """Source: the finite elements for the same section with a lip, and with the stiffness of softwood."""
    key = lambda row: tuple(row[name] for name in ("mid", "step", "neck", "flank", "roof"))  # noqa: E731
    plain = {key(row): row for row in ROWS if row["wood"] == "hardwood" and row["lip"] == "0.0"}
    others = [row for row in ROWS if row["wood"] == differs or (differs == "lip" and row["lip"] != "0.0")]
    assert len(others) >= 4
    for row in others:
        for state, plane in PLANES:
            one, other = (capacity(each, state, plane, "near") for each in (row, plain[key(row)]))
            assert one == pytest.approx(other, rel=most)


def test_the_head_carries_the_pull_in_every_section():
    """Source: balance of the overhang, the whole pull in shear, and the slope's thrust."""
    for row in ROWS:
        assert float(row["none pull head shear whole"]) == pytest.approx(1.0, abs=2e-3)
        thrust = float(row["flank"])
        assert float(row["none pull head normal whole"]) == pytest.approx(-thrust, abs=0.02)
