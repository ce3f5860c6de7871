"""The height of one front, typed at it or dragged by its edge."""

from __future__ import annotations

import asyncio

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import value_at
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import stored
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.job_frame import job_id_of, last_good, save_and_announce, seen_text
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

LONGEST_TYPED = 60


async def save(request: Request) -> Response:
    """Set one front; another takes what is left over."""
    form = await request.form()
    bank, front = (whole_number(str(form.get(name, ""))) for name in ("bank", "front"))
    typed = str(form.get("value", "")).strip()[:LONGEST_TYPED]
    if bank is None or front is None or not typed:
        raise InvalidValueError(_("Type the height of the front."))
    return await asyncio.to_thread(_save, request, bank, front, typed, str(form.get("base", "")))


def _save(request: Request, bank: int, front: int, typed: str, base: str) -> Response:
    from drawerwright.job.file.front_height_entry import with_front_height
    from drawerwright.job.file.job_entries import job_unit

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    path = ("banks", bank)
    seen, now = (job_text.data_of(text) for text in (seen_text(shop, job, base), job.text))
    if value_at(seen, path) != value_at(now, path):
        return shop.renderer.page(
            request, "conflict.html", {"job": job, "conflicts": (), "gone": ()}, status=409
        )
    good = last_good(shop, job)[0].job
    heights = [] if good is None else good.front_heights(bank)
    height = stored(typed, "length", request.state.reader, job_unit(job.text))
    text = with_front_height(job.text, bank, front, height, heights)
    return save_and_announce(shop, job, text, phrase("front heights"))


ROUTES = (Route("/jobs/{job_id:int}/front-height", save, methods=["POST"]),)
