"""Entries as fields: what is shown means what was stored, for every reader."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.entry_types import parse_given
from drawerwright.job.file.job_entries import job_entries
from drawerwright.web.fields.field import Field, cells_of, read_path, shown, shown_absent, stored
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import use_language

POINT, COMMA = Preferences(), Preferences(decimal_sign=",")
GERMAN = Preferences(language="de", decimal_sign=",")
INCHES = Preferences(unit="in")


@given(
    st.floats(0.01, 9999, allow_nan=False).map(lambda value: round(value, 3)), st.sampled_from([POINT, COMMA])
)
def test_a_number_comes_back_as_it_was(value: float, reader: Preferences) -> None:
    assert stored(shown(value, "length", reader), "length", reader, "mm") == value


@given(st.floats(0.01, 9999).map(lambda value: round(value, 2)))
def test_inches_shown_are_the_same_length(value: float) -> None:
    again = stored(shown(value, "length", INCHES), "length", INCHES, "mm")
    assert parse_length(again) == pytest.approx(value, abs=0.0127 + 1e-9)  # half a thousandth of an inch


@pytest.mark.parametrize(
    ("typed", "kind", "reader", "kept"),
    [
        ("14,65", "length", POINT, 14.65),
        ("15", "length", POINT, 15),
        ('1 1/8"', "length", POINT, '1 1/8"'),
        ("3/4", "length", INCHES, "3/4 in"),
        ("0.75", "length", INCHES, "0.75 in"),
        ("19 mm", "length", INCHES, "19 mm"),
        ("6.1 ± 0.05", "length", COMMA, "6.1 ± 0.05"),
        ("6,1 +- 0,05", "length", COMMA, "6.1 ± 0.05"),
        ("0.222 ± 0.002", "length", INCHES, "0.222 in ± 0.002 in"),
        ("5.65 mm ± 0.05 mm", "length", INCHES, "5.65 mm ± 0.05 mm"),
        ("55 ± 1", "number", INCHES, "55 ± 1"),
        ("4.000 ± 0.025", "length", POINT, "4.000 ± 0.025"),
        ("5.65 ±", "length", POINT, "5.65 ± "),
        ("wide", "length", POINT, "wide"),
        ("  ", "length", POINT, None),
        ("95; 120,5; rest", "lengths", COMMA, [95, 120.5, "rest"]),
        ("(14.6 14.7); 14.5", "lengths", POINT, [[14.6, 14.7], 14.5]),
        ("12000", "number", INCHES, 12000),
        ("007", "text", POINT, "007"),
        ("routing; offcuts", "aims", COMMA, ["routing", "offcuts"]),
        ("Fence, routed LENGTH", "aims", POINT, ["fences", "routing"]),
        ("Größtes Reststück; verwendete Reststücke", "aims", GERMAN, ["largest-offcut", "offcuts"]),
        ("est; rest; dreams", "aims", GERMAN, ["est", "rest", "dreams"]),
        ("Choir scores; B1, B2", "name-groups", COMMA, [["Choir scores"], ["B1", "B2"]]),
        ("yes", "yes", POINT, True),
        ("", "yes", POINT, None),
    ],
)
def test_what_typing_means(typed: str, kind: Any, reader: Preferences, kept: Any) -> None:
    assert stored(typed, kind, reader, "mm") == kept


@pytest.mark.parametrize(
    ("typed", "kind", "reader", "kept"),
    [
        ("19", "length", POINT, "19 mm"),
        ("0,75", "length", Preferences(unit="in", decimal_sign=","), 0.75),
        ("3/4", "length", INCHES, "3/4"),
        ("18 1/2", "length", INCHES, "18 1/2"),
        ("0.222 ± 0.002", "length", INCHES, "0.222 ± 0.002"),
        ("5,65 ± 0,05", "length", COMMA, "5,65 mm ± 0,05 mm"),
        ("19 mm", "length", INCHES, "19 mm"),
        ("(0.472 0.476); 0.48", "lengths", INCHES, [[0.472, 0.476], 0.48]),
        ("(12.1 12); 11.9", "lengths", POINT, [["12.1 mm", "12 mm"], "11.9 mm"]),
        ("12000", "number", POINT, 12000),
    ],
)
def test_what_typing_means_in_a_job_in_inches(typed: str, kind: Any, reader: Preferences, kept: Any) -> None:
    assert stored(typed, kind, reader, "in") == kept


@pytest.mark.parametrize(
    ("text", "reader", "field"),
    [
        ("nominal: 0.75", INCHES, "0.75 in"),
        ("nominal: 1/2", COMMA, "1/2 in"),
        ("measured: [[0.472, 0.476], 0.48]", INCHES, "(0.472 0.476); 0.48 in"),
        ("measured: [[0.472, 0.476], 0.48]", COMMA, "(0,472in 0,476in); 0.48 in"),
    ],
)
def test_a_field_of_a_job_in_inches_means_the_same_when_it_is_sent_back(
    text: str, reader: Preferences, field: str
) -> None:
    job = f"units: in\nstock: {{half: {{{text}}}}}\n"
    name, _colon, _value = text.partition(":")
    kind: Any = "lengths" if name == "measured" else "length"
    path = ("stock", "half", name)
    assert shown(value_at(job_entries(job), path), kind, reader) == field
    again = set_value(job, path, stored(field, kind, reader, "in"))
    assert _lengths(value_at(job_entries(again), path)) == _lengths(value_at(job_entries(job), path))


def _lengths(entry: Any) -> Any:
    return [_lengths(each) for each in entry] if isinstance(entry, list) else parse_length(entry)


@given(
    st.floats(0.5, 99).map(lambda value: round(value, 2)),
    st.floats(0.01, 0.5).map(lambda value: round(value, 2)),
    st.sampled_from([POINT, COMMA, INCHES, Preferences(unit="in/64", decimal_sign=",")]),
    st.booleans(),
)
def test_a_doubtful_length_is_shown_as_its_reader_writes_it(
    value: float, doubt: float, reader: Preferences, as_text: bool
) -> None:
    """What the field shows means the same when it is typed again; an inch is 25.4 mm by definition."""
    kept = f"{value} ± {doubt}" if as_text else {"value": value, "uncertainty": doubt}
    field = shown(kept, "length", reader)
    assert reader.decimal_sign in field
    assert "." not in field or reader.decimal_sign == "."
    again = parse_given(stored(field, "length", reader, "mm"))
    assert again.value == pytest.approx(value, abs=0.00127 + 1e-9)
    assert again.uncertainty == pytest.approx(doubt, abs=0.00127 + 1e-9)


@pytest.mark.parametrize(
    ("absent", "kind", "reader", "text"),
    [
        ("0.15", "length", POINT, "0.15 mm"),
        ("0.15", "length", COMMA, "0,15 mm"),
        ("150", "length", INCHES, "5.906 in"),
        ("0.5", "number", INCHES, "0.5"),
        ("5", "whole", COMMA, "5"),
        ("middle", "length", INCHES, "middle"),
        ("", "length", COMMA, ""),
    ],
)
def test_what_stands_for_a_missing_entry_is_written_for_the_reader(
    absent: str, kind: Any, reader: Preferences, text: str
) -> None:
    assert shown_absent(Field(("entry",), "", kind, absent=absent), reader) == text


@pytest.mark.parametrize(
    ("value", "kind", "text"),
    [
        (["routing", "offcuts"], "aims", "Routed length; Offcuts used"),
        (["routing", "dreams"], "aims", "Routed length; dreams"),
        ([["Choir scores"], ["B1", "B2"]], "name-groups", "Choir scores; B1, B2"),
    ],
)
def test_names_are_shown_as_they_are_typed(value: Any, kind: Any, text: str) -> None:
    assert shown(value, kind, COMMA) == text
    assert stored(text, kind, COMMA, "mm") == value


def test_lists_are_shown_as_they_are_typed() -> None:
    value = [[14.62, 14.58], 14.5]
    assert shown(value, "lengths", POINT) == "(14.62 14.58); 14.5"
    assert shown(value, "lengths", COMMA) == "(14,62 14,58); 14,5"
    assert stored(shown(value, "lengths", COMMA), "lengths", COMMA, "mm") == value
    assert shown({"value": 6.1, "uncertainty": 0.05}, "length", POINT) == "6.1 ± 0.05"


@pytest.mark.parametrize(
    "text", ["", "7", "[]", '{"a": 1}', '["a", -1]', '["a", 1.5]', '["a", null]', "[" * 9]
)
def test_paths_that_are_none_are_refused(text: str) -> None:
    assert read_path(text) is None


def test_paths_travel_and_name_their_entry() -> None:
    field = Field(("opening", "width"), "Width").at("banks", 1)
    assert read_path(field.path_text) == ("banks", 1, "opening", "width")
    assert field.path_name == "banks[2].opening.width"
    data = {"banks": [{}, {"opening": {"width": 5}}]}
    assert value_at(data, field.path) == 5
    assert value_at(data, ("banks", 7, "opening")) is None
    assert value_at({"banks": "text"}, ("banks", "x")) is None


@pytest.mark.parametrize(
    ("groups", "typed"),
    [
        ([["A", "B"], ["C"]], "A, B; C"),
        ([["Reeds; oboe", "A"], ["Sheets, small"]], '"Reeds; oboe", A; "Sheets, small"'),
        ([['6" tray', '"best"']], '"6"" tray", """best"""'),
    ],
)
def test_names_that_hold_a_separator_are_quoted(groups: list[list[str]], typed: str) -> None:
    assert shown(groups, "name-groups", POINT) == typed
    assert stored(typed, "name-groups", POINT, "mm") == groups


def test_a_quote_within_a_name_needs_no_quotes_around_it() -> None:
    assert stored('6" tray, A; 5" box', "name-groups", POINT, "mm") == [['6" tray', "A"], ['5" box']]


NAMES = st.text(st.sampled_from("ab ;,\"'ß½"), min_size=1, max_size=8)


@given(st.lists(st.lists(NAMES, min_size=1, max_size=4), min_size=1, max_size=4))
def test_groups_of_names_go_through_their_field_and_back(groups: list[list[str]]) -> None:
    assert stored(shown(groups, "name-groups", POINT), "name-groups", POINT, "mm") == groups


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        ("Tray\t310\nBox\t220\n", [["Tray", "310"], ["Box", "220"]]),
        ("Tray\t\t\r\n\t310\t", [["Tray", "", ""], ["", "310", ""]]),
        ('"Tray ""A"""\t12 1/2"', [['Tray "A"', '12 1/2"']]),
        ('"two\nlines"\t"a\ttab"\nnext', [["two lines", "a\ttab"], ["next"]]),
        ('"not closed\t2\n3', [['"not closed', "2"], ["3"]]),
        ('12"\t"', [['12"', '"']]),
        ("", [[""]]),
    ],
)
def test_cells_of_a_spreadsheet(text: str, cells: list[list[str]]) -> None:
    """Quoting as RFC 4180 has it, with tabs for commas; a stray quote is a sign like any other."""
    assert cells_of(text) == cells


@pytest.mark.parametrize(
    ("price", "shows"), [(4.2, "4,20"), (68, "68,00"), (0.025, "0,025"), ("4.2 eur", "4.2 eur")]
)
def test_a_price_is_shown_to_the_hundredth(price: Any, shows: str) -> None:
    assert shown(price, "price", COMMA) == shows
    assert stored("4,20", "price", COMMA, "mm") == 4.2


@pytest.mark.parametrize(("reader", "word", "other"), [(POINT, "yes", "ja"), (GERMAN, "ja", "yes")])
def test_yes_is_shown_and_read_in_the_language_of_the_page(
    reader: Preferences, word: str, other: str
) -> None:
    use_language(reader.language)
    try:
        assert shown(True, "yes-or-name", reader) == word
        assert stored(word.upper(), "yes-or-name", reader, "mm") is True
        assert stored("top row", "yes-or-name", reader, "mm") == "top row"
        assert stored(other, "yes-or-name", reader, "mm") == other
    finally:
        use_language("en")


def test_a_text_is_one_line_however_it_was_pasted() -> None:
    """Its field is as many lines high as a long name needs."""
    assert stored("Threads,\r\nbobbins\nand buttons", "text", POINT, "mm") == "Threads, bobbins and buttons"
