"""From the Corner page into the job: keep the settings that were tried, or go back to the recommended ones."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import joined, phrase
from drawerwright.store import JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.pages.corner_page import SETTINGS
from drawerwright.web.pages.parts.corner_choice import meant_corner
from drawerwright.web.pages.parts.job_frame import CHANGED_IN_BETWEEN, job_id_of, save_and_announce, seen_text
from drawerwright.web.pages.parts.typed_corner import recommended_in_job, typed_measures
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.draft import Corner
    from drawerwright.joints.setting import CornerSetting


async def keep(request: Request) -> Response:
    """Keep the settings that the form holds for one corner of the job."""
    form = await request.form()
    return await asyncio.to_thread(_save, request, form, _setting, _kept, phrase("settings of a corner"))


async def release(request: Request) -> Response:
    """Take every kept setting out of the job."""
    form = await request.form()
    return await asyncio.to_thread(
        _save, request, form, _own_settings, _released, phrase("recommended settings")
    )


def _save(
    request: Request,
    form: FormData,
    concern: Callable[[FormData, str], object],
    change: Callable[[Request, FormData, JobRecord], str],
    note: str,
) -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    if concern(form, job.text) != concern(form, seen_text(shop, job, str(form.get("base", "")))):
        raise InvalidValueError(CHANGED_IN_BETWEEN)
    text = change(request, form, job)
    return save_and_announce(shop, job, text, note)


def _kept(request: Request, form: FormData, job: JobRecord) -> str:
    from drawerwright.job.kept_settings import Tried, keep_settings

    corner = _corner(form, job.text)
    setting = corner.setting
    typed = {name: str(value)[:40].strip() for name, value in form.items()}
    measures = typed_measures(setting.cutter, setting.corner, request.state.reader)
    if any(typed.get(name) != value for name, value in measures.items()):
        raise InvalidValueError(
            _(
                "The cutter or the wood typed here is not the job's: change it in the job first, or set it back."
            )
        )
    lengths = LengthsForm(typed, request.state.reader)
    lengths.read([name for name in SETTINGS if typed.get(name)], over_zero=True)
    if lengths.faults:
        raise InvalidValueError(joined(lengths.faults.values(), "; "))
    good = job_text.job_of(job.text)
    right = setting if good is None else recommended_in_job(setting, good)
    tried = Tried(**{name: lengths.values.get(name, getattr(right, name)) for name in SETTINGS})
    if tried.is_as(setting):
        raise InvalidValueError(_("The job already sets this corner this way."))
    return keep_settings(job.text, corner.key, tried)


def _released(request: Request, form: FormData, job: JobRecord) -> str:
    from drawerwright.job.kept_settings import release_settings

    return release_settings(job.text)


def _own_settings(_form: FormData, text: str) -> object:
    from drawerwright.job.kept_settings import own_settings

    return own_settings(text)


def _setting(form: FormData, text: str) -> CornerSetting:
    return _corner(form, text).setting


def _corner(form: FormData, text: str) -> Corner:
    """The corner that the form names, as a text has it."""
    from drawerwright.job.planning.draft import draft_job

    good = job_text.job_of(text)
    return meant_corner(() if good is None else draft_job(good).corners, str(form.get("corner", "")))


ROUTES = (
    Route("/jobs/{job_id:int}/corner/keep", keep, methods=["POST"]),
    Route("/jobs/{job_id:int}/corner/release", release, methods=["POST"]),
)
