"""Preview and download of the packet and of every file of a plan."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.store.records import JobRecord
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.jobs_page import attachment, file_stem
from drawerwright.web.pages.parts.day_choice import day_context, day_of
from drawerwright.web.pages.parts.job_frame import job_id_of
from drawerwright.web.pages.parts.job_glance import cuts_to_follow
from drawerwright.web.pages.parts.planned import plan_of, planned_page, reader_plan
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.security import is_loopback, own_address
from drawerwright.web.server.shop import shop_of
from drawerwright.web.work.background import State

if TYPE_CHECKING:
    from drawerwright.job.papers.file_kinds import FileKind
    from drawerwright.job.planning.job_plan import JobPlan

DOWNLOAD_SECONDS = 300.0
"""How long a download waits for what it asks for; the page before it shows the progress."""
KINDS = {
    ".pdf": "application/pdf",
    ".json": "application/json",
    ".csv": "text/csv; charset=utf-8",
    ".svg": "image/svg+xml",
    ".dxf": "image/vnd.dxf",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".glb": "model/gltf-binary",
}
MOST_KINDS, LONGEST_KINDS = 40, 200
"""Names of kinds of files that a request may hold, and characters of them in an address."""


def page(request: Request) -> Response:
    """The page."""
    return planned_page(request, "papers", _("Papers"), "papers_part.html", _content)


def _content(request: Request, job: JobRecord, plan: JobPlan) -> Mapping[str, Any]:
    labels = [part.label for part in plan.parts]
    return {
        "papers": shop_of(request).papers.ask(job.text, plan, job.id),
        "parts": labels,
        "cuts_to_follow": cuts_to_follow(shop_of(request), job),
        **_offered(plan),
    }


def _offered(plan: JobPlan) -> Mapping[str, Any]:
    """Which kinds of files can be had, those that are ticked at first, and the models by the names of their files."""
    from drawerwright.job.papers.file_kinds import FileKind
    from drawerwright.job.papers.part_labels import label_files
    from drawerwright.job.papers.plan_models import plan_models

    return {
        "kinds": tuple(FileKind),
        "unticked": (FileKind.PAGES,),
        "models": tuple(plan_models(plan)),
        "labels": tuple(
            (name, grid.count, f"{plan.job.style.bought(grid.width)} × {plan.job.style.bought(grid.height)}")
            for name, grid in label_files(plan.job)
        ),
    }


def packet_part(request: Request) -> Response:
    """The packet, or how far it is."""
    job, plan = plan_to_take_from(request)
    papers = shop_of(request).papers.ask(job.text, plan, job.id)
    context = {"job": job, "papers": papers, **_offered(plan), **day_context(request, job)}
    return shop_of(request).renderer.page(request, "papers_made.html", context)


async def archive_part(request: Request) -> Response:
    """The archive of the kinds that are asked for, or how far it is; asked for again after it was stopped, it begins
    anew."""
    form = await request.form(max_files=0, max_fields=MOST_KINDS) if request.method == "POST" else None
    asked = [str(kind) for kind in form.getlist("files")] if form is not None else None
    return await asyncio.to_thread(_archive_part, request, asked)


def _archive_part(request: Request, asked: list[str] | None) -> Response:
    job, plan = plan_to_take_from(request)
    desk = shop_of(request).papers
    context = {"job": job, **_offered(plan), **day_context(request, job)}
    try:
        kinds = _kinds(request, asked)
    except InvalidValueError as error:
        context |= {"archive": State[bytes](fault=str(error)), "files": ""}
        return shop_of(request).renderer.page(request, "archive_made.html", context, status=422)
    archive = desk.ask_archive(job.text, plan, kinds, job.id, address=_run_address(request, job))
    if archive.is_stopped and request.method == "POST":
        desk.forget_archive(job.text)
        archive = desk.ask_archive(job.text, plan, kinds, job.id, address=_run_address(request, job))
    context |= {"archive": archive, "files": ",".join(sorted(kinds))}
    return shop_of(request).renderer.page(request, "archive_made.html", context)


def _kinds(request: Request, asked: list[str] | None = None) -> frozenset[FileKind]:
    """The kinds of files that a request asks for in its form or its address; all where it names none.

    Raises:
        InvalidValueError: it asks for what there is not.
    """
    from drawerwright.job.papers.file_kinds import ALL, file_kinds

    return file_kinds(request.query_params.get("files", ALL)[:LONGEST_KINDS] if asked is None else asked)


def stop(request: Request) -> Response:
    """Make no more of the papers."""
    job, plan = plan_to_take_from(request)
    shop_of(request).papers.cancel(job.text, plan, _kinds(request), _run_address(request, job))
    return Response(status_code=204)


def make_again(request: Request) -> Response:
    """Make the papers after all."""
    shop = shop_of(request)
    shop.papers.forget(shop.jobs.load(job_id_of(request)).text)
    return packet_part(request)


def download(request: Request) -> Response:
    """One file, made from the job as it is now."""
    name = str(request.path_params["name"])
    job, plan = plan_to_take_from(request)
    content = _content_of(request, job, plan, name)
    if content is None:
        raise HTTPException(404, _("There is no such file among the papers."))
    ending = name[name.rfind(".") :]
    headers = {"content-disposition": attachment(f"{_stem(request, job)}-{name}")}
    if "shown" in request.query_params:
        headers = {"content-disposition": "inline"}
    return Response(content, media_type=KINDS[ending], headers=headers)


def everything(request: Request) -> Response:
    """All files in one archive."""
    job, plan = plan_to_take_from(request)
    desk = shop_of(request).papers
    address = _run_address(request, job)
    archive = _made(
        desk.ask_archive(job.text, plan, _kinds(request), job.id, DOWNLOAD_SECONDS, address=address)
    )
    headers = {"content-disposition": attachment(f"{_stem(request, job)}.zip")}
    return Response(archive, media_type="application/zip", headers=headers)


def _stem(request: Request, job: JobRecord) -> str:
    """How the names of files begin that are taken from here."""
    day = day_of(request, job)
    return file_stem(job.title) if day is None else f"{file_stem(job.title)}-day-{day}"


def plan_to_take_from(request: Request) -> tuple[JobRecord, JobPlan]:
    """The job and its plan, waited for."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    state = plan_of(request, job, DOWNLOAD_SECONDS)
    if state.made is None:
        raise HTTPException(422, state.fault or _("The job has faults; its pages show them."))
    return job, reader_plan(request, state.made)


def _made(state: State[Any]) -> Any:
    if state.made is None:
        raise HTTPException(422, state.fault or _("This was stopped; start it again on the Papers page."))
    return state.made


def _content_of(request: Request, job: JobRecord, plan: JobPlan, name: str) -> bytes | None:
    from drawerwright.job.papers.plan_papers import PlanPapers, data_file

    used = (whole_number(request.query_params.get("first", "")) or 1) - 1
    content = data_file(plan, name, _run_address(request, job), used)
    if content is not None:
        return content
    papers: PlanPapers = _made(shop_of(request).papers.ask(job.text, plan, job.id, DOWNLOAD_SECONDS))
    return papers.file(name)


def _run_address(request: Request, job: JobRecord) -> str:
    """Where a telephone at the bench finds the run of a job; nowhere where the app is reached on this machine alone."""
    address = own_address(request.scope)
    host = (request.scope.get("server") or ("localhost", 0))[0]
    if host == "localhost" or is_loopback(host):
        return ""
    return f"{address}jobs/{job.id}/run{day_context(request, job)['only_day']}"


ROUTES = (
    Route("/jobs/{job_id:int}/papers", page),
    Route("/jobs/{job_id:int}/papers/all.zip", everything),
    Route("/jobs/{job_id:int}/papers/packet", packet_part),
    Route("/jobs/{job_id:int}/papers/packet", make_again, methods=["POST"]),
    Route("/jobs/{job_id:int}/papers/stop", stop, methods=["POST"]),
    Route("/jobs/{job_id:int}/papers/archive", archive_part, methods=["GET", "POST"]),
    Route("/jobs/{job_id:int}/papers/{name}", download),
)
