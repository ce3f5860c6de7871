"""Forms of lengths: what a reader sees in a field means the same when it is sent back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.lengths import MM_PER_INCH
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.reader.preferences import UNITS, Preferences

READERS = st.builds(
    Preferences,
    language=st.sampled_from(["en", "de"]),
    unit=st.sampled_from(UNITS),
    decimal_sign=st.sampled_from([".", ","]),
)
FINE = {"mm": 0.005, "in": 0.0005 * MM_PER_INCH, "in/64": 0.0005 * MM_PER_INCH}
"""Half of the last digit that each unit shows (mm)."""


@given(READERS.filter(lambda reader: reader.unit != "in/64"), st.floats(0.01, 3000))
def test_what_a_field_shows_is_read_as_what_it_was(reader: Preferences, length: float) -> None:
    shown = reader.lengths.show(length, fine=True, with_unit=False)
    form = LengthsForm({"flat": shown}, reader)
    form.read(["flat"])
    assert form.faults == {}
    assert form.values["flat"] == pytest.approx(length, abs=FINE[reader.unit] + 1e-9)


@given(READERS, st.text(max_size=12))
def test_every_text_is_a_length_or_a_fault_beside_its_field(reader: Preferences, typed: str) -> None:
    form = LengthsForm({"flat": typed, "upright": "15"}, reader)
    form.read(["flat", "upright", "lip"])
    assert ("flat" in form.values) is not ("flat" in form.faults)
    assert form.values["upright"] == 15 * (1 if reader.unit == "mm" else MM_PER_INCH)
    assert "lip" in form.faults


@pytest.mark.parametrize(
    ("typed", "limits", "fault"),
    [
        ("0", {"over_zero": True}, "must be more than 0, not 0 mm"),
        ("-2", {"over_zero": True}, "must be more than 0, not -2 mm"),
        ("-0.1", {"least": 0.0}, "must be 0 or more, not -0.1 mm"),
        ("wide", {}, "cannot read 'wide' as a length"),
    ],
)
def test_a_length_beyond_its_limit_says_so(typed: str, limits: dict[str, float], fault: str) -> None:
    form = LengthsForm({"lip": typed}, Preferences())
    form.read(["lip"], **limits)  # type: ignore[arg-type]
    assert form.values == {}
    assert form.faults["lip"].startswith(fault)


@pytest.mark.parametrize(
    ("typed", "angle"),
    [("45", 45.0), ("54,5 °", 54.5), (" 30° ", 30.0), ("0", None), ("90", None), ("steep", None), ("", None)],
)
def test_an_angle_lies_between_level_and_upright(typed: str, angle: float | None) -> None:
    form = LengthsForm({"slope": typed}, Preferences())
    form.read_angle("slope")
    assert form.values.get("slope") == angle
    assert ("slope" in form.faults) is (angle is None)
