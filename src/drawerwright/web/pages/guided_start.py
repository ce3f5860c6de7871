"""A guided start: at most twelve entries to a first packet."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import Kind, name_of, shown, stored
from drawerwright.web.pages.parts.draft_taken import taken
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

Question = tuple[str, str, Kind, tuple[EntryPath, ...], str]
MILLIMETRES = Preferences()
"""The examples are written so."""
DOUBTFUL = ("mid_depth", "step")
"""What is measured, and known only so well."""


def questions() -> tuple[Question, ...]:
    """Name of the field, its label, kind, the entries it fills, and a figure to show what is meant."""
    sheet, bottoms = ("stock", "box", "sheets", 0), ("stock", "bottoms", "sheets", 0)
    opening = ("banks", 0, "opening")
    return (
        ("job", _("Name of the job"), "text", (("job",),), ""),
        (
            "mid_depth",
            _("Cutter: mid depth, from its top to the middle of the slope"),
            "length",
            (("cutter", "mid_depth"),),
            "6.1 ± 0.05",
        ),
        (
            "step",
            _("Cutter: step, how far the tooth stands out"),
            "length",
            (("cutter", "step"),),
            "3.8 ± 0.05",
        ),
        (
            "nominal",
            _("Stock of the boxes: nominal thickness"),
            "length",
            (("stock", "box", "nominal"),),
            "15",
        ),
        (
            "measured",
            _("Its measured thicknesses; leave blank if not measured yet"),
            "lengths",
            (("stock", "box", "measured"),),
            "14.6; 14.7",
        ),
        (
            "length",
            _("Sheets: length, along the grain"),
            "length",
            ((*sheet, "length"), (*bottoms, "length")),
            "2500",
        ),
        ("width", _("Sheets: width"), "length", ((*sheet, "width"), (*bottoms, "width")), "1250"),
        (
            "bottom",
            _("Stock of the bottoms: nominal thickness"),
            "length",
            (("stock", "bottoms", "nominal"),),
            "6.5",
        ),
        ("opening_width", _("Opening in the carcase: width"), "length", ((*opening, "width"),), "480"),
        ("opening_height", _("Opening: height"), "length", ((*opening, "height"),), "700"),
        ("opening_depth", _("Opening: depth"), "length", ((*opening, "depth"),), "450"),
        ("count", _("Number of drawers in it"), "whole", (("banks", 0, "fronts", "heights", "equal"),), "5"),
    )


def _for_reader(reader: Preferences) -> tuple[Question, ...]:
    """The questions with their examples in the reader's unit and decimal sign."""

    def example(text: str) -> str:
        return "; ".join(
            shown(stored(bit, "length", MILLIMETRES), "length", reader) for bit in text.split("; ")
        )

    return tuple(
        (name, label, kind, paths, example(text) if kind in ("length", "lengths") else text)
        for name, label, kind, paths, text in questions()
    )


def form(request: Request) -> Response:
    """The empty form."""
    return _form(request, {}, {}, 200)


def _form(request: Request, typed: Mapping[str, str], faults: Mapping[str, str], status: int) -> Response:
    context: dict[str, Any] = {
        "doubtful": DOUBTFUL,
        "questions": _for_reader(request.state.reader),
        "typed": typed,
        "faults": faults,
    }
    return shop_of(request).renderer.page(request, "guided.html", context, status=status)


async def make(request: Request) -> Response:
    """Make the job, or say beside each field what is wrong with it."""
    posted = await request.form()
    typed = {name: str(posted.get(name, ""))[:200] for name, *_rest in questions()}
    return taken(await asyncio.to_thread(_make, request, typed), posted)


def _make(request: Request, typed: Mapping[str, str]) -> Response:
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.file.first_jobs import SKELETON

    reader: Preferences = request.state.reader
    text = SKELETON
    places: dict[str, str] = {}
    for name, _label, kind, paths, _example in questions():
        for path in paths:
            value = stored(typed[name], kind, reader)
            if value is None:
                value = [] if kind == "lengths" else ""
            text = set_value(text, path, value)
            places[name_of(path)] = name
    faults: dict[str, str] = {}
    for fault in job_text.faults_of(text):
        name = next((name for place, name in places.items() if fault.field.startswith(place)), "")
        faults.setdefault(name, fault.message if name else str(fault))
    if faults:
        return _form(request, typed, faults, 422)
    shop = shop_of(request)
    job = shop.jobs.add(job_text.title_of(text), text, phrase("guided start"))
    return RedirectResponse(f"/jobs/{job.id}/drawers", 303)


ROUTES = (Route("/jobs/new", form), Route("/jobs/new", make, methods=["POST"]))
