"""Drawers from a table: a file or pasted rows, looked at with every fault before they go into the job."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, Literal

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import members_at
from drawerwright.store.records import ConflictError
from drawerwright.web.fields import job_text
from drawerwright.web.pages.parts.draft_taken import taken
from drawerwright.web.pages.parts.job_frame import CHANGES_TOO_FAST, job_id_of, job_page, saved
from drawerwright.web.pages.parts.table_waited_for import waits_for_table
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.file.given_tables import GivenSheet

MOST_COLUMN_FIELDS = 100
LONGEST_PASTED = 600_000
"""Characters of pasted rows."""
MOST_SHOWN = 200
"""Rows of a table that are shown."""
NOTHING_TYPED = {"table": "", "sheet": "", "numbers_in": "", "stock": "", "file_name": ""}


def page(request: Request) -> Response:
    """The page with an empty form."""
    return _page(request, NOTHING_TYPED, {})


async def look(request: Request) -> Response:
    """What a table would bring, or, if that is asked for and nothing stands against it, the drawers taken over."""
    async with request.form(max_files=1, max_fields=MOST_COLUMN_FIELDS) as form:
        upload = form.get("file")
        name, content = "", b""
        if isinstance(upload, UploadFile) and upload.filename:
            name, content = upload.filename, await upload.read()
        typed = {
            "table": str(form.get("table", ""))[:LONGEST_PASTED],
            **{
                key: str(form.get(key, ""))[:200]
                for key in ("sheet", "numbers_in", "stock", "do", "file_name")
            },
        }
        columns = _columns_said(form)
        return taken(await asyncio.to_thread(_look, request, name, content, typed, columns), form)


def _columns_said(form: FormData) -> dict[str | int, str]:
    """What the columns of the table hold, by their places, as the form says for all of them."""
    said: dict[str | int, str] = {}
    for key, value in form.multi_items():
        place = key.removeprefix("column-")
        if key != place and place.isdecimal() and len(place) < 4:
            said[int(place)] = str(value)[:80]
    return said


def _look(
    request: Request, name: str, content: bytes, typed: dict[str, str], columns: dict[str | int, str]
) -> Response:
    from drawerwright.job.file.given_tables import given_sheets, table_of_text, text_of_table
    from drawerwright.job.imported_drawers import TableChoice, drawers_to_take

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    try:
        sheets: tuple[GivenSheet, ...]
        if name:  # another table than the one that the columns were said for
            sheets, columns = given_sheets(name, content), {}
        else:
            sheets = (table_of_text(typed["table"]),)
        unit = _unit(typed["numbers_in"])
        asked = _("Stock, where the table names none")
        asked_unit = _("Numbers without unit are")
        choice = TableChoice(columns, typed["sheet"].strip() or None, unit, typed["stock"], asked, asked_unit)
        found = drawers_to_take(job.text, sheets, choice)
    except (FaultyInputError, InvalidValueError) as error:
        return _page(request, typed, {"refused": str(error)}, status=422)
    if name:
        table = next(sheet for sheet in sheets if sheet.name == found.drawers.table.sheet)
        typed = {**typed, "table": text_of_table(table), "sheet": "", "file_name": PurePath(name).stem}
    if typed["do"] == "take" and not found.faults and not name:
        # A job that was begun for this table is called as the table's file is.
        is_named = waits_for_table(job) and typed["file_name"]
        text = job_text.with_title(found.text, typed["file_name"]) if is_named else found.text
        try:
            saved(shop, job, text, phrase("{count} drawers from a table", count=found.count))
        except ConflictError:
            return _page(request, typed, {"refused": CHANGES_TOO_FAST}, status=409)
        shop.hub.announce(job.id)
        return RedirectResponse(f"/jobs/{job.id}/drawers", 303)
    return _page(request, typed, {"found": found}, status=422 if found.faults else 200)


def _unit(said: str) -> Literal["mm", "in"] | None:
    return "in" if said == "in" else "mm" if said == "mm" else None


def _page(
    request: Request, typed: Mapping[str, str], shown: Mapping[str, Any], *, status: int = 200
) -> Response:
    from drawerwright.job.file.table_drawers import DRAWER_FIELDS

    job = shop_of(request).jobs.load(job_id_of(request))
    context = {
        "typed": typed,
        "found": None,
        "refused": "",
        "fields": DRAWER_FIELDS,
        "labels": {field.name: field.label for field in DRAWER_FIELDS},
        "stocks": tuple(members_at(job_text.data_of(job.text), ("stock",))),
        "most_shown": MOST_SHOWN,
        # A job that was begun for a table goes with it.
        "leaves_nothing": waits_for_table(job) and shop_of(request).may_manage(request),
        **shown,
    }
    return job_page(request, "import_drawers.html", "drawers", job, context, status=status)


ROUTES = (
    Route("/jobs/{job_id:int}/import", page),
    Route("/jobs/{job_id:int}/import", look, methods=["POST"]),
)
