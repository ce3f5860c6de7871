"""A cutter by points: where its middle is, and whether it mates with itself."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import parse_length
from drawerwright.store import ConflictError
from drawerwright.web import jobtext
from drawerwright.web.pages.frame import announced, job_id_of
from drawerwright.web.shop import shop_of
from drawerwright.web.words import gettext as _

ENDINGS = (".csv", ".txt", ".dxf")
LONGEST_POINTS = 200_000


async def find(request: Request) -> Response:
    """What the typed or loaded points say."""
    async with request.form(max_files=1, max_fields=6) as form:
        upload = form.get("file")
        name, raw = "points.csv", str(form.get("points", ""))[:LONGEST_POINTS].encode()
        if isinstance(upload, UploadFile) and upload.filename:
            name, raw = upload.filename, await upload.read()
        doubt = str(form.get("uncertainty", ""))[:40]
    return await asyncio.to_thread(_find, request, name, raw, doubt)


def _find(request: Request, name: str, raw: bytes, doubt: str) -> Response:
    from drawerwright.drawings.cutter_profile import draw_profile
    from drawerwright.drawings.svg import write_svg
    from drawerwright.job.profiles import read_profile
    from drawerwright.joints.mate import find_middle

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    ending = Path(name).suffix.lower()
    context = {"job": job, "fault": "", "mate": None, "picture": ""}
    try:
        if ending not in ENDINGS:
            given = {"name": name}
            raise InvalidValueError(
                _("A profile ends in .csv or .dxf; this file is called %(name)s.") % given
            )
        uncertainty = parse_length(doubt) if doubt.strip() else 0.0
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / f"profile{ending}"
            file.write_bytes(raw)
            measured = read_profile(file)
        mate = find_middle(measured.points, uncertainty=uncertainty)
    except (FaultyInputError, InvalidValueError) as error:
        context["fault"] = str(error)
    except UnicodeDecodeError as error:
        place = {"place": error.start}
        context["fault"] = _("This file is not UTF-8 text (byte %(place)d); save it as UTF-8.") % place
    else:
        context["mate"] = mate
        context["picture"] = write_svg(
            draw_profile(
                measured.points, mate.mid_depth.value, mate.step.value, style=request.state.reader.lengths
            ),
            ground=False,
        )
    return shop.renderer.page(request, "profile_part.html", context, status=422 if context["fault"] else 200)


async def use(request: Request) -> Response:
    """Take mid depth and step found from points over into the job's cutter."""
    form = await request.form()
    values = {name: str(form.get(name, ""))[:40] for name in ("mid_depth", "step")}
    return await asyncio.to_thread(_use, request, values)


def _use(request: Request, values: dict[str, str]) -> Response:
    from drawerwright.job.editing import set_value

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    text = job.text
    for name, value in values.items():
        text = set_value(text, ("cutter", name), value)
    try:
        kept = shop.jobs.save(
            job.id,
            text,
            title=jobtext.title_of(text),
            base=job.revision.number,
            note=_("cutter from its profile"),
        )
    except ConflictError:
        raise InvalidValueError(_("The job changes faster than this could be saved; try again.")) from None
    return announced(shop, kept)


ROUTES = (
    Route("/jobs/{job_id:int}/profile", find, methods=["POST"]),
    Route("/jobs/{job_id:int}/profile/use", use, methods=["POST"]),
)
