from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import SIZE_STEP, LengthStyle, millimetres, show_length, to_step
from drawerwright.basics.phrases import phrase, said
from drawerwright.basics.typed_lengths import parse_length


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("14.65", 14.65),
        ("14,65", 14.65),
        ("14.65 mm", 14.65),
        ("3/4 in", 19.05),
        ('1 1/8"', 28.575),
        ("0.720in", 18.288),
        ("2'", 609.6),
        ("2' 3 1/2\"", 698.5),
        ("1½″", 38.1),
        ("-0.5", -0.5),
        (" 7 MM ", 7),
        (12, 12),
        (0.0001, 0.0001),
    ],
)
def test_what_is_accepted(text: str | float, mm: float) -> None:
    """One inch is 25.4 mm exactly (international yard and pound agreement of 1959)."""
    assert parse_length(text) == pytest.approx(mm, abs=1e-12)


@pytest.mark.parametrize(
    "text", ["", "abc", "1/0", "1.2.3", "14 65", "3/4/5", "5 furlong", "nan", "1e3", "''", "--3"]
)
def test_what_is_refused_says_what_was_read(text: str) -> None:
    with pytest.raises(InvalidValueError) as caught:
        parse_length(text)
    assert repr(text) in str(caught.value)
    assert "3/4 in" in str(caught.value)


@pytest.mark.parametrize("value", [math.nan, math.inf, True, None, [1]])
def test_values_that_are_no_lengths(value: object) -> None:
    with pytest.raises(InvalidValueError):
        parse_length(value)  # type: ignore[arg-type]


@given(st.floats(-5000, 5000))
def test_shown_lengths_read_back(length: float) -> None:
    assert parse_length(show_length(length, fine=True)) == pytest.approx(length, abs=0.005 + 1e-9)
    assert parse_length(show_length(length, "in", fine=True)) == pytest.approx(length, abs=0.0127 + 1e-9)
    comma = show_length(length, fine=True, decimal_sign=",")
    assert "." not in comma
    assert parse_length(comma) == pytest.approx(length, abs=0.005 + 1e-9)


@given(st.integers(-64 * 100, 64 * 100))
def test_sixty_fourths_read_back_exactly(count: int) -> None:
    length = count / 64 * 25.4
    assert parse_length(show_length(length, "in/64")) == pytest.approx(length, abs=1e-9)


def test_a_size_that_is_no_sixty_fourth_is_one_figure_too() -> None:
    """In steps of 0.005 in: 3/4 in and 0.1 mm are 0.7539 in; a sixty-fourth stays one, as meant and as cut."""
    assert show_length(19.05 + 0.1, "in/64") == "0.755 in"
    assert show_length(19.05 - 0.1, "in/64") == "0.745 in"
    for size in (57 / 64 * 25.4, to_step(57 / 64 * 25.4, SIZE_STEP["in"])):
        assert show_length(size, "in/64") == "57/64 in"
    assert show_length(0, "in/64") == "0 in"


def test_sixty_fourths_have_a_sign_below_nought() -> None:
    assert show_length(-0.15, "in/64") == "−0.005 in"
    assert show_length(0.1, "in/64") == "0.005 in"
    assert show_length(-2.0, "in/64") == "−5/64 in"  # 0.080 in, and 5/64 in is 0.0781 in
    assert show_length(-19.05 + 0.1, "in/64") == "−0.745 in"
    assert show_length(-0.004, "in/64") == "0 in"


@given(st.floats(-500.0, 500.0, allow_nan=False))
def test_what_is_shown_in_sixty_fourths_is_the_number_of_a_workbook(length: float) -> None:
    style = LengthStyle("in/64")
    assert parse_length(style.show(length)) == pytest.approx(style.number(length) * 25.4, abs=1e-3)


def test_a_size_from_inches_has_no_more_decimals_than_it_deserves() -> None:
    """11/16 in is 17.4625 mm."""
    given = millimetres(11 / 16 * 25.4, "g")
    assert str(given) == given.written_for(LengthStyle()) == "17.46 mm"
    assert given.written_for(LengthStyle("in/64")) == "11/16 in"
    assert str(millimetres(0.0004, "g")) == "0.0004 mm"


def test_zero_has_no_sign() -> None:
    assert show_length(-0.001) == "0.0 mm"


@pytest.mark.parametrize("typed", ["1000000", "400 ft", "9" * 90, 1e308, -1e6, 10**400])
def test_no_length_is_longer_than_anything_in_a_shop(typed: str | float) -> None:
    """100 m is our own limit; 400 ft is 121.92 m by the definition of the foot."""
    with pytest.raises(InvalidValueError, match="longer than 100 m, the limit for a length") as raised:
        parse_length(typed)
    assert len(str(raised.value)) < 150


@pytest.mark.parametrize("typed", ["9" * 5000, "1/" + "9" * 5000])
def test_more_digits_than_can_be_read_are_no_length(typed: str) -> None:
    with pytest.raises(InvalidValueError, match="cannot read"):
        parse_length(typed)


@pytest.mark.parametrize(
    ("drill", "in_mm", "in_inches"),
    [(5.0, "5 mm", "0.197 in"), (4.7625, "4.76 mm", "3/16 in"), (533.4, "533 mm", "21 in")],
)
def test_a_drill_is_told_as_it_is_bought(drill: float, in_mm: str, in_inches: str) -> None:
    """5 mm are 0.19685 in, 3/16 in 0.1875 (international inch, 1959): no step of a saw rounds a drill, and what is
    a fraction is sold as one."""
    told = phrase("drill {size}", size=LengthStyle("in").bought(drill))
    assert told == f"drill {in_inches}"
    assert said(told, LengthStyle("in")) == f"drill {in_inches}"
    assert said(told, LengthStyle()) == f"drill {in_mm}"


@pytest.mark.parametrize(
    ("typed", "plain"), [("1.455,2", "1455,2"), ("1,455.2 mm", "1455.2 mm"), ("12 500", "12500")]
)
def test_a_length_with_its_thousands_grouped_is_shown_without(typed: str, plain: str) -> None:
    with pytest.raises(InvalidValueError, match=f"groups the thousands, as in {plain}$"):
        parse_length(typed)


def test_a_length_beyond_any_shop_is_repeated_with_the_unit_it_was_read_in() -> None:
    with pytest.raises(InvalidValueError, match="'99999999 in' is longer than 100 m"):
        parse_length("99999999", default_unit="in")


@pytest.mark.parametrize("typed", ["18,3 18,25 18,31", "18.3, 18.25", "18.3 mm 0.72in"])
def test_several_lengths_in_one_place_are_told_what_parts_them(typed: str) -> None:
    with pytest.raises(InvalidValueError, match="more than one length: where several may stand, a semicolon"):
        parse_length(typed)
