"""What the pages of one job share: its tabs, its undo and redo, its versions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.store.records import ConflictError, JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.day_choice import chosen_day
from drawerwright.web.pages.parts.job_glance import signs_of
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.shown_job import ShownJob

CHANGED_IN_BETWEEN = phrase("The job has changed meanwhile. The page now shows what others saved; try again.")
CHANGES_TOO_FAST = phrase("The job kept changing while this was being saved; try again.")
STEP_HEADER = "drawerwright-step"
JOB_PLACE = "/jobs/{job_id:int}"
"""Where the pages of a job begin, as routes name it."""
JOB_CHANGED = {"hx-trigger": '{"job-changed": {}}'}
"""With an answer: what the page shows of the job is fetched anew."""
LOOK_BACK = 20
"""How many revisions back a state without faults is looked for."""


def job_id_of(request: Request) -> int:
    """The job that the address names."""
    return int(request.path_params["job_id"])


def tabs() -> tuple[tuple[tuple[str, str], ...], ...]:
    """The pages of a job in the order of the work, in groups: last step of the address, and name."""
    return (
        (("glance", _("The job")),),
        (("cutter", _("Cutter")), ("stock", _("Stock and machine")), ("drawers", _("Drawers"))),
        (("corner", _("Corner")), ("trial", _("Test cut"))),
        (("sheets", _("Sheets")), ("run", _("Run")), ("papers", _("Papers"))),
        (("text", _("Job file")),),
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
        "signs": _signs(request, shop, job),
        "chosen_day": chosen_day(request),
        "progress_version": shop.progress.load(job.id).version,
    }
    return shop.renderer.page(request, template, {**frame, **(context or {})}, status=status)


def _signs(request: Request, shop: Shop, job: JobRecord) -> Mapping[str, str]:
    """The signs of the pages. No page is withheld because it is not known how far another one is."""
    try:
        return signs_of(shop, job)
    except Exception as error:
        from drawerwright.job.own_faults import own_fault

        own_fault(error, f"{request.method} {request.url.path}: the signs of the pages")
        return {}


def job_pages(request: Request) -> Response:
    """The links to the pages of a job with their signs as they are now."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    tab = request.query_params.get("tab", "")
    return job_page(request, "job_pages.html", tab, job)


def last_good(shop: Shop, job: JobRecord) -> tuple[ShownJob, bool]:
    """The job as it was last without faults, and whether that is how it is now."""
    now = job_text.shown(job.text)
    if now.job is not None:
        return now, True
    for revision in shop.jobs.lineage(job.id)[1:LOOK_BACK]:
        found = job_text.shown(revision.text)
        if found.job is not None:
            return found, False
    return now, False


def history(request: Request) -> Response:
    """The undo and redo buttons as they are now."""
    shop = shop_of(request)
    return shop.renderer.page(request, "history.html", {"job": shop.jobs.load(job_id_of(request))})


def saved(shop: Shop, job: JobRecord, text: str, note: str) -> JobRecord:
    """Save a text that was made from `job`; `note` says for the history what was done.

    Raises:
        ConflictError: somebody else saved in between; nothing was written.
    """
    return shop.jobs.save(job.id, text, title=job_text.title_of(text), base=job.revision.number, note=note)


def save_and_announce(shop: Shop, job: JobRecord, text: str, note: str) -> Response:
    """Save a text that was made from `job` just now, and answer the page that asked for it.

    Raises:
        InvalidValueError: somebody else saved in between; nothing was written.
    """
    try:
        return announced(shop, job, saved(shop, job, text, note))
    except ConflictError:
        raise InvalidValueError(CHANGES_TOO_FAST) from None


def announced(shop: Shop, before: JobRecord, job: JobRecord) -> Response:
    """Tell every open page, and the asking page at once, that a job has a new head, and where it came from."""
    shop.hub.announce(job.id)
    return Response(status_code=204, headers=version_headers(before, job))


def version_headers(before: JobRecord, job: JobRecord) -> dict[str, str]:
    """The headers that tell the asking page of its job's revision and of the step that it made itself.

    By its own steps a page knows a later revision than it has drawn; see `seen_text`.
    """
    number = job.revision.number
    return {
        "hx-trigger": f'{{"versions": {{"job": {number}}}}}',
        STEP_HEADER: f"{before.revision.number} {number}",
    }


def seen_text(shop: Shop, job: JobRecord, base: str) -> str:
    """The text that somebody saw who changes a job: that of revision `base`, as their page tells it.

    A change is refused where the very thing that it concerns says something else now than it says there.

    Raises:
        InvalidValueError: `base` is no number.
        UnknownJobError: the job has no such revision.
    """
    number = whole_number(base)
    if number is None:
        raise InvalidValueError(_("This change does not say which revision of the job it belongs to."))
    return shop.jobs.revision(job.id, number).text
