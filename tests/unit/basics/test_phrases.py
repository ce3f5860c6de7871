"""Phrases are strings that each reader gets in their own language, unit and decimal sign."""

from __future__ import annotations

import copy
import pickle

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, millimetres
from drawerwright.basics.phrases import Wording, joined, phrase, plural, said

GERMAN = {
    "{what} is {size:.1f} high": "{size:.1f} hoch: {what}",
    "lip": "Lippe",
    "only {roof} are left.": "Es bleiben nur {roof}.",
    "{count} band": ("{count} Band", "{count} Bänder"),
}


def german_one(template: str) -> str:
    found = GERMAN.get(template, template)
    return found if isinstance(found, str) else found[0]


def german_many(one: str, many: str, count: int) -> str:
    return GERMAN[one][0 if count == 1 else 1]


GERMAN_READER = LengthStyle("mm", ",", Wording("de", german_one, german_many))


def test_a_phrase_is_its_english_text() -> None:
    made = phrase("{what} is {size:.1f} high", what="step", size=4)
    assert made == "step is 4.0 high"
    assert hash(made) == hash("step is 4.0 high")


def test_template_and_phrases_within_are_translated_but_plain_words_stay() -> None:
    say = GERMAN_READER.say
    assert say(phrase("{what} is {size:.1f} high", what=phrase("lip"), size=4)) == "4,0 hoch: Lippe"
    assert say(phrase("{what} is {size:.1f} high", what="lip", size=4)) == "4,0 hoch: lip"
    assert say("lip") == "lip"


def test_copies_and_pickles_can_still_be_translated() -> None:
    made = phrase("{what} is {size:.1f} high", what=phrase("lip"), size=4)
    for again in (copy.deepcopy(made), pickle.loads(pickle.dumps(made))):
        assert said(again, GERMAN_READER) == "4,0 hoch: Lippe"


@pytest.mark.parametrize(
    ("style", "expected"),
    [
        (LengthStyle(), "only 25.40 mm are left."),
        (LengthStyle("in"), "only 1.000 in are left."),
        (GERMAN_READER, "Es bleiben nur 25,40 mm."),
    ],
)
def test_lengths_are_written_in_the_unit_of_the_reader(style: LengthStyle, expected: str) -> None:
    assert style.say(phrase("only {roof} are left.", roof=millimetres(25.4))) == expected


def test_counts_choose_between_one_and_many() -> None:
    for count, english, german in ((1, "1 band", "1 Band"), (3, "3 bands", "3 Bänder")):
        made = plural("{count} band", "{count} bands", count)
        assert made == english
        assert GERMAN_READER.say(made) == german
        assert GERMAN_READER.say(copy.deepcopy(made)) == german


def test_texts_in_a_row_are_translated_one_by_one() -> None:
    made = joined((phrase("lip"), "A1 {x}"), " {} ")
    assert made == "lip {} A1 {x}"
    assert GERMAN_READER.say(made) == "Lippe {} A1 {x}"


def test_numbers_carry_the_decimal_sign_and_others_stay_as_they_are() -> None:
    made = phrase("{speed:,.0f} 1/min, {share:.1f} %, {given!r}", speed=18000, share=2.5, given=14.5)
    assert GERMAN_READER.say(made) == "18.000 1/min, 2,5 %, 14.5"


def test_the_text_of_an_error_is_still_a_phrase() -> None:
    error = InvalidValueError(phrase("lip"))
    assert GERMAN_READER.say(str(error)) == "Lippe"
