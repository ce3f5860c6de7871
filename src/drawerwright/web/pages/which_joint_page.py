"""Which joint each drawer should have: asked for with a button, compared in the background, taken with another."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.json_text import read_json
from drawerwright.basics.phrases import phrase
from drawerwright.web.pages.parts.job_frame import job_id_of, last_good, save_and_announce
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.job import Job
    from drawerwright.job.planning.which_joint import JointComparison
    from drawerwright.web.work.background import Work


def comparison(request: Request) -> Response:
    """Every batch of drawers with the joints that it could have."""
    from drawerwright.job.papers.joint_data import changes_data
    from drawerwright.job.planning.corner_strengths import ESTIMATE, ONLY_ORDER
    from drawerwright.job.planning.which_joint import QUICK

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    good, is_newest = last_good(shop, job)
    context: dict[str, Any] = {"job": job, "work": None, "found": None, "fault": ""}
    context |= {
        "quick": QUICK,
        "estimate": ESTIMATE,
        "only_order": ONLY_ORDER,
        "changes_of": changes_data,
    }
    if good.job is not None and is_newest:
        known = good.job
        state = shop.joints.ask(job.text, lambda work: _compared(known, work), job_id=job.id)
        context |= {"work": state.work, "found": state.made, "fault": state.fault}
    return shop.renderer.page(request, "which_joint.html", context)


def _compared(job: Job, work: Work[JointComparison]) -> JointComparison:
    from drawerwright.job.planning.which_joint import compare_joints

    return compare_joints(job, step=work.step)


def stop(request: Request) -> Response:
    """Compare no further."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    shop.joints.cancel(job.text)
    shop.joints.forget(job.text)
    return shop.renderer.page(request, "which_joint_button.html", {"job": job})


async def take(request: Request) -> Response:
    """Give the drawers that are named another joint: `changes` is a list of drawers, each with a joint or a cutter."""
    form = await request.form()
    try:
        changes = [_change(each) for each in read_json(str(form.get("changes", "")))]
    except (ValueError, TypeError, KeyError):
        raise InvalidValueError(_("This is no list of drawers and their joints.")) from None
    return await asyncio.to_thread(_taken, request, changes)


def _change(told: dict[str, Any]) -> tuple[list[str], str, str]:
    """The drawers, their joint and their cutter; one of the two is empty."""
    return [str(name) for name in told["drawers"]], str(told.get("joint", "")), str(told.get("cutter", ""))


def _taken(request: Request, changes: list[tuple[list[str], str, str]]) -> Response:
    from drawerwright.job.file.joint_entries import take_joint

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    text = job.text
    for drawers, joint, cutter in changes:
        text = take_joint(text, drawers, joint, cutter)
    return save_and_announce(shop, job, text, phrase("another joint"))


ROUTES = (
    Route("/jobs/{job_id:int}/joints", comparison),
    Route("/jobs/{job_id:int}/joints/stop", stop, methods=["POST"]),
    Route("/jobs/{job_id:int}/joints/take", take, methods=["POST"]),
)
