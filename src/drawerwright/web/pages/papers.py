"""Preview and download of the packet and of every file of a plan."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store import JobRecord
from drawerwright.web.pages.frame import job_id_of
from drawerwright.web.pages.jobs import attachment, file_stem
from drawerwright.web.pages.planned import planned_page, reader_plan
from drawerwright.web.shop import shop_of
from drawerwright.web.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.job.planning import JobPlan

PATIENCE_SECONDS = 120.0
"""A download waits for the plan; the page before it shows the progress."""
KEPT_PACKETS = 4
KINDS = {
    ".pdf": "application/pdf",
    ".json": "application/json",
    ".csv": "text/csv; charset=utf-8",
    ".svg": "image/svg+xml",
    ".dxf": "image/vnd.dxf",
}


def page(request: Request) -> Response:
    """The page."""
    return planned_page(request, "papers", _("Papers"), "papers_part.html", _content)


def _content(request: Request, job: JobRecord, plan: JobPlan) -> Mapping[str, Any]:
    from drawerwright.job.drawing import plan_drawings

    scenes = plan_drawings(plan)
    return {"drawings": [(name, scene.title) for name, scene in scenes.items()]}


def download(request: Request) -> Response:
    """One file, made from the job as it is now."""
    name = str(request.path_params["name"])
    job, plan = _plan_of(request)
    content = _content_of(plan, name)
    if content is None:
        raise HTTPException(404, _("The papers have no file of this name."))
    ending = name[name.rfind(".") :]
    headers = {"content-disposition": attachment(f"{file_stem(job.title)}-{name}")}
    if "shown" in request.query_params:
        headers = {"content-disposition": "inline"}
    return Response(content, media_type=KINDS[ending], headers=headers)


def everything(request: Request) -> Response:
    """All files in one archive."""
    from drawerwright.job.drawing import plan_drawings

    job, plan = _plan_of(request)
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as files:
        files.writestr("job.yaml", job.text)
        for name in ("packet.pdf", "plan.json", "parts.csv"):
            files.writestr(name, _content_of(plan, name) or b"")
        for name in plan_drawings(plan):
            for ending in ("svg", "dxf"):
                files.writestr(f"drawings/{name}.{ending}", _content_of(plan, f"{name}.{ending}") or b"")
    headers = {"content-disposition": attachment(f"{file_stem(job.title)}.zip")}
    return Response(archive.getvalue(), media_type="application/zip", headers=headers)


def _plan_of(request: Request) -> tuple[JobRecord, JobPlan]:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    state = shop.plans.ask(job.text, PATIENCE_SECONDS)
    if state.plan is None:
        raise HTTPException(422, state.fault or _("The job has faults; its pages say which."))
    return job, reader_plan(request, state.plan)


def _content_of(plan: JobPlan, name: str) -> bytes | None:
    from drawerwright.drawings.dxf import write_dxf
    from drawerwright.drawings.svg import write_svg
    from drawerwright.job.drawing import plan_drawings
    from drawerwright.job.outputs import parts_csv
    from drawerwright.job.report import plan_report

    if name == "packet.pdf":
        return _packet(plan)
    if name == "plan.json":
        return (json.dumps(plan_report(plan), indent=1, ensure_ascii=False) + "\n").encode()
    if name == "parts.csv":
        return parts_csv(plan).encode()
    stem, _dot, ending = name.rpartition(".")
    scene = plan_drawings(plan).get(stem)
    if scene is None or ending not in ("svg", "dxf"):
        return None
    return (write_svg(scene) if ending == "svg" else write_dxf(scene)).encode()


_packets: dict[int, tuple[Any, bytes]] = {}


def _packet(plan: JobPlan) -> bytes:
    """The packet; the last few are kept, since a preview is often followed by a download."""
    from drawerwright.job.papers import plan_packet

    key = hash((id(plan.run), plan.job.style))
    kept = _packets.get(key)
    if kept is not None and kept[0] is plan.run:
        return kept[1]
    made = plan_packet(plan)
    while len(_packets) >= KEPT_PACKETS:
        _packets.pop(next(iter(_packets)))
    _packets[key] = (plan.run, made)
    return made


ROUTES = (
    Route("/jobs/{job_id:int}/papers", page),
    Route("/jobs/{job_id:int}/papers/all.zip", everything),
    Route("/jobs/{job_id:int}/papers/{name}", download),
)
