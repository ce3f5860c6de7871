"""A cutter by points: where its middle is, whether it mates with itself, and keeping the points in the job."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path
from typing import Any

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics import usual
from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import parse_length
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import value_at
from drawerwright.web.fields import job_text
from drawerwright.web.pages.parts.job_frame import job_id_of, save_and_announce
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

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
    from drawerwright.job.file.model import MOST_POINTS
    from drawerwright.job.file.profiles import read_profile

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    ending = Path(name).suffix.lower()
    context: dict[str, Any] = {"job": job, "fault": "", "mate": None, "picture": ""}
    try:
        if ending not in ENDINGS:
            given = {"name": name}
            raise InvalidValueError(
                _("A profile ends in .csv or .dxf; this file is called %(name)s.") % given
            )
        uncertainty = parse_length(doubt) if doubt.strip() else None
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / f"profile{ending}"
            file.write_bytes(raw)
            points = read_profile(file).points
        if len(points) > MOST_POINTS:
            count = {"count": len(points), "most": MOST_POINTS}
            raise InvalidValueError(
                _("The profile has %(count)d points, and a job keeps %(most)d at most: leave some out.")
                % count
            )
        context |= profile_look(job.text, points, uncertainty, request.state.reader)
    except (FaultyInputError, InvalidValueError) as error:
        context["fault"] = str(error)
    except UnicodeDecodeError as error:
        place = {"place": error.start}
        context["fault"] = _("This file is not UTF-8 text (byte %(place)d); save it as UTF-8.") % place
    return shop.renderer.page(request, "profile_part.html", context, status=422 if context["fault"] else 200)


def profile_look(
    text: str, points: tuple[tuple[float, float], ...], uncertainty: float | None, reader: Preferences
) -> dict[str, Any]:
    """What a template shows of a measured profile: the verdict, the picture, the points as they are kept.

    Raises:
        InvalidValueError: the points have no middle.
    """
    from drawerwright.drawings.cutter_profile import draw_profile
    from drawerwright.drawings.svg import write_svg
    from drawerwright.job.file.cutters import middle_of
    from drawerwright.joints.mating import mating
    from drawerwright.joints.registry import USUAL

    found = job_text.job_of(text)
    thickest = None if found is None else max(stock.thickness.value for stock in found.stock.values())
    kind = value_at(job_text.data_of(text), ("cutter", "kind"))
    through = mating(USUAL if kind is None else str(kind)).through(thickest)
    mate = middle_of(points, usual.PROFILE_INSET if uncertainty is None else uncertainty, through)
    drawing = draw_profile(points, mate.mid_depth.value, mate.step.value, style=reader.lengths)
    return {
        "mate": mate,
        "picture": write_svg(drawing, ground=False),
        "kept_points": "\n".join(f"{depth:.4f}; {inset:.4f}" for depth, inset in points),
        "kept_uncertainty": "" if uncertainty is None else f"{uncertainty:g}",
    }


async def use(request: Request) -> Response:
    """Keep points as the profile of the job's cutter; or, without points, keep what they were found to mean."""
    form = await request.form(max_files=0, max_fields=4)
    points = str(form.get("points", ""))[:LONGEST_POINTS]
    doubt = str(form.get("uncertainty", ""))[:40]
    return await asyncio.to_thread(_use, request, points, doubt)


def _use(request: Request, points: str, doubt: str) -> Response:
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.file.entry_types import written_estimate
    from drawerwright.job.file.profiles import parse_profile

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    text = job.text
    values: dict[str, Any] = dict.fromkeys(("profile", "points", "profile_uncertainty"))
    if points.strip():
        uncertainty = parse_length(doubt) if doubt.strip() else None
        rounded = [[round(depth, 4) + 0.0, round(inset, 4) + 0.0] for depth, inset in parse_profile(points)]
        values |= {"points": rounded, "profile_uncertainty": uncertainty}
        # They follow from the profile now.
        values |= dict.fromkeys(("mid_depth", "step", "slope"))
        note = phrase("cutter by its profile")
    else:
        cutter = found.cutter if (found := job_text.job_of(text)) is not None else None
        if cutter is not None:
            for name, estimate in (("mid_depth", cutter.mid_depth), ("step", cutter.step)):
                values[name] = written_estimate(estimate)
            values["slope"] = round(cutter.slope_angle, 1)
        note = phrase("cutter without its profile")
    data = job_text.data_of(text)
    for name, value in values.items():
        if value is not None or value_at(data, ("cutter", name)) is not None:
            text = set_value(text, ("cutter", name), value)
    return save_and_announce(shop, job, text, note)


ROUTES = (
    Route("/jobs/{job_id:int}/profile", find, methods=["POST"]),
    Route("/jobs/{job_id:int}/profile/use", use, methods=["POST"]),
)
