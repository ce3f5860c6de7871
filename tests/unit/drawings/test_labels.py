"""Words inside rectangles stay inside, as large as fit; letters for notes are all different."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from drawerwright.drawings.labels import SIZES, fitted_label, note_letter
from drawerwright.drawings.scene import Fill, Point, Text

WORDS = st.lists(
    st.sampled_from(["A1", "A1 left side", "Score chest", "312.4 × 118.0 mm", "Anschlag, hochkant"]),
    min_size=1,
    max_size=3,
)
LENGTHS = st.floats(1.0, 120.0)


def rectangle(width: float, height: float) -> tuple[Point, ...]:
    return (10.0, 20.0), (10.0 + width, 20.0), (10.0 + width, 20.0 + height), (10.0, 20.0 + height)


def texts(words: list[str], width: float, height: float, ends: float = 0.8) -> list[Text]:
    items = fitted_label(words, rectangle(width, height), Fill.WOOD, ends=ends)
    assert all(isinstance(item, Text) for item in items)
    return [item for item in items if isinstance(item, Text)]


@given(WORDS, LENGTHS, LENGTHS, st.floats(0.8, 6.0))
def test_a_label_stays_inside_its_rectangle(
    words: list[str], width: float, height: float, ends: float
) -> None:
    for text in texts(words, width, height, ends):
        for x, y in text.corners():
            assert x + 1e-6 >= 10.0
            assert x <= 10.0 + width + 1e-6
            assert y + 1e-6 >= 20.0
            assert y <= 20.0 + height + 1e-6
        if not text.angle:
            assert min(x for x, _ in text.corners()) >= 10.0 + ends - 1e-6


@given(WORDS, LENGTHS, LENGTHS)
def test_a_label_says_its_first_words_or_nothing_and_never_less_in_more_room(
    words: list[str], width: float, height: float
) -> None:
    found = texts(words, width, height)
    said = " ".join(text.text for text in found)
    assert not found or words[0] in said
    wider = " ".join(text.text for text in texts(words, 2 * width, 2 * height))
    assert sum(word in wider for word in words) >= sum(word in said for word in words)
    assert {text.size for text in found} <= set(SIZES)
    assert len({text.size for text in found}) <= 1


def test_words_are_turned_only_where_that_says_more() -> None:
    assert [text.angle for text in texts(["A1 left side"], 60.0, 8.0)] == [0.0]
    assert {text.angle for text in texts(["A1 left side"], 5.0, 60.0)} == {90.0}
    assert texts(["A1 left side"], 3.0, 3.0) == []


@given(st.integers(0, 2000))
def test_note_letters_go_on_after_z(number: int) -> None:
    """As columns of a spreadsheet are named: base 26 without a zero."""
    value = 0
    for letter in note_letter(number):
        value = 26 * value + ord(letter) - ord("a") + 1
    assert value == number + 1
