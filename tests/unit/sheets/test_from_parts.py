"""From parts to blanks: nothing is lost, nothing is wanted twice, and only what is alike is put together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drawerwright.drawers.parts import EndCut, Part, PartKind, Role
from drawerwright.joints.corner_key import CornerKey
from drawerwright.sheets.from_parts import EQUAL, StockBlanks, blanks_of, names_of
from drawerwright.wood.stock import Grain, Stock
from drawerwright.wood.thickness import Panel, Thickness

SAW_STEP = 0.1
"""mm; what a saw's scale is read to (common practice, no source)."""
GRAINED, PLAIN = (
    Stock(name, Panel.OTHER, Thickness(15.0, ((14.6,),)), grain)
    for name, grain in (("ply", Grain.LENGTH), ("mdf", Grain.NONE))
)
FLUSH, LIPPED = (CornerKey("drawer-lock", "cutter", "birch", "birch", lip) for lip in (0.0, 7.5))
ENDS = (
    (),
    (EndCut(FLUSH, Role.FLAT), EndCut(FLUSH, Role.FLAT)),
    (EndCut(LIPPED, Role.UPRIGHT), EndCut(FLUSH, Role.UPRIGHT)),
)
SIZES = st.sampled_from([100.0, 117.47, 117.475, 117.48, 136.525, 136.53, 260.0, 346.075, 346.08])
"""Sizes as inches leave them (117.475 mm are 4 5/8 in): some lie half way between two hundredths."""


@st.composite
def parts(draw: st.DrawFn) -> Part:
    stock, ends = draw(st.sampled_from([GRAINED, PLAIN])), draw(st.sampled_from(ENDS))
    kind = draw(st.sampled_from([PartKind.LEFT, PartKind.FRONT])) if ends else PartKind.BOTTOM
    drawer = draw(st.sampled_from(["A1", "A2", "B1"]))
    return Part(drawer, kind, stock, draw(SIZES), draw(SIZES), ends)


def half_way(*sizes: float) -> list[Part]:
    return [Part("A1", PartKind.LEFT, GRAINED, 260.0, size, ENDS[1]) for size in sizes]


@given(st.lists(parts(), min_size=1, max_size=12))
@example(half_way(117.475, 117.47, 117.48))
def test_every_part_is_wanted_once_and_found_again_by_its_number(given_parts: list[Part]) -> None:
    blanks = blanks_of(given_parts)
    assert [group.stock.name for group in blanks] == list(dict.fromkeys(p.stock.name for p in given_parts))
    found = Counter(id(part) for group in blanks for part in numbered(group))
    assert found == Counter(id(part) for part in given_parts)


def numbered(blanks: StockBlanks) -> list[Part]:
    """Every part that the planner's pieces become."""
    demands = [(demand.key, demand.count) for demand in (*blanks.strips, *blanks.loose)]
    assert len(dict(demands)) == len(demands), "two demands with one key are one to the planner"
    return [blanks.part(key, number) for key, count in demands for number in range(1, count + 1)]


@given(st.lists(parts(), min_size=1, max_size=12))
def test_what_shares_a_band_is_as_long_and_has_the_same_ends(given_parts: list[Part]) -> None:
    for group in blanks_of(given_parts):
        for family in group.families:
            ((front,), (back,)) = family.edges
            assert {part.ends for part in family.parts} == {(front, back)}
            assert spread([part.cut_length for part in family.parts]) <= 2 * EQUAL + 1e-9
            assert (family.marked is not None) is (front != back)
        for strip in group.strips:
            same = group.members[strip.key]
            assert spread([part.cut_width for part in same]) <= 2 * EQUAL + 1e-9
            assert set(same) <= set(group.family(strip.family).parts)


def spread(sizes: Sequence[float]) -> float:
    return max(sizes) - min(sizes)


@given(st.lists(parts(), min_size=1, max_size=12))
def test_the_saw_gets_the_nearest_size_that_it_can_be_set_to(given_parts: list[Part]) -> None:
    for group in blanks_of(given_parts):
        for strip in group.strips:
            (part, *_more) = group.members[strip.key]
            assert strip.length == pytest.approx(part.cut_length, abs=SAW_STEP / 2 + 1e-9)
            assert strip.height == pytest.approx(part.cut_width, abs=SAW_STEP / 2 + 1e-9)
            assert round(strip.height / SAW_STEP) * SAW_STEP == pytest.approx(strip.height, abs=1e-9)
        turning = {demand.can_turn for demand in (*group.strips, *group.loose)}
        assert turning == {group.stock.grain is Grain.NONE}


def test_fronts_that_hang_together_are_one_block_and_wanted_nowhere_else() -> None:
    fronts = [Part(f"A{n}", PartKind.APPLIED_FRONT, GRAINED, 600.0, 90.0 + 30 * n) for n in (1, 2, 3)]
    other = Part("B1", PartKind.APPLIED_FRONT, GRAINED, 600.0, 120.0)
    (blanks,) = blanks_of([*fronts, other], [fronts])
    (block,) = blanks.matched
    assert block.widths == (120.0, 150.0, 180.0)
    assert [blanks.part(key, 1) for key in block.keys] == fronts
    assert [blanks.part(demand.key, 1) for demand in blanks.loose] == [other]


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (1, "A1 bottom"),
        (4, "A1 bottom, A2 bottom, A3 bottom, A4 bottom"),
        (5, "A1 bottom, A2 bottom, A3 bottom and 2 more"),
    ],
)
def test_alike_parts_are_called_by_the_first_few(count: int, said: str) -> None:
    assert names_of([Part(f"A{n + 1}", PartKind.BOTTOM, PLAIN, 300.0, 300.0) for n in range(count)]) == said
