"""Banks and boxes in tables, with the fronts drawn live."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.web import jobtext
from drawerwright.web.entries import Field, shown, value_at
from drawerwright.web.pages.frame import job_id_of, job_page, last_good
from drawerwright.web.shop import shop_of
from drawerwright.web.words import gettext as _

RUNNERS = ("side-mounted", "under-mounted", "wooden", "none")


def columns_of(name: str, data: Any = None) -> tuple[Field, ...]:
    """The columns of the table of banks or of boxes; paths are relative to the row."""
    stocks = tuple((stock, stock) for stock in (value_at(data, ("stock",)) or {}))
    box_stock = Field(("box", "all"), _("Box of"), "choice", stocks, hint=_("stock of the box"))
    if name == "boxes":
        return (
            Field(("name",), _("Name"), "text"),
            Field(("count",), _("How many"), "whole", absent="1"),
            Field(("outer", "width"), _("Outer width")),
            Field(("outer", "depth"), _("Outer depth")),
            Field(("outer", "height"), _("Outer height")),
            Field(("lip",), _("Lip"), absent="0"),
            box_stock,
            Field(("bottom", "stock"), _("Bottom of"), "choice", stocks),
        )
    from drawerwright.drawers.bank import FrontStyle
    from drawerwright.drawers.runners import RunnerKind

    words = {"applied": _("applied"), "lipped": _("lipped"), "inset": _("inset")}
    runners = {
        "side": _("side-mounted"),
        "side-mounted": _("side-mounted"),
        "under": _("under-mounted"),
        "under-mounted": _("under-mounted"),
        "wooden": _("wooden"),
        "none": _("none"),
    }
    return (
        Field(("name",), _("Name"), "text"),
        Field(("opening", "width"), _("Opening width")),
        Field(("opening", "height"), _("Opening height")),
        Field(("opening", "depth"), _("Opening depth")),
        Field(
            ("fronts", "style"),
            _("Fronts"),
            "choice",
            tuple((str(style), words.get(str(style), str(style))) for style in FrontStyle),
        ),
        Field(("fronts", "heights", "given"), _("Front heights, top first"), "lengths", hint="95; 120; rest"),
        Field(("fronts", "heights", "equal"), _("or equal: how many"), "whole"),
        Field(("fronts", "reveal"), _("Reveal"), absent="3"),
        Field(
            ("runner", "kind"),
            _("Runners"),
            "choice",
            tuple((str(kind), runners.get(str(kind), str(kind))) for kind in RunnerKind),
            absent=_("none"),
        ),
        box_stock,
        Field(("bottom", "stock"), _("Bottom of"), "choice", stocks),
        Field(("fronts", "stock"), _("Applied fronts of"), "choice", stocks),
    )


def page(request: Request) -> Response:
    """The whole page, or the part of it that shows what is saved now."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = jobtext.data_of(job.text)
    reader = request.state.reader
    good, is_newest = last_good(shop, job)
    tables = [
        ("banks", _("Banks: an opening in a carcase, with fronts"), columns_of("banks", data)),
        ("boxes", _("Plain boxes with outer sizes"), columns_of("boxes", data)),
    ]
    fields = [
        column.at(name, row)
        for name, _title, columns in tables
        for row in range(len(value_at(data, (name,)) or []))
        for column in columns
    ]
    faults, other_faults = jobtext.faults_by_field(job.text, fields)
    context = {
        "data": data,
        "faults": faults,
        "other_faults": other_faults,
        "show": lambda data, field: shown(value_at(data, field.path), field.kind, reader),
        "tables": tables,
        "elevations": _elevations(good, reader) if good is not None else [],
        "is_newest": is_newest,
    }
    if request.query_params.get("part") == "entries":
        return shop.renderer.page(request, "drawers_part.html", {"job": job, **context})
    return job_page(request, "drawers.html", "drawers", job, context)


def _elevations(good: Any, reader: Any) -> list[tuple[str, str]]:
    from drawerwright.drawings.elevation import draw_elevation
    from drawerwright.drawings.svg import write_svg

    return [
        (bank.bank.name, write_svg(draw_elevation(bank.bank, style=reader.lengths), ground=False))
        for bank in good.banks
    ]


ROUTES = (Route("/jobs/{job_id:int}/drawers", page),)
