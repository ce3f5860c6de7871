"""Banks and boxes in tables, with the fronts drawn live."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.web.fields import job_text
from drawerwright.web.fields.drawer_fields import Group, columns_of, panels_of
from drawerwright.web.fields.every_field import fault_links
from drawerwright.web.fields.field import Field, shown
from drawerwright.web.fields.notices import findings_of, notices_by_field
from drawerwright.web.pages.parts.job_frame import job_id_of, job_page, last_good
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of


@dataclass(frozen=True, slots=True)
class Row:
    """One bank or box: its cells in the table, and the groups of its panel."""

    name: str
    cells: tuple[Field, ...]
    panel: tuple[Group, ...]

    @property
    def fields(self) -> tuple[Field, ...]:
        """Every field, in the table or the panel."""
        return self.cells + tuple(field for _title, group in self.panel for field in group)

    def is_marked(self, *marks: Mapping[str, Any]) -> bool:
        """Whether a field of the panel has a fault or finding beside it."""
        names = {field.path_name for _title, group in self.panel for field in group}
        return any(names & mark.keys() for mark in marks)


@dataclass(frozen=True, slots=True)
class Table:
    """All banks, or all boxes."""

    name: str
    title: str
    rows: list[Row]


def page(request: Request) -> Response:
    """The whole page, or the part of it that shows what is saved now."""
    from drawerwright.job.pictures.drawer_pictures import bank_pictures

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    reader = request.state.reader
    good, is_newest = last_good(shop, job)
    tables = [
        Table(name, title, _rows(name, data))
        for name, title in (
            ("banks", _("Banks: an opening in a carcase, with fronts")),
            ("boxes", _("Plain boxes with outer sizes")),
        )
    ]
    fields = [field for table in tables for row in table.rows for field in row.fields]
    faults, other_faults = job_text.faults_by_field(job.text, fields)
    draft, found = findings_of(good)
    notices, findings = ({}, []) if draft is None else notices_by_field(draft, found, fields, data)
    context = {
        "data": data,
        "faults": faults,
        "other_faults": other_faults,
        "fault_links": fault_links(job.text),
        "notices": notices,
        "findings": findings,
        "show": lambda data, field: shown(value_at(data, field.path), field.kind, reader),
        "tables": tables,
        "elevations": [] if draft is None else bank_pictures(draft, reader.lengths),
        "drawer_names": [box.name for box in good.all_boxes] if good is not None else [],
        "is_newest": is_newest,
    }
    if request.query_params.get("part") == "entries":
        return shop.renderer.page(request, "drawers_part.html", {"job": job, **context})
    return job_page(request, "drawers.html", "drawers", job, context)


def _rows(name: str, data: Any) -> list[Row]:
    return [
        Row(
            str(value_at(item, ("name",)) or place + 1),
            tuple(column.at(name, place) for column in columns_of(name, item, data)),
            tuple(
                (title, tuple(field.at(name, place) for field in group))
                for title, group in panels_of(name, item, data)
            ),
        )
        for place, item in enumerate(rows_at(data, (name,)))
    ]


def model(request: Request) -> Response:
    """One drawer as a GLB file for the viewer."""
    from drawerwright.job.pictures.drawer_pictures import drawer_model
    from drawerwright.job.planning.draft import draft_job

    shop = shop_of(request)
    good, _is_newest = last_good(shop, shop.jobs.load(job_id_of(request)))
    name, is_open = request.query_params.get("drawer", ""), "open" in request.query_params
    style = request.state.reader.lengths
    made = None if good is None else drawer_model(draft_job(good), name, style, is_open=is_open)
    if made is None:
        raise HTTPException(404, _("This job has no such drawer."))
    return Response(made, media_type="model/gltf-binary")


ROUTES = (Route("/jobs/{job_id:int}/drawers", page), Route("/jobs/{job_id:int}/drawer.glb", model))
