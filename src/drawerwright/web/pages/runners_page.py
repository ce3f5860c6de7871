"""Sheets of runners on the Stock page: the job's own copies beside the shop's, each with its lengths in a table."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import members_at, rows_at
from drawerwright.store.records import JobRecord, ShelfEntry, ShelfKind
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.field_plate import FieldPlate
from drawerwright.web.fields.runner_fields import length_columns, sheet_fields_of
from drawerwright.web.pages.parts.job_frame import job_id_of, save_and_announce
from drawerwright.web.pages.shelf_page import OnShelf, beside_shelf
from drawerwright.web.server.shop import Shop, shop_of

LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class SheetOfRunners:
    """One sheet as the page shows it: its entries, and a row for each length."""

    name: str
    plate: FieldPlate
    lengths: tuple[tuple[Field, ...], ...]
    shelf: OnShelf

    @property
    def all_fields(self) -> tuple[Field, ...]:
        """Every field."""
        return *self.plate.fields, *(field for row in self.lengths for field in row)


def sheets_of_runners(request: Request, job: JobRecord, data: Any) -> list[SheetOfRunners]:
    """Every sheet of a job."""
    shop, reader = shop_of(request), request.state.reader
    found = []
    for name, entry in members_at(data, ("runners",)).items():
        plate = sheet_fields_of(entry).at("runners", name)
        rows = tuple(
            tuple(column.at("runners", name, "lengths", place) for column in length_columns())
            for place in range(len(rows_at(entry, ("lengths",))))
        )
        first_row = (column.at("runners", name, "lengths", 0) for column in length_columns())
        shelf = beside_shelf(shop, job, ("runners", name), (*plate.fields, *first_row), reader)
        found.append(SheetOfRunners(name, plate, rows, shelf))
    return found


def runners_on_shelf(shop: Shop, data: Any) -> list[ShelfEntry]:
    """Sheets that the shop has and the job has not."""
    own = members_at(data, ("runners",))
    return [entry for entry in shop.shelf.list(ShelfKind.RUNNERS) if entry.name not in own]


async def add(request: Request) -> Response:
    """One more sheet, to be filled in."""
    form = await request.form()
    name, kind = (str(form.get(field, ""))[:LONGEST_NAME] for field in ("name", "kind"))
    return await asyncio.to_thread(_add, request, name, kind)


def _add(request: Request, name: str, kind: str) -> Response:
    from drawerwright.job.file.runner_entries import add_runners

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    text = add_runners(job.text, name, kind)
    return save_and_announce(shop, job, text, phrase("sheet of runners {name}", name=name.strip()))


async def rename(request: Request) -> Response:
    """Call a sheet by another name, wherever a bank names it."""
    form = await request.form()
    old, new = (str(form.get(field, ""))[:LONGEST_NAME] for field in ("old", "name"))
    return await asyncio.to_thread(_rename, request, old, new)


def _rename(request: Request, old: str, new: str) -> Response:
    from drawerwright.job.renaming import rename_runners

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    text = rename_runners(job.text, old, new)
    note = phrase("sheet of runners {old} is now {new}", old=old, new=new.strip())
    return save_and_announce(shop, job, text, note)


ROUTES = (
    Route("/jobs/{job_id:int}/runners/add", add, methods=["POST"]),
    Route("/jobs/{job_id:int}/runners/rename", rename, methods=["POST"]),
)
