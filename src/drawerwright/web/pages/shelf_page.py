"""The shop's own cutters, machine and stock beside the jobs: put there from a job, taken over into a job."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.store.records import JobRecord, ShelfEntry
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import Field, read_path, shown
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.job_frame import JOB_CHANGED, job_id_of, save_and_announce
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.job.rack_stock import RackNews

MANY_VALUES = 8
"""A longer list is not written out beside another one."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One value that differs between shelf and job, under the label of its field."""

    label: str
    own: str
    shelf: str


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One part of a job file beside what the shelf has under the same name, if anything."""

    path: EntryPath
    name: str
    entry: ShelfEntry | None
    differences: tuple[Difference, ...]
    others: tuple[ShelfEntry, ...]
    news: tuple[RackNews, ...] = ()
    """Of a stock, what the rack has more or less of than the job plans with."""


def beside_shelf(
    shop: Shop, job: JobRecord, path: EntryPath, fields: Iterable[Field], reader: Preferences
) -> OnShelf:
    """A part of the job beside the shelf; `fields` are those that show its entries, of a table its first row's."""
    from drawerwright.job.rack_stock import rack_news
    from drawerwright.job.shelf_parts import shelf_part

    data = job_text.data_of(job.text)
    part = shelf_part(data, path)
    entry, others = part.own(shop.shelf), part.others(shop.shelf, data)
    found = () if entry is None else part.differences(data, entry)
    said = tuple(_said(found, path, fields, reader))
    if entry is None or path[0] != "stock" or shop.rack.runs(job.id):  # what is cut plans no more
        return OnShelf(path, part.name, entry, said, others)
    return OnShelf(path, part.name, entry, said, others, rack_news(data, part.name, entry))


def _said(
    found: Iterable[tuple[EntryPath, Any, Any]],
    above: EntryPath,
    fields: Iterable[Field],
    reader: Preferences,
) -> Iterator[Difference]:
    known = {field.path: field for field in fields}
    for path, own, shelf in found:
        no_field = Field(path, ".".join(str(step) for step in path[len(above) :]))
        field = known.get(tuple(0 if isinstance(step, int) else step for step in path), no_field)
        yield Difference(_label(path, field), *(_compared(value, field, reader) for value in (own, shelf)))


def _label(path: EntryPath, field: Field) -> str:
    """What an entry is called; in a table of sheets or offcuts with its row."""
    if len(path) > 2 and isinstance(path[-2], int) and path[-3] in ("sheets", "offcuts"):
        words = _("sheet %(number)s, %(what)s") if path[-3] == "sheets" else _("offcut %(number)s, %(what)s")
        return words % {"number": path[-2] + 1, "what": field.label}
    return field.label


def _compared(value: Any, field: Field, reader: Preferences) -> str:
    """A value beside another one, as its field shows it; of a profile only how many points it has."""
    if isinstance(value, list) and len(value) > MANY_VALUES:
        return _("%(count)d values") % {"count": len(value)}
    text = shown(value, field.kind, reader)
    return dict(field.choices).get(text, text) or "–"


async def put(request: Request) -> Response:
    """Put a part of the job on the shelf, in place of what stands there under its name."""
    form = await request.form()
    return await asyncio.to_thread(_put, request, read_path(str(form.get("path", ""))) or ())


def _put(request: Request, path: EntryPath) -> Response:
    from drawerwright.job.shelf_parts import put_on_shelf

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    put_on_shelf(shop.shelf, job_text.data_of(job.text), path)
    return Response(status_code=204, headers=JOB_CHANGED)


async def take(request: Request) -> Response:
    """Take a shelf entry over into the job, value by value, so that the job's comments stay."""
    form = await request.form()
    path, entry_id = read_path(str(form.get("path", ""))) or (), str(form.get("entry", ""))
    return await asyncio.to_thread(_take, request, path, whole_number(entry_id) or 0)


def _take(request: Request, path: EntryPath, entry_id: int) -> Response:
    from drawerwright.job.shelf_parts import taken_over

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    entry = shop.shelf.load(entry_id)
    note = phrase("{name} copied from the shelf", name=entry.name)
    return save_and_announce(shop, job, taken_over(job.text, path, entry), note)


ROUTES = (
    Route("/jobs/{job_id:int}/shelf/put", put, methods=["POST"]),
    Route("/jobs/{job_id:int}/shelf/take", take, methods=["POST"]),
)
