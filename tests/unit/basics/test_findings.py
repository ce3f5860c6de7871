"""Findings that say the same are one finding, wherever they are shown."""

from dataclasses import replace

import pytest

from drawerwright.basics.findings import Finding, Severity, grouped
from drawerwright.basics.names import places_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase

DEEP = Finding("deep-groove", Severity.WARNING, "A1", "too deep.", "Make it less deep.", ("A1",))


def found_in(*names: str) -> list[Finding]:
    return [replace(DEEP, where=name, drawers=(name,)) for name in names]


def test_four_drawers_with_one_text_are_one_finding() -> None:
    (group,) = grouped(found_in("A1", "A2", "A3", "A4"))
    assert group.where == "A1–A4"
    assert group.drawers == ("A1", "A2", "A3", "A4")
    assert len(group.members) == 4
    assert str(group) == "warning deep-groove (A1–A4): too deep. Make it less deep."


@pytest.mark.parametrize(
    "other",
    [
        {"text": "far too deep."},
        {"remedy": "Take thicker stock."},
        {"severity": Severity.STOP},
        {"stock": "oak8"},
    ],
)
def test_what_differs_in_anything_said_is_another_finding(other: dict[str, str]) -> None:
    assert len(grouped([*found_in("A1"), *(replace(each, **other) for each in found_in("A2"))])) == 2


@pytest.mark.parametrize(
    ("one", "other", "groups"),
    [
        ("sags 2.4 mm, limit 2.6 mm.", "sags 2.5 mm, limit 2.6 mm.", 1),  # 2.449 and 2.451
        ("sags 2.4 mm, limit 2.6 mm.", "sags 2.6 mm, limit 2.6 mm.", 2),
        ("sags 9.95 mm.", "sags 10.0 mm.", 2),  # to another digit
        ("2 fronts are low.", "3 fronts are low.", 2),  # counted, not measured
    ],
)
def test_a_measure_rounded_either_way_is_one_measure(one: str, other: str, groups: int) -> None:
    pair = [replace(found, text=text) for found, text in zip(found_in("A1", "B1"), (one, other), strict=True)]
    assert len(grouped(pair)) == groups


def test_the_first_of_each_keeps_its_place() -> None:
    low = Finding("low-box", Severity.NOTE, "B1", "low.", "Higher.")
    first, second = grouped([*found_in("A1"), low, *found_in("A2")])
    assert (first.where, second.where) == ("A1, A2", "B1")


def test_a_finding_about_the_whole_job_keeps_concerning_all_of_it() -> None:
    (group,) = grouped([DEEP, replace(DEEP, where="the job", drawers=())])
    assert group.drawers == ()


def test_parts_that_are_called_alike_share_their_word() -> None:
    places = [joined((name, phrase("front")), " ") for name in ("A1", "A2", "A3")]
    row = places_in_row(places)
    assert row == "A1–A3 front"
    assert isinstance(row, Phrase)


def test_parts_of_different_kinds_are_told_one_by_one() -> None:
    places = [joined(("A1", phrase("front")), " "), joined(("A2", phrase("back")), " ")]
    assert places_in_row(places) == "A1 front, A2 back"


def test_a_name_beside_a_phrase_is_told_by_itself() -> None:
    assert places_in_row(["A1", joined(("A2", phrase("back")), " ")]) == "A1, A2 back"


def test_whole_drawers_and_their_parts_are_told_in_turn() -> None:
    fronts = [joined((name, phrase("front")), " ") for name in ("A1", "A2", "A3")]
    assert places_in_row([fronts[0], "A1", fronts[1], "A2", fronts[2], "A3"]) == "A1–A3 front, A1–A3"
