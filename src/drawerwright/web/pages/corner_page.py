"""The live section: what the wood does at any height and fence, beside the corner as it should be."""

from __future__ import annotations

import asyncio
import zlib
from collections.abc import Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import joined
from drawerwright.store.records import JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.pages.parts.corner_choice import bench_only, corner_links, shown_corner
from drawerwright.web.pages.parts.planned import drafted_page
from drawerwright.web.pages.parts.typed_corner import (
    MEASURES,
    ONE,
    in_address,
    room_of,
    typed_corner,
    typed_length,
    typed_measures,
    typed_split,
)
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle, Mm
    from drawerwright.job.pictures.corner_pictures import CornerPictures
    from drawerwright.job.planning.draft import Corner, JobDraft
    from drawerwright.job.tried_corner import TriedCorner

MOST_AHEAD = 40
"""Drawings in one answer, before a slider is there."""


def bench(request: Request) -> Response:
    """The page for a corner whose measures are typed here."""
    from drawerwright.job.file.usual_entries import cutter_kinds
    from drawerwright.job.tried_corner import FIRST_MEASURES

    typed = typed_measures(FIRST_MEASURES, request.state.reader)
    context = {
        "usual": typed,
        "typed": typed | in_address(request),
        "corners": (),
        "kinds": cutter_kinds(),
    }
    return shop_of(request).renderer.page(request, "corner.html", context)


def of_job(request: Request) -> Response:
    """The page for the corners of a job, at its settings."""
    return drafted_page(request, "corner", _("Corner"), "corner_part.html", _of_job)


def _of_job(request: Request, job: JobRecord, draft: JobDraft) -> Mapping[str, Any]:
    from drawerwright.job.file.usual_entries import cutter_kinds
    from drawerwright.job.kept_settings import keeps_settings, recommended_settings
    from drawerwright.job.tried_corner import measures_of, own_settings_of

    reader: Preferences = request.state.reader
    if not draft.corners:
        return bench_only(draft, reader.lengths)
    corner = shown_corner(draft.corners, request.query_params.get("corner", ""))
    own = own_settings_of(corner.setting, draft.job)
    typed = typed_measures(measures_of(corner.setting), reader)
    typed |= {name: typed_length(length, reader) for name, length in own.items()}
    usual = typed
    typed = usual | in_address(request)
    typed |= {"split": typed_split(corner, reader), "job": str(job.id), "of": corner.key.token}
    return {
        "usual": usual,
        "typed": typed,
        "kinds": cutter_kinds(),
        **corner_links(draft.corners, corner, reader.lengths),
        "in_job": corner.setting,
        "recommended": recommended_settings(draft.job)[corner.key],
        "is_kept": keeps_settings(draft.job),
        "play_words": corner.play_words(reader.lengths),
        **_odds(job, corner, reader),
        **_strength(draft, corner, reader),
    }


def _strength(draft: JobDraft, corner: Corner, reader: Preferences) -> Mapping[str, Any]:
    """Where a corner parts, drawn, and what the drawers bear that have it."""
    from drawerwright.job.pictures.corner_pictures import corner_parting
    from drawerwright.job.planning.corner_strengths import LINES_OF_ACTION, alike_joints, job_strengths

    strengths = job_strengths(draft)
    joints = strengths.of_corner(corner.key)
    if not joints:
        return {"strengths": ()}
    return {
        "strengths": alike_joints(joints),
        "weakest": joints[0],
        "parting": corner_parting(corner.setting, joints[0].known.weakest.line, reader.lengths),
        "strength_notes": strengths.notes,
        "lines_of_action": LINES_OF_ACTION,
        "strength_sources": [source.words for source in strengths.sources],
    }


def _odds(job: JobRecord, corner: Corner, reader: Preferences) -> Mapping[str, Any]:
    """How sure the first cut of a corner is: in words, drawn, and for all that is cut with it."""
    from drawerwright.job.pictures.doubt_pictures import first_cut_pictures
    from drawerwright.job.planning.odds_words import corner_words, percent

    every = job_text.odds_of(job.text)
    assert every is not None
    odds = every.of(corner.key)
    return {
        "odds": odds,
        "odds_words": corner_words(odds, reader.lengths),
        "odds_pictures": first_cut_pictures(odds, every.fit, reader.lengths),
        "together": every.together,
        "percent": percent,
    }


async def section(request: Request) -> Response:
    """The drawing and its figures for what the form holds now.

    A slider asks with every step, for the drawing alone (`only`), so nothing that takes time is put around it where no
    job is read.
    """
    if "job" in request.query_params:
        return await asyncio.to_thread(_section, request)
    return _section(request)


def _section(request: Request) -> Response:
    form, reader, query = _read(request), request.state.reader, request.query_params
    context: dict[str, Any] = {"faults": form.faults, "shown": None, "words": "", "state": {}}
    context["faults_said"] = {name: reader.say(fault) for name, fault in form.faults.items()}
    if not form.faults:
        try:
            tried = typed_corner(shop_of(request), form, reader).at(form.values)
            context |= _drawing(tried, reader, query)
            if query.get("only") == "drawing":
                return shop_of(request).renderer.page(request, "corner_drawing.html", context)
            context |= _around(tried, reader)
        except InvalidValueError as error:
            context |= {"shown": None, "words": str(error)}
    return shop_of(request).renderer.page(request, "corner_section.html", context)


def ahead(request: Request) -> Response:
    """The drawings that a slider comes to next: of the form, but that the setting which `moves` is `at` one value after
    the other. What cannot be drawn is left out: whoever comes there asks for it, and is told why."""
    from drawerwright.job.tried_corner import SETTINGS

    shop, query, reader = shop_of(request), request.query_params, request.state.reader
    name, drawings = query.get("moves", ""), {}
    if name not in SETTINGS:
        raise HTTPException(404)
    form = _read(request)
    corner = None if form.faults else typed_corner(shop, form, reader)
    for text in query.getlist("at")[:MOST_AHEAD]:
        moved = _read(request, {name: text})
        if corner is None or moved.faults:
            continue
        with suppress(InvalidValueError):
            tried = corner.at(moved.values)
            seated = _seated(tried, _pictures(tried, reader, query))
            drawings[text] = shop.renderer.text(request, "corner_seated.html", seated)
    return JSONResponse(drawings)


def _read(request: Request, instead: Mapping[str, str] | None = None) -> LengthsForm:
    """The form as far as it can be read, with some entries `instead` of its own; settings that are left empty are the
    recommended ones."""
    from drawerwright.job.tried_corner import SETTINGS

    typed = {**request.query_params, **(instead or {})}
    form = LengthsForm({name: value[:40] for name, value in typed.items()}, request.state.reader)
    form.read(MEASURES, over_zero=True)
    form.read(("lip",), least=0.0)
    form.read_angle("slope")
    given = [name for name in SETTINGS if form.typed.get(name, "").strip()]
    if form.typed.get("split", ONE) != ONE:
        given.append("split")
    form.read(given, over_zero=True)
    return form


def true_size(request: Request) -> Response:
    """The corner at the settings of the form at 1:1, to print and lay the wood on."""
    from drawerwright.job.pictures.corner_pictures import corner_at_true_size

    form = _read(request)
    if form.faults:
        raise InvalidValueError(
            joined((joined((name, words), ": ") for name, words in form.faults.items()), "; ")
        )
    reader: Preferences = request.state.reader
    tried = typed_corner(shop_of(request), form, reader).at(form.values)
    context = {"drawing": corner_at_true_size(tried, reader.lengths), "tried": tried.setting}
    return shop_of(request).renderer.page(request, "corner_print.html", context)


def _figure(length: Mm, style: LengthStyle) -> tuple[str, str]:
    """A setting in large figures, and what stands small beside them: its fraction of an inch."""
    return f"{style.typed(length)} {style.typed_unit}", style.beside(length)


def _drawing(tried: TriedCorner, reader: Preferences, query: Mapping[str, str]) -> Mapping[str, Any]:
    """How a corner seats that is tried, and how the recommended one should.

    `query` may say which drawing of the recommended one is there (`have`), and how wide its place is (`room`).
    """
    pictures = _pictures(tried, reader, query)
    play = tried.play_words(reader.lengths)
    mark = f"{zlib.crc32(repr((reader.language, play, tried.right, pictures.wanted)).encode()):x}"
    return {
        **_seated(tried, pictures),
        "right": tried.right,
        "meant": "" if mark == query.get("have") else pictures.wanted,
        "mark": mark,
        "play_words": play,
    }


def _pictures(tried: TriedCorner, reader: Preferences, query: Mapping[str, str]) -> CornerPictures:
    from drawerwright.job.pictures.corner_pictures import corner_pictures

    return corner_pictures(tried, reader.lengths, room_of(query.get("room", "")))


def _seated(tried: TriedCorner, pictures: CornerPictures) -> Mapping[str, Any]:
    """How a corner seats that is tried, drawn and in a word."""
    return {
        "shown": tried.fit,
        "seated": [pictures.pressed, pictures.pulled],
        "findings": tried.findings,
    }


def _around(tried: TriedCorner, reader: Preferences) -> Mapping[str, Any]:
    """What stands around the drawing: marks of the sliders, figures of the recommended settings, readings."""
    from drawerwright.job.tried_corner import SETTINGS, SLIDER_REACH

    style = reader.lengths
    return {
        "state": {
            "right": {name: getattr(tried.right, name) for name in SETTINGS},
            "now": {name: getattr(tried.setting, name) for name in SETTINGS},
            "reach": SLIDER_REACH,
            "fits": tried.fitting,
            "gauges": {name: _figure(length, style) for name, length in tried.on_gauges.items()},
            "off": tried.off_words(style),
            "words": style.say(tried.play_words(style, on_gauge=True)),
        },
        "readings": tried.readings,
    }


ROUTES = (
    Route("/corner", bench),
    Route("/jobs/{job_id:int}/corner", of_job),
    Route("/corner/section", section),
    Route("/corner/ahead", ahead),
    Route("/corner/print", true_size),
)
