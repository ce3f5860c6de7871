"""Phrases are strings that can be said in another language."""

from __future__ import annotations

import copy
import pickle
import string
from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.basics.phrases import phrase, said
from drawerwright.job.planning import open_job
from drawerwright.run.cautions import cautions
from drawerwright.web import words

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"

GERMAN = {"{what} is {size:.1f} mm": "{size:.1f} mm: {what}", "lip": "Lippe"}


def german(template: str) -> str:
    return GERMAN.get(template, template)


def test_a_phrase_is_its_english_text() -> None:
    made = phrase("{what} is {size:.1f} mm", what="step", size=4)
    assert made == "step is 4.0 mm"
    assert hash(made) == hash("step is 4.0 mm")


def test_template_and_phrases_within_are_translated_but_plain_words_stay() -> None:
    assert said(phrase("{what} is {size:.1f} mm", what=phrase("lip"), size=4), german) == "4.0 mm: Lippe"
    assert said(phrase("{what} is {size:.1f} mm", what="lip", size=4), german) == "4.0 mm: lip"
    assert said("lip", german) == "lip"


def test_copies_and_pickles_can_still_be_translated() -> None:
    made = phrase("{what} is {size:.1f} mm", what=phrase("lip"), size=4)
    for again in (copy.deepcopy(made), pickle.loads(pickle.dumps(made))):
        assert said(again, german) == "4.0 mm: Lippe"


def fields(template: str) -> set[str | None]:
    return {name for _text, name, _format, _conversion in string.Formatter().parse(template)} - {None}


@pytest.mark.parametrize(("diameter", "max_speed"), [(None, None), (44.5, None), (44.5, 9000.0)])
def test_every_caution_has_its_german(diameter: float | None, max_speed: float | None) -> None:
    job = open_job(EXAMPLE)
    words.use_language("de")
    try:
        for caution in cautions(replace(job.cutter, diameter=diameter, max_speed=max_speed), job.table, 150):
            german_template = words.gettext(caution.template)
            assert german_template != caution.template
            assert fields(german_template) == fields(caution.template)
            assert said(caution, words.gettext) != caution
    finally:
        words.use_language("en")
