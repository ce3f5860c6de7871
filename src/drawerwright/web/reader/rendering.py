"""Templates to answers: escaping, language and units in one place."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from contextvars import ContextVar
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse

from drawerwright import __version__
from drawerwright.basics.lengths import LengthStyle, Unit
from drawerwright.basics.phrases import Phrase, phrase, with_decimal_sign
from drawerwright.basics.unbroken import unbroken
from drawerwright.web.reader import help_texts, words
from drawerwright.web.reader.preferences import DRAWN_FOR, UNITS, Preferences, read_preferences

TEMPLATE_FOLDER = Path(__file__).parents[1] / "templates"

STATIC_FOLDER = Path(__file__).parents[1] / "static"
DECIMAL_SIGN = re.compile(r"(?<=\d)[.,](?=\d)")

_reader: ContextVar[Preferences] = ContextVar("reader")
_explained: ContextVar[set[str]] = ContextVar("explained")
"""Words that the answer explains already: each once."""


Shown = Callable[[Any, Preferences], str]


class Renderer:
    """The Jinja2 environment of the pages. Everything is escaped unless marked safe by its maker."""

    def __init__(self, shown: Mapping[str, Shown] | None = None) -> None:
        """`shown` are further filters of the templates, each with the reader as its second argument."""
        self._environment = Environment(
            loader=FileSystemLoader(TEMPLATE_FOLDER),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            extensions=["jinja2.ext.i18n"],
            auto_reload=False,  # else each template's file is asked for its age at every page
            finalize=_say,
        )
        self._environment.install_gettext_callables(  # type: ignore[attr-defined]
            words.gettext, words.ngettext, newstyle=True
        )
        for name in ("gettext", "ngettext"):
            self._environment.globals[name] = _with_phrases(self._environment.globals[name])
        filters: dict[str, Callable[..., Any]] = {
            "decimal": _decimal,
            "titled": lambda title: title or words.gettext("Job without a name"),
            "moment": _moment,
            "explain": _explain,
            "examples": _examples,
            "unparted": _unparted,
        }
        filters |= {name: _for_reader(show) for name, show in (shown or {}).items()}
        self._environment.filters |= {name: _each_time(made) for name, made in filters.items()}
        self._environment.globals.update(
            version=__version__,
            languages=words.LANGUAGES,
            units=UNITS,
            drawn_for=DRAWN_FOR,
            asset_mark=asset_mark(),
            say=_say,
            help_pages=help_texts.pages,
        )

    def text(self, request: Request, template: str, context: Mapping[str, Any]) -> str:
        """A template filled for the reader of `request`."""
        reader: Preferences = request.state.reader
        _use_reader(reader)
        _explained.set(set())
        return self._environment.get_template(template).render(
            request=request,
            reader=reader,
            mm=lambda value: unbroken(reader.lengths.show(value)),
            setting=lambda value: unbroken(reader.lengths.show_setting(value)),
            fine=lambda value: unbroken(reader.lengths.show(value, fine=True)),
            run_length=lambda value: unbroken(reader.lengths.show_run(value)),
            area=lambda value: unbroken(reader.lengths.show_area(value)),
            is_desk=getattr(request.state, "is_desk", False),
            **context,
        )

    def page(
        self,
        request: Request,
        template: str,
        context: Mapping[str, Any] | None = None,
        *,
        status: int = 200,
        headers: Mapping[str, str] | None = None,
    ) -> HTMLResponse:
        """An answer made from a template."""
        return HTMLResponse(self.text(request, template, context or {}), status, dict(headers or {}))


def _each_time(made: Callable[..., Any]) -> Callable[..., Any]:
    """A filter that is asked at every page: what it makes of a text that stands in a template is each reader's own, but
    would be kept with the template as the first reader had it."""

    @pass_context
    def shown(_page: Context, *given: Any) -> Any:
        return made(*given)

    return shown


def _for_reader(show: Shown) -> Callable[[Any], str]:
    return lambda value: show(value, _reader.get())


def set_reader(request: Request) -> None:
    """Read the preferences once per request and set the language; unit and decimal sign are those of the page that
    asks."""
    reader = read_preferences(request)
    request.state.reader = reader.as_drawn(request.headers.get(DRAWN_FOR, ""))
    _use_reader(request.state.reader)


def read_as_in_job(request: Request, unit: Unit, style: LengthStyle) -> None:
    """Show lengths in the steps of the job that the page is about, and in its unit where the reader has chosen none."""
    request.state.reader = request.state.reader.on_page_of_job(unit, style)
    _use_reader(request.state.reader)


def set_reader_of_form(request: Request, form: Mapping[str, Any]) -> None:
    """Take what a form says in the unit and with the decimal sign of the page that it stands on."""
    request.state.reader = request.state.reader.as_drawn(str(form.get(DRAWN_FOR, "")))
    _use_reader(request.state.reader)


def _use_reader(reader: Preferences) -> None:
    _reader.set(reader)
    words.use_language(reader.language)


def _with_phrases(translate: Any) -> Any:
    """A template's gettext function that also puts phrases among its variables into the reader's language, and parts no
    figure of what it says."""

    @pass_context
    def translated(context: Context, *messages: Any, **variables: Any) -> Any:
        said = translate(context, *messages, **{name: _say(value) for name, value in variables.items()})
        return type(said)(unbroken(said))

    return translated


def _decimal(number: str) -> str:
    """A number as Python writes it, with the decimal sign of the reader."""
    return with_decimal_sign(number, _reader.get().decimal_sign)


def _explain(text: str) -> Markup:
    """A text whose first word of the glossary explains itself, where the page has not explained it yet."""
    reader = _reader.get()
    said = reader.say(text)
    plain = said.unescape() if isinstance(said, Markup) else said  # a template's own words come as markup
    return Markup(help_texts.explained(reader.language, plain, _explained.get()))


IN_INCHES = {
    "6.1 ± 0.05": "0.240 ± 0.002",
    "3.6 ± 0.05": "0.142 ± 0.002",
    "2.6 ± 0.05": "0.102 ± 0.002",
    "14.6 ± 0.05": "0.575 ± 0.002",
    "0.05 ± 0.05": "0.002 ± 0.002",
    "(14.6 14.7); 14.5": "(0.575 0.579); 0.571",
    "9; 16.5": "0.375; 0.65",
    "4.2; 0\n7.4; 3.4\n11.6; 3.4": "0.165; 0\n0.291; 0.134\n0.457; 0.134",
}
"""Lengths that hints of fields give as examples, in mm, and what an inch reader would type there."""
EXAMPLE_LENGTH = re.compile(
    "|".join(rf"(?<![0-9.,]){re.escape(each)}".replace(r"\.", "[.,]") for each in IN_INCHES)
)


def _examples(hint: str) -> str:
    """A hint whose examples have the unit and the decimal sign of the reader and are not parted."""
    reader = _reader.get()
    if reader.typed_unit == "in":
        hint = EXAMPLE_LENGTH.sub(lambda found: IN_INCHES[found[0].replace(",", ".")], hint)
    return unbroken(DECIMAL_SIGN.sub(reader.decimal_sign, hint))


def _unparted(text: str) -> str:
    """A text, no trusted markup, whose figures no end of a line parts, as on paper.

    >>> _unparted("about 53 %, 11.40 mm")
    'about 53\\xa0%, 11.40\\xa0mm'
    """
    return unbroken(_say(text))


def _moment(kept: str) -> str:
    """A moment as the store keeps it (ISO 8601, UTC), by the clock on the wall of the shop."""
    here = datetime.fromisoformat(kept).astimezone()
    words = phrase(
        "{year:04d}-{month:02d}-{day:02d} {hour:02d}:{minute:02d}",
        year=here.year,
        month=here.month,
        day=here.day,
        hour=here.hour,
        minute=here.minute,
    )
    return _reader.get().say(words)


def _say(value: Any) -> Any:
    """What a template writes out: phrases in the language and units of the reader, with figures that no end of a line
    parts; all else as it is, since it may be what somebody typed."""
    return unbroken(_reader.get().say(value)) if isinstance(value, Phrase) else value


@cache
def asset_mark() -> str:
    """Changes whenever a static file changes, so that browsers may keep them for ever."""
    newest = max(
        (path.stat().st_mtime_ns for path in STATIC_FOLDER.rglob("*") if path.is_file()),
        default=0,
    )
    return f"{__version__}-{newest:x}"
