"""A guided start: a dozen entries to a first packet."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import BARE, Kind, name_of, stored
from drawerwright.web.pages.parts.draft_taken import taken
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.rendering import set_reader_of_form
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

MAY_BE_BLANK = ("measured", "bottom_measured")
"""What somebody may not know yet."""


@dataclass(frozen=True, slots=True)
class Question:
    """One thing asked: what it is, where it is measured, the entries it fills, an example in mm and one in inches."""

    name: str
    label: str
    hint: str
    kind: Kind
    paths: tuple[EntryPath, ...]
    example: str = ""
    example_inches: str = ""

    def shown_example(self, reader: Preferences) -> str:
        """The example as this reader would type it."""
        text = self.example_inches if reader.typed_unit == "in" and self.example_inches else self.example
        return text.replace(".", reader.decimal_sign)

    @property
    def is_plain(self) -> bool:
        """Whether digits and a decimal sign are all that it takes."""
        return self.kind == "whole" or (self.kind == "length" and bool(BARE.fullmatch(self.example)))


@dataclass(frozen=True, slots=True)
class Group:
    """Questions about one thing, beside the picture `picture` that shows what they ask."""

    title: str
    questions: tuple[Question, ...]
    picture: str = ""


def groups(reader: Preferences) -> tuple[Group, ...]:
    """What is asked."""
    box, bottoms = _stocks(reader)
    sheet, of_bottoms = ("stock", box, "sheets", 0), ("stock", bottoms, "sheets", 0)
    opening = ("banks", 0, "opening")
    return (
        Group(_("Job"), (Question("job", _("Name"), "", "text", (("job",),), _("Trays of the print room")),)),
        Group(
            _("Cutter"),
            (
                Question(
                    "mid_depth",
                    _("Mid depth"),
                    _("from the cutter's top to the middle of the slope"),
                    "length",
                    (("cutter", "mid_depth"),),
                    "6.1 ± 0.05",
                    "0.240 ± 0.002",
                ),
                Question(
                    "step",
                    _("Step"),
                    _("how far the tooth stands out"),
                    "length",
                    (("cutter", "step"),),
                    "3.8 ± 0.05",
                    "0.150 ± 0.002",
                ),
            ),
            "cutter",
        ),
        Group(
            _("Stock"),
            (
                Question(
                    "nominal",
                    _("Box: nominal thickness"),
                    _("as it is sold, for fronts, sides and backs"),
                    "length",
                    (("stock", box, "nominal"),),
                    "15",
                    "1/2",
                ),
                Question(
                    "measured",
                    _("Box: as measured"),
                    _("in several places; leave blank if not measured yet"),
                    "lengths",
                    (("stock", box, "measured"),),
                    "14.6; 14.7",
                    "0.472; 0.476",
                ),
                Question(
                    "bottom",
                    _("Bottoms: nominal thickness"),
                    _("as it is sold"),
                    "length",
                    (("stock", bottoms, "nominal"),),
                    "6.5",
                    "1/4",
                ),
                Question(
                    "bottom_measured",
                    _("Bottoms: as measured"),
                    _("the groove follows from it; leave blank if not measured yet"),
                    "lengths",
                    (("stock", bottoms, "measured"),),
                    "6.3; 6.4",
                    "0.210; 0.214",
                ),
                Question(
                    "length",
                    _("Sheets: length"),
                    _("along the grain"),
                    "length",
                    ((*sheet, "length"), (*of_bottoms, "length")),
                    "2500",
                    "96",
                ),
                Question(
                    "width",
                    _("Sheets: width"),
                    _("across the grain"),
                    "length",
                    ((*sheet, "width"), (*of_bottoms, "width")),
                    "1250",
                    "48",
                ),
            ),
            "sheet",
        ),
        Group(
            _("Opening in the carcase"),
            (
                Question(
                    "opening_width",
                    _("Width"),
                    _("inside"),
                    "length",
                    ((*opening, "width"),),
                    "480",
                    "18 1/2",
                ),
                Question(
                    "opening_height", _("Height"), _("inside"), "length", ((*opening, "height"),), "700", "28"
                ),
                Question(
                    "opening_depth",
                    _("Depth"),
                    _("from the front edge back"),
                    "length",
                    ((*opening, "depth"),),
                    "450",
                    "17 3/4",
                ),
                Question(
                    "count",
                    _("Number of drawers"),
                    _("all alike; you can change them later"),
                    "whole",
                    (("banks", 0, "fronts", "heights", "equal"),),
                    "5",
                ),
            ),
            "opening",
        ),
    )


def _stocks(reader: Preferences) -> tuple[str, str]:
    from drawerwright.job.file.first_jobs import BOTTOM, BOX

    return reader.say(BOX), reader.say(BOTTOM)


def _questions(reader: Preferences) -> list[Question]:
    return [question for group in groups(reader) for question in group.questions]


def form(request: Request) -> Response:
    """The empty form."""
    return _form(request, {}, {}, 200)


def _form(request: Request, typed: Mapping[str, str], faults: Mapping[str, str], status: int) -> Response:
    context: dict[str, Any] = {"groups": groups(request.state.reader), "typed": typed, "faults": faults}
    return shop_of(request).renderer.page(request, "guided.html", context, status=status)


async def make(request: Request) -> Response:
    """Make the job, or say beside each field what is wrong with it."""
    posted = await request.form()
    set_reader_of_form(request, posted)
    names = [question.name for question in _questions(request.state.reader)]
    typed = {name: str(posted.get(name, ""))[:200] for name in names}
    return taken(await asyncio.to_thread(_make, request, typed), posted)


def _make(request: Request, typed: Mapping[str, str]) -> Response:
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.file.first_jobs import skeleton

    reader: Preferences = request.state.reader
    text = skeleton(reader.lengths)
    places: dict[str, str] = {}
    faults: dict[str, str] = {}
    for question in _questions(reader):
        value = stored(typed[question.name], question.kind, reader, reader.typed_unit)
        if value is None and question.name not in MAY_BE_BLANK:
            faults[question.name] = phrase("is missing")
        for path in question.paths:
            text = set_value(
                text, path, ([] if question.kind == "lengths" else "") if value is None else value
            )
            places[name_of(path)] = question.name
    for fault in job_text.faults_of(text):
        names = _asked_at(fault.field, places)
        faults.setdefault(names[0] if names else "", fault.message)
        for name in names[1:]:
            faults.setdefault(name, "")
    if faults:
        return _form(request, typed, faults, 422)
    shop = shop_of(request)
    job = shop.jobs.add(job_text.title_of(text), text, phrase("guided start"))
    return RedirectResponse(f"/jobs/{job.id}", 303)


def _asked_at(field: str, places: Mapping[str, str]) -> list[str]:
    """The questions whose entry is faulty; of a section that is faulty as a whole, all of its questions."""
    exact = [name for place, name in places.items() if field.startswith(place)]
    return exact or ([name for place, name in places.items() if place.startswith(field)] if field else [])


ROUTES = (Route("/jobs/new", form), Route("/jobs/new", make, methods=["POST"]))
