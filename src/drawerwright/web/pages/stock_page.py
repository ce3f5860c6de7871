"""Stock on the rack, its sheets and offcuts, and the machines: the job's own copy, entry by entry."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.lengths import WrittenLength, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import EntryPath, members_at, rows_at, value_at
from drawerwright.store.records import ConflictError, JobRecord, ShelfEntry, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.every_field import fault_links
from drawerwright.web.fields.field import Field, name_of, shown, stored
from drawerwright.web.fields.field_facts import measures_of, stated_facts
from drawerwright.web.fields.field_plate import FieldPlate
from drawerwright.web.fields.job_fields import whole_fields
from drawerwright.web.fields.machine_fields import machine_fields, machine_name
from drawerwright.web.fields.notices import findings_on_page
from drawerwright.web.fields.stock_fields import sheet_fields, stock_fields
from drawerwright.web.pages.parts.job_frame import (
    announced,
    job_id_of,
    job_page,
    last_good,
    save_and_announce,
    saved,
)
from drawerwright.web.pages.runners_page import runners_on_shelf, sheets_of_runners
from drawerwright.web.pages.shelf_page import OnShelf, beside_shelf
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.wood.thickness import Thickness

LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Rack:
    """One stock as the page shows it: its own entries, and a table each of sheets and of offcuts."""

    name: str
    plate: FieldPlate
    sheets: tuple[tuple[Field, ...], ...]
    offcuts: tuple[tuple[Field, ...], ...]
    thickness: Thickness | None
    scale: str
    """The thickness against its published range, drawn; empty where nothing is known."""
    picture: str
    """Its sheets and offcuts, drawn; empty where nothing is known."""
    shelf: OnShelf

    @property
    def tables(self) -> tuple[tuple[str, tuple[tuple[Field, ...], ...]], ...]:
        """Name of the list in the job file, and its rows."""
        return ("sheets", self.sheets), ("offcuts", self.offcuts)

    @property
    def all_fields(self) -> tuple[Field, ...]:
        """Every field."""
        return *self.plate.fields, *(field for row in self.sheets + self.offcuts for field in row)


def page(request: Request) -> Response:
    """The whole page, or the part of it that shows what is saved now."""
    return _page(request, {}, "", 200)


def _page(request: Request, typed: dict[str, str], fault: str, status: int) -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    reader = request.state.reader
    from drawerwright.job.file.kerf_tested import kerf_test_of

    racks = _racks(request, job, data)
    machines, whole = machine_fields(), whole_fields(data)
    own = (machine_name(), *(field for machine in machines for field in machine.fields))
    runner_sheets = sheets_of_runners(request, job, data)
    fields = [field for rack in racks for field in rack.all_fields]
    fields += [field for sheet in runner_sheets for field in sheet.all_fields]
    fields += [*own, *whole.fields]
    faults, other_faults = job_text.faults_by_field(job.text, fields)
    test = kerf_test_of(data)
    noticed = findings_on_page(job_text.shown(job.text), fields, data)
    marked = faults.keys() | noticed["numbers"].keys()
    context: dict[str, Any] = {
        "job": job,
        "tab": "stock",
        "heading": _("Stock and machine"),
        "part": "stock_part.html",
        "data": data,
        "racks": racks,
        "runner_sheets": runner_sheets,
        "runners_on_shelf": runners_on_shelf(shop, data),
        "machine_name": own[0],
        "machines": machines,
        "kerf_test": test,
        "notes": {} if test is None else _kerf_notes(millimetres(test.kerf)),
        "whole": whole,
        "measures": measures_of([*own, *whole.fields], data, reader),
        "stated": lambda group: stated_facts(group, data, reader),
        "faults": faults,
        "other_faults": other_faults,
        "fault_links": fault_links(job.text),
        "is_marked": lambda group: any(field.path_name in marked for field in group),
        **noticed,
        "show": lambda data, field: shown(value_at(data, field.path), field.kind, reader),
        "machine_shelf": beside_shelf(shop, job, ("machine",), own, reader),
        "on_shelf": _only_on_shelf(shop.shelf.list(ShelfKind.STOCK), data),
        "typed": typed,
        "fault": fault,
    }
    if request.query_params.get("part"):
        return shop.renderer.page(request, "stock_part.html", context)
    return job_page(request, "planned.html", "stock", job, context, status=status)


def _kerf_notes(kerf: WrittenLength) -> dict[str, str]:
    """What a kerf test gave, for the fields that it is typed in and for the kerf that it is used instead of."""
    saw = ("machine", "saw")
    return {
        name_of((*saw, "kerf")): phrase("measured {kerf}, used instead of what stands here", kerf=kerf),
        name_of((*saw, "kerf_test", "cuts")): phrase("measured {kerf}, used", kerf=kerf),
    }


def _racks(request: Request, job: JobRecord, data: Any) -> list[Rack]:
    from drawerwright.job.pictures.doubt_pictures import rack_picture, thickness_picture

    shop, reader = shop_of(request), request.state.reader
    found = last_good(shop, job)[0].job
    racks = []
    for name, entry in members_at(data, ("stock",)).items():
        plate = stock_fields(entry).at("stock", name)
        known = None if found is None else found.stock.get(name)
        thickness = None if known is None else known.thickness
        first_rows = (
            field.at("stock", name, kind, 0) for kind in ("sheets", "offcuts") for field in sheet_fields(kind)
        )
        racks.append(
            Rack(
                name,
                plate,
                _sheet_rows(name, entry, "sheets"),
                _sheet_rows(name, entry, "offcuts"),
                thickness,
                "" if thickness is None else thickness_picture(thickness, reader.lengths),
                "" if found is None or known is None else rack_picture(found, name, reader.lengths),
                beside_shelf(shop, job, ("stock", name), (*plate.fields, *first_rows), reader),
            )
        )
    return racks


def _sheet_rows(name: str, entry: Any, kind: str) -> tuple[tuple[Field, ...], ...]:
    count = len(rows_at(entry, (kind,)))
    return tuple(tuple(f.at("stock", name, kind, row) for f in sheet_fields(kind)) for row in range(count))


def _only_on_shelf(entries: tuple[ShelfEntry, ...], data: Any) -> list[ShelfEntry]:
    own = members_at(data, ("stock",))
    return [entry for entry in entries if entry.name not in own]


async def add(request: Request) -> Response:
    """A new stock; what its figures mean is judged where they stand, as everywhere."""
    form = await request.form()
    typed = {name: str(form.get(name, ""))[:LONGEST_NAME] for name in ("name", "nominal", "length", "width")}
    return await asyncio.to_thread(_add, request, typed)


def _add(request: Request, typed: dict[str, str]) -> Response:
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.file.job_entries import job_unit
    from drawerwright.job.renaming import with_own_id

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    name = typed["name"].strip()
    taken = members_at(job_text.data_of(job.text), ("stock",))
    fault = ""
    if not name:
        fault = _("Give the stock a name of your own; banks and boxes refer to it.")
    elif name in taken:
        fault = _("This name is taken; choose another.")
    if fault:
        context = {"job": job, "typed": typed, "fault": fault}
        return shop.renderer.page(request, "stock_add.html", context, status=422)
    reader, unit = request.state.reader, job_unit(job.text)
    sheet: dict[EntryPath, str] = {("length",): typed["length"], ("width",): typed["width"]}
    entry = {
        "nominal": stored(typed["nominal"], "length", reader, unit),
        "sheets": [{path[0]: stored(text, "length", reader, unit) for path, text in sheet.items()}],
    }
    text = with_own_id(set_value(job.text, ("stock", name), entry), name)
    try:
        kept = saved(shop, job, text, name_of(("stock", name)))
    except ConflictError as conflict:
        context = {"job": job, "typed": typed, "fault": str(conflict)}
        return shop.renderer.page(request, "stock_add.html", context, status=422)
    return announced(shop, job, kept)


async def rename(request: Request) -> Response:
    """Call a stock by another name, wherever the job names it; its corners and their test cuts stay with it."""
    form = await request.form()
    old, new = (str(form.get(name, ""))[:LONGEST_NAME] for name in ("old", "name"))
    return await asyncio.to_thread(_rename, request, old, new)


def _rename(request: Request, old: str, new: str) -> Response:
    from drawerwright.job.renaming import rename_stock

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    text = rename_stock(job.text, old, new)
    return save_and_announce(shop, job, text, phrase("stock {old} is now {new}", old=old, new=new.strip()))


ROUTES = (
    Route("/jobs/{job_id:int}/stock", page),
    Route("/jobs/{job_id:int}/stock/add", add, methods=["POST"]),
    Route("/jobs/{job_id:int}/stock/rename", rename, methods=["POST"]),
)
