"""What the pages of one job share: its tabs, its undo and redo, its versions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from drawerwright.store import JobRecord
from drawerwright.web import jobtext
from drawerwright.web.shop import Shop, shop_of
from drawerwright.web.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.job.job import Job

LOOK_BACK = 20
"""How many revisions back a state without faults is looked for."""


def job_id_of(request: Request) -> int:
    """The job that the address names."""
    return int(request.path_params["job_id"])


def tabs() -> tuple[tuple[str, str], ...]:
    """The pages of a job in the order of the work: last step of the address, and name."""
    return (
        ("cutter", _("Cutter")),
        ("stock", _("Stock and machine")),
        ("drawers", _("Drawers")),
        ("corner", _("Corner")),
        ("trial", _("Test cut")),
        ("sheets", _("Sheets")),
        ("run", _("Run")),
        ("papers", _("Papers")),
        ("text", _("Job file")),
    )


def job_page(
    request: Request,
    template: str,
    tab: str,
    job: JobRecord,
    context: Mapping[str, Any] | None = None,
    *,
    status: int = 200,
) -> HTMLResponse:
    """A page of a job."""
    shop = shop_of(request)
    frame = {
        "job": job,
        "tab": tab,
        "job_tabs": tabs(),
        "progress_version": shop.progress.load(job.id).version,
    }
    return shop.renderer.page(request, template, {**frame, **(context or {})}, status=status)


def last_good(shop: Shop, job: JobRecord) -> tuple[Job | None, bool]:
    """The job as it was last without faults, and whether that is how it is now."""
    now = jobtext.job_of(job.text)
    if now is not None:
        return now, True
    for revision in shop.jobs.lineage(job.id)[1:LOOK_BACK]:
        found = jobtext.job_of(revision.text)
        if found is not None:
            return found, False
    return None, False


def history(request: Request) -> Response:
    """The undo and redo buttons as they are now."""
    shop = shop_of(request)
    return shop.renderer.page(request, "history.html", {"job": shop.jobs.load(job_id_of(request))})


def announced(shop: Shop, job: JobRecord) -> Response:
    """Tell every open page, and the asking page at once, that a job has a new head."""
    shop.hub.announce(job.id)
    return Response(status_code=204, headers=version_header(job))


def version_header(job: JobRecord) -> dict[str, str]:
    """The header that tells the asking page of its job's revision."""
    return {"hx-trigger": f'{{"versions": {{"job": {job.revision.number}}}}}'}
