"""The list of jobs, and what can be done with a whole job: make, import, export, duplicate, delete, undo."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Collection
from itertools import count
from urllib.parse import quote

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response, StreamingResponse
from starlette.routing import Route

from drawerwright.basics.errors import FaultyInputError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.given_tables import ENDINGS as TABLE_ENDINGS
from drawerwright.store.records import ConflictError, JobRecord, StoreError
from drawerwright.web.fields import job_text
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.draft_taken import taken
from drawerwright.web.pages.parts.job_frame import (
    CHANGED_IN_BETWEEN,
    announced,
    history,
    job_id_of,
    job_page,
    last_good,
)
from drawerwright.web.pages.parts.job_glance import glance_of, plans_of
from drawerwright.web.pages.parts.table_waited_for import BEGUN_FOR_TABLE, waits_for_table
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.first_look import UnreadRoute
from drawerwright.web.server.security import device_token
from drawerwright.web.server.shop import shop_of

UPLOAD_ENDINGS = (".yaml", ".yml")
REVISIONS_SHOWN = 50
SIGN_OF_NEXT = {"fault": "fault", "stop": "stop", "no-plan": "stop", "stock": "doubtful", "done": "known"}
"""How a card marks what is next; all else is open."""


def listing(request: Request) -> Response:
    """Every job."""
    shop = shop_of(request)
    deleted = request.query_params.get("deleted", "")
    return shop.renderer.page(
        request,
        "jobs.html",
        {
            "jobs": shop.jobs.list(),
            "deleted": whole_number(deleted),
            "fault": "",
            "may_manage": shop.may_manage(request),
        },
    )


def from_example(request: Request) -> Response:
    """A new job from the example."""
    shop = shop_of(request)
    text = example_text()
    return _open(shop.jobs.add(job_text.title_of(text), text, phrase("from the example")))


def first_picture(request: Request) -> Response:
    """What the start page shows of the work, in the reader's language."""
    from drawerwright.job.pictures.corner_pictures import corner_of_a_drawer

    return Response(corner_of_a_drawer(request.state.reader.lengths), media_type="text/html; charset=utf-8")


def card(request: Request) -> Response:
    """What a job is, for its card on the start page: the piece, its drawers and stock, and what is next."""
    from drawerwright.job.pictures.chest_picture import small_chest

    shop = shop_of(request)
    record = shop.jobs.load(job_id_of(request))
    job = last_good(shop, record)[0].job
    step = glance_of(shop, record, plans_of(shop, record, None)).next
    context = {
        "picture": "" if job is None else small_chest(job, request.state.reader.lengths),
        "drawers": 0 if job is None else len(job.all_boxes),
        "stock": [] if job is None else list(job.stock),
        "next": step,
        "sign": SIGN_OF_NEXT.get(step.asked, "open"),
    }
    return shop.renderer.page(request, "job_card.html", context)


async def import_file(request: Request) -> Response:
    """A new job from an uploaded job file. The text is kept as it is, faults and all."""
    import asyncio

    async with request.form(max_files=1, max_fields=4) as form:
        upload = form.get("file")
        name, raw = "", b""
        if isinstance(upload, UploadFile):
            name, raw = upload.filename or "", await upload.read()
    return await asyncio.to_thread(_import, request, name, raw)


def _import(request: Request, name: str, raw: bytes) -> Response:
    shop = shop_of(request)
    fault = ""
    if not name:
        fault = _("Choose a job file first.")
    elif not name.lower().endswith(UPLOAD_ENDINGS):
        fault = _("A job file ends in .yaml or .yml; this one is called %(name)s.") % {"name": name}
        if name.lower().endswith(TABLE_ENDINGS):
            fault += " " + _("Import a table of drawers below, under “Drawers from a table”.")
    else:
        try:
            text = raw.decode("utf-8-sig")
            return _open(shop.jobs.add(job_text.checked_title(text, name), text, phrase("imported")))
        except UnicodeDecodeError as error:
            place = {"place": error.start}
            fault = _("This file is not UTF-8 text (byte %(place)d); save it as UTF-8.") % place
        except FaultyInputError as error:
            fault = str(error)
    context = {
        "jobs": shop.jobs.list(),
        "deleted": None,
        "fault": fault,
        "may_manage": shop.may_manage(request),
    }
    return shop.renderer.page(request, "jobs.html", context, status=422)


async def from_table(request: Request) -> Response:
    """A job with the shop of another, opened where a table brings its drawers: one that still waits, or a new one."""
    import asyncio

    form = await request.form()
    return await asyncio.to_thread(_from_table, request, whole_number(str(form.get("job", ""))))


def _from_table(request: Request, source: int | None) -> Response:
    from drawerwright.job.imported_drawers import shop_of_job

    shop = shop_of(request)
    text = example_text() if source is None else shop.jobs.load(source).text
    title = _("Drawers from a table")
    begun = shop_of_job(text, title)
    newest = (shop.jobs.load(job.id) for job in shop.jobs.list() if job.title == title)
    waiting = next((job for job in newest if waits_for_table(job) and job.text == begun), None)
    job = waiting or shop.jobs.add(title, begun, BEGUN_FOR_TABLE)
    return RedirectResponse(f"/jobs/{job.id}/import", 303)


def export(request: Request) -> Response:
    """The job file, byte for byte as it is in the store."""
    job = shop_of(request).jobs.load(job_id_of(request))
    return Response(
        job.text.encode(),
        media_type="application/yaml",
        headers={"content-disposition": attachment(f"{file_stem(job.title)}.yaml")},
    )


def duplicate(request: Request) -> Response:
    """A copy of a job with its own name and revisions."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    name = _copy_name(
        job.title or _("Job without a name"),
        {other.title for other in shop.jobs.list()},
        request.state.reader.say,
    )
    text = job_text.with_title(job.text, name)
    return _open(shop.jobs.add(name, text, phrase("copy of job {number}", number=job.id)))


def _copy_name(title: str, taken: Collection[str], say: Callable[[str], str]) -> str:
    """What a copy is called, which no other job is."""
    names = (
        say(
            phrase("{name} (copy)", name=title)
            if number == 1
            else phrase("{name} (copy {number})", name=title, number=number)
        )
        for number in count(1)
    )
    return next(name for name in names if name not in taken)


def delete(request: Request) -> Response:
    """Take a job off the list; the list offers to undo it."""
    shop, job_id = shop_of(request), job_id_of(request)
    if not shop.may_manage(request):
        raise HTTPException(403, _("Only the desk, or a device that it allows, can delete jobs."))
    shop.jobs.delete(job_id)
    shop.hub.announce(job_id)
    return RedirectResponse(f"/?deleted={job_id}", 303)


def restore(request: Request) -> Response:
    """Undo a deletion."""
    shop, job_id = shop_of(request), job_id_of(request)
    shop.jobs.restore(job_id)
    shop.hub.announce(job_id)
    return RedirectResponse("/", 303)


async def undo(request: Request) -> Response:
    """One revision back."""
    return await _moved(request, shop_of(request).jobs.undo)


async def redo(request: Request) -> Response:
    """One revision on."""
    return await _moved(request, shop_of(request).jobs.redo)


async def _moved(request: Request, move: Callable[[int], JobRecord]) -> Response:
    import asyncio

    form = await request.form()
    return await asyncio.to_thread(_move, request, str(form.get("base", "")), move)


def _move(request: Request, base: str, move: Callable[[int], JobRecord]) -> Response:
    """Undo and redo concern the whole job: what nobody has seen yet is not undone."""
    shop = shop_of(request)
    with shop.database.writing():
        before = shop.jobs.load(job_id_of(request))
        if base != str(before.revision.number):
            raise HTTPException(412, CHANGED_IN_BETWEEN)
        job = move(before.id)
        shop.jobs.set_title(job.id, job_text.title_of(job.text))
    return announced(shop, before, job)


async def events(request: Request) -> Response:
    """News of a job and of its progress."""
    if request.method == "HEAD":  # there is nothing to wait for
        return Response(media_type="text/event-stream")
    shop = shop_of(request)
    job_id = job_id_of(request)

    def versions() -> dict[str, int] | None:
        if not (request.state.is_desk or shop.is_paired(device_token(request.headers))):
            return None
        return {
            "job": shop.jobs.load(job_id).revision.number,
            "progress": shop.progress.load(job_id).version,
        }

    return StreamingResponse(shop.hub.stream(job_id, versions), media_type="text/event-stream")


def text_page(request: Request) -> Response:
    """The job file as text, with its faults."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    return _text_page(request, job, job.text)


def _text_page(
    request: Request,
    job: JobRecord,
    text: str,
    conflict: ConflictError | None = None,
    unsaved: StoreError | None = None,
    base: int | None = None,
) -> Response:
    lines = []
    if conflict is not None:
        theirs = conflict.theirs.text.splitlines()
        lines = list(
            difflib.unified_diff(theirs, text.splitlines(), _("saved by others"), _("yours"), lineterm="")
        )
    context = {
        "text": text,
        "base": job.revision.number if base is None else base,
        "conflict": conflict,
        "unsaved": unsaved,
        "difference": lines,
        "faults": job_text.faults_of(text),
        "revisions": shop_of(request).jobs.revisions(job.id)[:REVISIONS_SHOWN],
    }
    status = 409 if conflict else 200
    if unsaved is not None:
        status = 503 if unsaved.is_busy else 507
    return job_page(request, "text.html", "text", job, context, status=status)


async def save_text(request: Request) -> Response:
    """Save a whole text; refuse and show both when somebody else saved in between."""
    import asyncio

    form = await request.form()
    # Forms send line ends as CR LF, whatever the file has.
    text = str(form.get("text", "")).replace("\r\n", "\n")
    base = str(form.get("base", ""))
    answer = await asyncio.to_thread(_save_text, request, text, whole_number(base) or 0)
    return taken(answer, form)


def _save_text(request: Request, text: str, base: int) -> Response:
    shop = shop_of(request)
    job_id = job_id_of(request)
    if "\r\n" in shop.jobs.load(job_id).text:  # the file has Windows line ends, and keeps them
        text = text.replace("\n", "\r\n")
    try:
        job = shop.jobs.save(job_id, text, title=job_text.title_of(text), base=base, note=phrase("job file"))
    except ConflictError as conflict:
        return _text_page(request, shop.jobs.load(job_id), text, conflict)
    except (
        StoreError
    ) as unsaved:  # what was typed stays on the page, also where the browser keeps no draft of it
        return _text_page(request, shop.jobs.load(job_id), text, unsaved=unsaved, base=base)
    shop.hub.announce(job.id)
    return RedirectResponse(f"/jobs/{job.id}/text", 303)


def _open(job: JobRecord) -> Response:
    return RedirectResponse(f"/jobs/{job.id}", 303)


def first_page(request: Request) -> Response:
    """A job opens at its first page."""
    return RedirectResponse(f"/jobs/{job_id_of(request)}/glance", 303)


def file_stem(title: str) -> str:
    """A title as the stem of a file's name on any system.

    >>> file_stem("Score chest: north/south?")
    'Score-chest-north-south'
    """
    return re.sub(r"[^\w]+", "-", title).strip("-")[:60] or "job"


def attachment(name: str) -> str:
    """The header value that makes a browser save an answer under `name`."""
    plain = name.encode("ascii", "ignore").decode() or "file"
    return f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(name)}"


ROUTES = (
    Route("/", listing),
    Route("/first-picture", first_picture),
    Route("/jobs/example", from_example, methods=["POST"]),
    Route("/jobs/{job_id:int}/card", card),
    Route("/jobs/import", import_file, methods=["POST"]),
    Route("/jobs/from-table", from_table, methods=["POST"]),
    UnreadRoute("/jobs/{job_id:int}", first_page),
    Route("/jobs/{job_id:int}/file", export),
    Route("/jobs/{job_id:int}/duplicate", duplicate, methods=["POST"]),
    Route("/jobs/{job_id:int}/delete", delete, methods=["POST"]),
    Route("/jobs/{job_id:int}/restore", restore, methods=["POST"]),
    Route("/jobs/{job_id:int}/undo", undo, methods=["POST"]),
    Route("/jobs/{job_id:int}/redo", redo, methods=["POST"]),
    Route("/jobs/{job_id:int}/history", history),
    Route("/jobs/{job_id:int}/events", events),
    Route("/jobs/{job_id:int}/text", text_page),
    Route("/jobs/{job_id:int}/text", save_text, methods=["POST"]),
)
