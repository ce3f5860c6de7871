"""Saving one field: everything typed is saved at once, and nobody's change is overwritten unseen."""

from __future__ import annotations

import asyncio
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.store import ConflictError, JobRecord
from drawerwright.web import jobtext
from drawerwright.web.entries import KINDS, EntryPath, Kind, read_path, shown, stored, value_at
from drawerwright.web.pages.frame import announced, job_id_of
from drawerwright.web.shop import Shop, shop_of
from drawerwright.web.words import gettext as _

LONGEST_TYPED = 2000
TRIES = 5
"""How often a save is tried again when somebody else saves another entry in the same moment."""


async def save(request: Request) -> Response:
    """Set one entry. The form names its path, what it showed when it was drawn, and what is typed now."""
    form = await request.form()
    path = read_path(str(form.get("path", "")))
    kind = KINDS.get(str(form.get("kind", "")))
    if path is None or kind is None:
        raise InvalidValueError(_("This field is not one of a job file."))
    typed = str(form.get("value", ""))[:LONGEST_TYPED]
    was = str(form.get("was", ""))
    return await asyncio.to_thread(_save, request, path, kind, was, typed)


def _save(request: Request, path: EntryPath, kind: Kind, was: str, typed: str) -> Response:
    from drawerwright.job.editing import set_value

    shop = shop_of(request)
    reader = request.state.reader
    for _try in range(TRIES):
        job = shop.jobs.load(job_id_of(request))
        present = shown(value_at(jobtext.data_of(job.text), path), kind, reader)
        if present == typed.strip():
            return announced(shop, job)
        if present != was:
            context = {"job": job, "path": path, "kind": kind, "present": present, "typed": typed}
            return shop.renderer.page(request, "conflict.html", context, status=409)
        text = set_value(job.text, path, stored(typed, kind, reader))
        try:
            return announced(shop, _keep(shop, job, text, path))
        except ConflictError:
            continue
    raise InvalidValueError(_("The job changes faster than this could be saved; try again."))


def _keep(shop: Shop, job: JobRecord, text: str, path: EntryPath) -> JobRecord:
    note = ".".join(str(step) for step in path)[:200]
    return shop.jobs.save(job.id, text, title=jobtext.title_of(text), base=job.revision.number, note=note)


async def add_item(request: Request) -> Response:
    """Put a new item at the end of a list, made like the last one where there is one."""
    form = await request.form()
    path = read_path(str(form.get("path", "")))
    base = str(form.get("base", ""))
    if path not in (("banks",), ("boxes",)):
        raise InvalidValueError(_("This list cannot be added to here."))
    return await asyncio.to_thread(_change_list, request, path, int(base) if base.isdigit() else 0, None)


async def remove_item(request: Request) -> Response:
    """Take an item out of a list. Undo brings it back."""
    form = await request.form()
    path = read_path(str(form.get("path", "")))
    base = str(form.get("base", ""))
    if path is None or path[0] not in ("banks", "boxes") or len(path) != 2 or not isinstance(path[1], int):
        raise InvalidValueError(_("This entry cannot be taken out here."))
    return await asyncio.to_thread(
        _change_list, request, path[:1], int(base) if base.isdigit() else 0, path[1]
    )


def _change_list(request: Request, path: EntryPath, base: int, remove: int | None) -> Response:
    from drawerwright.job.editing import set_value

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = jobtext.data_of(job.text)
    items = value_at(data, path) or []
    if base != job.revision.number and items != value_at(_data_at(shop, job.id, base), path):
        context = {"job": job, "path": path, "kind": None, "present": "", "typed": ""}
        return shop.renderer.page(request, "conflict.html", context, status=409)
    if remove is None:
        text = set_value(job.text, (*path, len(items)), jobtext.next_item(path[0], items, data))
    else:
        text = set_value(job.text, (*path, remove), None)
    return announced(shop, _keep(shop, job, text, path))


def _data_at(shop: Shop, job_id: int, base: int) -> Any:
    return jobtext.data_of(shop.jobs.revision(job_id, base).text) if base else None


async def paste(request: Request) -> Response:
    """Cells pasted from a spreadsheet: tabs between columns, line ends between rows."""
    form = await request.form()
    text = str(form.get("text", ""))
    start_row, start_column = str(form.get("row", "")), str(form.get("column", ""))
    if not (start_row.isdigit() and start_column.isdigit()) or form.get("list") not in ("banks", "boxes"):
        raise InvalidValueError(_("These cells cannot be pasted here."))
    return await asyncio.to_thread(
        _paste, request, str(form["list"]), text, int(start_row), int(start_column)
    )


def _paste(request: Request, name: str, text: str, start_row: int, start_column: int) -> Response:
    from drawerwright.job.editing import set_value
    from drawerwright.web.pages.drawers import columns_of

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    new = job.text
    columns = columns_of(name)
    rows = [line.split("\t") for line in text.replace("\r\n", "\n").strip("\n").split("\n")][:200]
    for row, cells in enumerate(rows, start_row):
        data = jobtext.data_of(new)
        items = value_at(data, (name,)) or []
        if row >= len(items):
            new = set_value(new, (name, len(items)), jobtext.next_item(name, items, data))
            row = len(items)
        for column, cell in zip(columns[start_column:], cells, strict=False):
            new = set_value(new, (name, row, *column.path), stored(cell, column.kind, request.state.reader))
    kept = shop.jobs.save(
        job.id, new, title=jobtext.title_of(new), base=job.revision.number, note=phrase("pasted cells")
    )
    return announced(shop, kept)


ROUTES = (
    Route("/jobs/{job_id:int}/entry", save, methods=["POST"]),
    Route("/jobs/{job_id:int}/items/add", add_item, methods=["POST"]),
    Route("/jobs/{job_id:int}/items/remove", remove_item, methods=["POST"]),
    Route("/jobs/{job_id:int}/paste", paste, methods=["POST"]),
)
