"""How one person wants to read: unit, decimal sign, language, light or dark. Kept in a cookie.

Until they choose, a page of a job is in the job's own unit, and numbers are written as the language writes them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any, Literal

from starlette.requests import HTTPConnection

from drawerwright.basics.lengths import LengthStyle, Unit
from drawerwright.web.reader.words import LANGUAGES, best_language, wording

COOKIE = "drawerwright_reader"
DRAWN_FOR = "drawerwright-drawn-for"
"""The header, and the field of a form, in which a page tells the unit and the decimal sign that it shows."""
COOKIE_SECONDS = 5 * 365 * 24 * 3600
AS_IN_JOB, AS_IN_LANGUAGE = "job", "language"
"""What stands for the unit and for the decimal sign that nobody has chosen."""
UNITS: tuple[Unit, ...] = ("mm", "in", "in/64")
THEMES = ("system", "light", "dark")


@dataclass(frozen=True, slots=True)
class Preferences:
    """A reader's choices.

    `unit_of_job` and `sign_of_language` say that unit and decimal sign are none: the job's unit and the language's sign
    stand in for them.
    """

    language: str = "en"
    unit: Unit = "mm"
    decimal_sign: str = "."
    theme: str = "system"
    unit_of_job: bool = False
    sign_of_language: bool = False
    job_style: LengthStyle = field(default_factory=LengthStyle)
    """How the job that a page is about shows lengths: the steps of its sizes hold for everybody who reads its unit."""

    lengths: LengthStyle = field(init=False, compare=False, repr=False)
    """How lengths and texts are written for this reader."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "lengths", _lengths(self))

    def say(self, text: str) -> str:
        """A text as this reader reads it: a phrase in their language and units, anything else as it is."""
        return self.lengths.say(text)

    @property
    def typed_unit(self) -> Literal["mm", "in"]:
        """The unit of a bare number that this reader types."""
        return self.lengths.typed_unit

    def changed(self, wanted: Mapping[str, Any]) -> Preferences:
        """These choices with those of `wanted` that are understood."""
        result = self
        if wanted.get("language") in LANGUAGES:
            result = replace(result, language=str(wanted["language"]))
        for unit in UNITS:
            if wanted.get("unit") == unit:
                result = replace(result, unit=unit, unit_of_job=False)
        if wanted.get("unit") == AS_IN_JOB:
            result = replace(result, unit_of_job=True)
        if wanted.get("decimal_sign") in (".", ","):
            result = replace(result, decimal_sign=str(wanted["decimal_sign"]), sign_of_language=False)
        if wanted.get("decimal_sign") == AS_IN_LANGUAGE:
            result = replace(result, sign_of_language=True)
        if result.sign_of_language:
            result = replace(result, decimal_sign=usual_sign(result.language))
        if wanted.get("theme") in THEMES:
            result = replace(result, theme=str(wanted["theme"]))
        return result

    def on_page_of_job(self, unit: Unit, style: LengthStyle) -> Preferences:
        """These choices on a page of a job whose file is in `unit`, whose sizes go in the steps of `style`."""
        return replace(self, unit=unit if self.unit_of_job else self.unit, job_style=style)

    @property
    def drawn_for(self) -> str:
        """The unit and the decimal sign of a page, as it tells them with each value that it sends."""
        return f"{self.unit} {self.decimal_sign}"

    def as_drawn(self, told: str) -> Preferences:
        """These choices with the unit and the decimal sign of the page that a value comes from.

        They may have changed since in another tab, and what stands typed on the page is in those that it shows.
        """
        unit, _space, sign = told.partition(" ")
        return self.changed({"unit": unit, "decimal_sign": sign})

    def to_cookie(self) -> str:
        """The cookie's value."""
        sign = "comma" if self.decimal_sign == "," else "point"
        unit = AS_IN_JOB if self.unit_of_job else self.unit
        return f"{self.language}|{unit}|{AS_IN_LANGUAGE if self.sign_of_language else sign}|{self.theme}"


@lru_cache(maxsize=64)
def _lengths(reader: Preferences) -> LengthStyle:
    """Asked for with every figure of a page."""
    own = LengthStyle(reader.unit, "," if reader.decimal_sign == "," else ".", wording(reader.language))
    return reader.job_style.for_reader(own)


def usual_sign(language: str) -> str:
    """The decimal sign that a language writes."""
    return "," if language == "de" else "."


def read_preferences(request: HTTPConnection) -> Preferences:
    """The reader's choices, or what their browser asks for where they have made none."""
    language = best_language(request.headers.get("accept-language", ""))
    first = Preferences(language, "mm", usual_sign(language), unit_of_job=True, sign_of_language=True)
    bits = request.cookies.get(COOKIE, "").split("|")
    if len(bits) != 4:
        return first
    sign = {"comma": ",", AS_IN_LANGUAGE: AS_IN_LANGUAGE}.get(bits[2], ".")
    return first.changed({"language": bits[0], "unit": bits[1], "decimal_sign": sign, "theme": bits[3]})
