"""A cutter by points: where its middle is, whether it mates with itself, and keeping the points in the job."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics import usual
from drawerwright.basics.errors import FaultyInputError, InvalidValueError, MissingLibraryError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.cutter_places import cutter_place
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.entry_types import parse_estimate
from drawerwright.web.fields import job_text
from drawerwright.web.pages.parts.changes_by_hand import changes_by_hand
from drawerwright.web.pages.parts.draft_taken import draft_mark, taken
from drawerwright.web.pages.parts.job_frame import job_id_of, save_and_announce
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.measured_cutter import ReadProfile

LONGEST_POINTS = 200_000
MEASURES = ("mid_depth", "step", "slope")
"""What is kept of a picture whose profile is straight."""


async def find(request: Request) -> Response:
    """What the typed or loaded points say."""
    async with request.form(max_files=1, max_fields=14) as form:
        upload = form.get("file")
        name, raw = "points.csv", str(form.get("points", ""))[:LONGEST_POINTS].encode()
        if isinstance(upload, UploadFile) and upload.filename:
            name, raw = upload.filename, await upload.read()
        doubt, cutter = (str(form.get(name, ""))[:80] for name in ("uncertainty", "cutter"))
        mark = draft_mark(form)
        calipers = [str(form.get(name, ""))[:80] for name in ("thickness", "slice_height")]
        edits = changes_by_hand({name: str(form.get(name, ""))[:400] for name in form}, "file")
    kept = {"of": cutter, "draft": mark, "edits": edits}
    return await asyncio.to_thread(_find, request, name, raw, doubt, calipers, kept)


def _find(
    request: Request, name: str, raw: bytes, doubt: str, calipers: Sequence[str], form: Mapping[str, str]
) -> Response:
    from drawerwright.job.measured_cutter import judge_points, profile_points
    from drawerwright.job.scan.scanned_profile import profile_of_picture
    from drawerwright.job.scan.shown_section import is_picture

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    context: dict[str, Any] = {"job": job, "fault": "", "mate": None, "picture": "", "scanned": None, **form}
    try:
        uncertainty = parse_length(doubt) if doubt.strip() else None
        if is_picture(name):
            kind = value_at(data, (*cutter_place(data, form["of"]).path, "kind"))
            scanned = profile_of_picture(
                name,
                raw,
                kind,
                _caliper(calipers[0], request, usual.CALIPER_READING),
                _caliper(calipers[1], request, usual.SLICE_READING),
                form["edits"],
            )
            context["scanned"] = scanned
            points, uncertainty = scanned.points, uncertainty or scanned.uncertainty
        else:
            points = profile_points(name, raw)
        found = judge_points(
            points, uncertainty, data, job_text.job_of(job.text), cutter_place(data, form["of"]).path
        )
        context |= profile_look(found, request.state.reader)
    except (FaultyInputError, InvalidValueError, MissingLibraryError) as error:
        context["fault"] = str(error)
    except UnicodeDecodeError as error:
        place = {"place": error.start}
        context["fault"] = _("This file is not UTF-8 text (byte %(place)d); save it as UTF-8.") % place
    return shop.renderer.page(request, "profile_part.html", context, status=422 if context["fault"] else 200)


def _caliper(typed: str, request: Request, doubt: Mm) -> Estimate | None:
    if not typed.strip():
        return None
    unit = request.state.reader.typed_unit
    return parse_estimate(typed, partial(parse_length, default_unit=unit), usual=doubt)


def profile_look(found: ReadProfile, reader: Preferences) -> dict[str, Any]:
    """What a template shows of a measured profile: the verdict, the picture, the points as they are kept."""
    from drawerwright.job.pictures.cutter_pictures import profile_picture

    return {
        "mate": found.mate,
        "picture": profile_picture(found.points, found.mate, reader.lengths),
        "kept_points": found.points_text,
        "kept_uncertainty": found.uncertainty_text,
    }


async def use(request: Request) -> Response:
    """Keep points as the profile of a cutter of the job, or the measures that a picture tells; or, without either, what
    its points were found to mean."""
    form = await request.form(max_files=0, max_fields=6)
    points = str(form.get("points", ""))[:LONGEST_POINTS]
    doubt, cutter = (str(form.get(name, ""))[:80] for name in ("uncertainty", "cutter"))
    measures = {name: str(form[name])[:80] for name in MEASURES if name in form}
    return taken(await asyncio.to_thread(_use, request, points, doubt, cutter, measures), form)


def _use(request: Request, points: str, doubt: str, cutter: str, measures: Mapping[str, str]) -> Response:
    from drawerwright.job.measured_cutter import with_measures, with_points, without_points

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    place = cutter_place(job_text.data_of(job.text), cutter).path
    if len(measures) == len(MEASURES):
        text, note = with_measures(job.text, **measures, place=place), phrase("cutter by its picture")
    elif points.strip():
        text, note = with_points(job.text, points, doubt, place), phrase("cutter by its profile")
    else:
        text = without_points(job.text, job_text.job_of(job.text), place)
        note = phrase("cutter without its profile")
    return save_and_announce(shop, job, text, note)


ROUTES = (
    Route("/jobs/{job_id:int}/profile", find, methods=["POST"]),
    Route("/jobs/{job_id:int}/profile/use", use, methods=["POST"]),
)
