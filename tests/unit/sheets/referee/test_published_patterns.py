"""The judge of published instances rejects what cannot be cut: patterns made by hand, whole and broken."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest

from drawerwright.sheets.referee.published_patterns import check_patterns

Pattern = list[dict[str, Any]]

SIZES = {"A": (40, 28), "B": (30, 20), "C": (18, 20), "D": (38, 60), "E": (28, 20)}
NAMES = list(SIZES)


def instance(demand: str, **changes: object) -> dict[str, Any]:
    """A sheet of 100 by 60 with a kerf of 2, and one part for every letter of `demand`."""
    items = [
        {"length": length, "width": width, "demand": demand.count(name)}
        for name, (length, width) in SIZES.items()
    ]
    usual = {
        "sheet": {"length": 100, "width": 60, "count": 1},
        "kerf": 2,
        "stages": 3,
        "cut_type": "non-exact",
        "first_cut": "across_length",
        "rotation": False,
        "objective": "min_sheets",
        "items": items,
    }
    return usual | changes


def part(name: str, x: float, y: float) -> dict[str, Any]:
    """A part that lies as it is, in a band that was cut across the sheet's length."""
    length, width = SIZES[name]
    return {
        "item": NAMES.index(name),
        "position": y,
        "length": length,
        "width": width,
        "turned": False,
        "x": x,
        "y": y,
    }


def band(position: float, width: float, *parts: dict[str, Any]) -> dict[str, Any]:
    return {
        "sheet": 0,
        "position": position,
        "width": width,
        "first_cut": "across_length",
        "parts": list(parts),
    }


THREE_STAGES: Pattern = [
    band(0, 60, part("A", 0, 0), part("C", 42, 0), part("B", 0, 30), part("E", 32, 30)),
    band(62, 38, part("D", 62, 0)),
]
"""Two bands; the first has two rows of two parts, of which C is trimmed to its height after the third stage."""
TWO_STAGES: Pattern = [
    band(0, 40, part("A", 0, 0), part("B", 0, 30)),
    band(42, 38, part("D", 42, 0)),
    band(82, 18, part("C", 82, 0), part("C", 82, 22)),
]
"""Three bands of parts above each other, of which B is trimmed to its length."""
EXACT: Pattern = [band(0, 38, part("D", 0, 0)), band(40, 18, part("C", 40, 0), part("C", 40, 22))]
ALIKE: Pattern = [band(0, 58, part("B", 0, 0), part("E", 0, 22), part("E", 30, 22))]


@pytest.mark.parametrize(
    ("pattern", "asked"),
    [
        (THREE_STAGES, instance("ABCDE")),
        (TWO_STAGES, instance("ABDCC", stages=2)),
        (TWO_STAGES, instance("ABDCC")),
        (EXACT, instance("DCC", stages=2, cut_type="exact")),
        (ALIKE, instance("BEE", cut_type="homogenous")),
    ],
)
def test_a_pattern_that_can_be_cut_is_accepted(pattern: Pattern, asked: dict[str, Any]) -> None:
    assert check_patterns(asked, 1, [pattern]) == []


def test_what_an_instance_leaves_out_is_usual() -> None:
    asked = instance("CC")
    for name in ("kerf", "stages", "cut_type", "first_cut", "rotation", "objective"):
        del asked[name]
    touching = [band(0, 18, part("C", 0, 0), part("C", 0, 20))]
    assert check_patterns(asked, 1, [touching]) == []
    assert any("leave no kerf" in text for text in check_patterns(instance("CC"), 1, [touching]))


@pytest.mark.parametrize(
    ("pattern", "asked", "words"),
    [
        pytest.param(
            THREE_STAGES,
            instance("ABCDE", stages=2),
            "not freed in 2 stages",
            id="a row where two stages end",
        ),
        pytest.param(
            # C lies beside B and above a part of A's row: the band has to be parted along itself once more.
            [band(0, 60, part("A", 0, 0), part("C", 42, 0), part("B", 0, 30), part("C", 42, 22))],
            instance("ABCC"),
            "not freed in 3 stages",
            id="a fourth stage",
        ),
        pytest.param(
            # C is a kerf away from A, but a cut below it at 29 - 2 would run through the last of A's 28.
            [band(0, 60, part("A", 0, 0), part("C", 42, 29))],
            instance("AC"),
            "no cut from edge to edge",
            id="a row a kerf too low",
        ),
        pytest.param(
            [band(0, 40, part("A", 0, 0), part("B", 5, 30))],
            instance("AB", stages=2),
            "not freed in 2 stages",
            id="away from the band's edge",
        ),
        pytest.param(
            TWO_STAGES, instance("ABDCC", stages=2, cut_type="exact"), "as wide as its band", id="trimmed"
        ),
        pytest.param(
            THREE_STAGES, instance("ABCDE", cut_type="exact"), "as high as its row", id="trimmed row"
        ),
        pytest.param(
            THREE_STAGES, instance("ABCDE", cut_type="homogenous"), "parts of one kind", id="mixed row"
        ),
        pytest.param(
            [band(0, 40, part("A", 0, 0), part("B", 0, 20))], instance("AB"), "overlap", id="parts overlap"
        ),
        pytest.param(
            [band(0, 40, part("A", 0, 0), part("B", 0, 29))],
            instance("AB"),
            "no kerf",
            id="kerf between parts",
        ),
        pytest.param(
            [band(0, 40, part("A", 0, 0)), band(41, 38, part("D", 41, 0))],
            instance("AD"),
            "not a kerf from the one before",
            id="kerf between bands",
        ),
        pytest.param(
            [band(0, 40, part("A", 0, 0)), band(30, 38, part("D", 30, 0))],
            instance("AD"),
            "not a kerf from the one before",
            id="bands overlap",
        ),
        pytest.param([band(63, 38, part("D", 63, 0))], instance("D"), "beyond the sheet", id="band outside"),
        pytest.param(
            [band(0, 40, part("A", 0, 40))], instance("A"), "reaches beyond", id="part above the sheet"
        ),
        pytest.param(
            [band(0, 40, part("A", 0, -1))], instance("A"), "reaches beyond", id="part below the sheet"
        ),
        pytest.param(
            [band(0, 39, part("A", 0, 0))], instance("A"), "reaches beyond", id="part wider than its band"
        ),
        pytest.param(THREE_STAGES, instance("ABCDEE"), "2 wanted, 1 cut", id="a part too few"),
        pytest.param(THREE_STAGES, instance("ABCD"), "0 wanted, 1 cut", id="a part too many"),
        pytest.param(
            [band(0, 40, part("A", 0, 0) | {"width": 27})],
            instance("A"),
            "part 0 is 40 × 27",
            id="a part too small",
        ),
        pytest.param(
            [band(0, 28, part("A", 0, 0) | {"turned": True})], instance("A"), "may not be turned", id="turned"
        ),
        pytest.param([], instance(""), "names the sheets []", id="a sheet without bands"),
        pytest.param(
            [band(0, 40, part("A", 0, 0)) | {"sheet": -1}],
            instance("A"),
            "names the sheets [-1]",
            id="no such sheet",
        ),
        pytest.param(
            [band(0, 40, part("A", 0, 0)), band(42, 40, part("A", 42, 0) | {"item": -5})],
            instance("AA"),
            "names the parts [-5]",
            id="no such part",
        ),
        pytest.param(
            THREE_STAGES,
            instance("ABCDE", first_cut="along_length"),
            "along_length wanted",
            id="first cuts the other way",
        ),
    ],
)
def test_a_pattern_that_cannot_be_cut_is_rejected(
    pattern: Pattern, asked: dict[str, Any], words: str
) -> None:
    assert words in "\n".join(check_patterns(asked, 1, [pattern]))


def test_a_turned_part_takes_its_turned_room() -> None:
    lying = [band(0, 28, part("A", 0, 0) | {"turned": True})]
    assert check_patterns(instance("A", rotation=True), 1, [lying]) == []
    narrow = [band(0, 27, part("A", 0, 0) | {"turned": True})]
    assert check_patterns(instance("A", rotation=True), 1, [narrow]) != []


def test_sheets_at_hand_and_the_value_are_counted() -> None:
    whole = [band(0, 38, part("D", 0, 0))]
    asked = instance("DD")
    assert "sheet 0: 2 used, 1 at hand" in check_patterns(asked, 2, [whole, whole])
    many = instance("DD", sheet={"length": 100, "width": 60, "count": None})
    assert check_patterns(many, 2, [whole, whole]) == []
    assert check_patterns(many, 1, [whole, whole]) == ["value 1 given, 2.0 counted"]
    priced = many | {"objective": "min_cost", "sheets": [{"length": 100, "width": 60, "cost": 7.1}]}
    assert check_patterns(priced, 14.2, [whole, whole]) == []
    assert check_patterns(priced, 14, [whole, whole]) != []


def test_the_pattern_that_is_wrong_is_named_by_its_number_from_one() -> None:
    whole = [band(0, 38, part("D", 0, 0))]
    asked = instance("DD", sheet={"length": 100, "width": 60, "count": None})
    assert check_patterns(asked, 2, [whole, []]) == [
        "pattern 2 names the sheets [], one of 1 is wanted",
        "part 3: 2 wanted, 1 cut",
        "value 2 given, 1.0 counted",
    ]
    outside = [band(63, 38, part("D", 63, 0))]
    assert check_patterns(asked, 2, [whole, outside]) == [
        "pattern 2: the band at 63 reaches beyond the sheet",
    ]


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ([(0, 0, 51), (1, 53, 47)], ""),
        ([(0, 0, 51), (1, 52, 47)], "not a kerf from the one before"),
        ([(0, 0, 51), (1, 54, 47)], "beyond the bar"),
        ([(0, -1, 51), (1, 53, 47)], "not a kerf"),
        ([(0, 0, 50), (1, 53, 47)], "has length 50"),
        ([(0, 0, 51)], "1 wanted, 0 cut"),
    ],
)
def test_bars(parts: list[tuple[int, float, float]], words: str) -> None:
    asked = {
        "sheet": {"length": 100, "width": None, "count": None},
        "kerf": 2,
        "stages": 1,
        "objective": "min_bars",
        "items": [{"length": 51, "width": None, "demand": 1}, {"length": 47, "width": None, "demand": 1}],
    }
    keys = ("item", "position", "length")
    bar = [{"sheet": 0, "position": 0, "parts": [dict(zip(keys, part, strict=True)) for part in parts]}]
    found = "\n".join(check_patterns(asked, 1, [bar]))
    assert words in found if words else not found


def _falsified(pattern: Pattern, change: Callable[[float], float]) -> list[tuple[str, Pattern]]:
    """The pattern with one number changed, every number in turn, and what was changed."""
    found = []
    for row, one in enumerate(pattern):
        for name in ("sheet", "position", "width"):
            other = copy.deepcopy(pattern)
            other[row][name] = change(one[name])
            found.append((f"band {row} {name}", other))
        for place, piece in enumerate(one["parts"]):
            for name in ("item", "position", "length", "width", "x", "y"):
                other = copy.deepcopy(pattern)
                other[row]["parts"][place][name] = change(piece[name])
                found.append((f"band {row} part {place} {name}", other))
    return found


@pytest.mark.parametrize("step", [-7, -1, 0.3, 1, 7])
def test_no_number_of_a_tight_pattern_can_be_changed_unseen(step: float) -> None:
    """Whatever single number is falsified, the judge objects: the pattern leaves nothing free."""
    asked = instance("ABCDE")
    unseen = [
        what
        for what, other in _falsified(THREE_STAGES, lambda number: number + step)
        if not check_patterns(asked, 1, [other])
    ]
    assert unseen == []
