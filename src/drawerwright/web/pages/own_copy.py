"""The job's own copy of cutter, machine and stock, entry by entry."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store import JobRecord, ShelfEntry, ShelfKind
from drawerwright.web import jobtext
from drawerwright.web.entries import EntryPath, Field, shown, value_at
from drawerwright.web.pages.frame import job_id_of, job_page
from drawerwright.web.pages.shelf import beside_shelf
from drawerwright.web.shop import Shop, shop_of
from drawerwright.web.words import gettext as _

Group = tuple[str, str, tuple[Field, ...]]


def cutter_fields() -> tuple[Field, ...]:
    """Entries of the cutter."""
    kinds = (
        ("drawer-lock", _("drawer lock: its top ends inside the wood")),
        ("lock-mitre", _("lock mitre: taller than the stock")),
    )
    doubt = _("with its uncertainty where it is known: 6.1 ± 0.05")
    return (
        Field(("cutter", "name"), _("Name"), "text", absent=_("cutter")),
        Field(("cutter", "kind"), _("Kind of cutter"), "choice", kinds, absent=_("drawer lock")),
        Field(("cutter", "mid_depth"), _("Mid depth"), hint=doubt),
        Field(("cutter", "step"), _("Step"), hint=doubt),
        Field(("cutter", "slope"), _("Slope (degrees)"), "number", absent="45"),
        Field(("cutter", "diameter"), _("Cutting diameter")),
        Field(("cutter", "cutting_height"), _("Cutting height")),
        Field(("cutter", "max_speed"), _("Greatest speed marked on it (1/min)"), "number"),
    )


def machine_fields() -> tuple[Field, ...]:
    """Entries of saw and router table."""
    saw, table = ("machine", "saw"), ("machine", "router_table")
    doubt = _("a doubt may be added: 0.05 ± 0.05")
    return (
        Field((*saw, "kerf"), _("Saw kerf"), absent="3"),
        Field((*saw, "trim"), _("Edge trim of a new sheet"), absent="0"),
        Field((*table, "tallest_upright"), _("Tallest piece that can be run upright")),
        Field((*table, "longest_band"), _("Longest band that the table carries")),
        Field((*table, "shortest_piece"), _("Shortest safe piece"), absent="150"),
        Field((*table, "height_gauge_offset"), _("Height gauge shows too much by"), absent="0", hint=doubt),
        Field((*table, "fence_gauge_offset"), _("Fence scale shows too much by"), absent="0", hint=doubt),
        Field((*table, "repeatability"), _("A setting comes back within"), absent="0"),
        Field(("machine", "calipers"), _("Zero of the calipers known to"), absent="0"),
        Field((*table, "speeds"), _("Spindle speeds (1/min)"), "numbers", hint="8000; 12000; 16000"),
        Field(("machine", "sacrificial_strip", "width"), _("Sacrificial strip, width"), absent="0"),
    )


def stock_fields(name: str, entry: Any) -> tuple[Field, ...]:
    """Entries of one stock."""
    grains = (("length", _("along the sheet")), ("width", _("across the sheet")), ("none", _("none")))
    fields = [
        Field(("nominal",), _("Nominal thickness")),
        Field(
            ("measured",),
            _("Measured thicknesses"),
            "lengths",
            hint=_("one sheet in brackets: (14.6 14.7); 14.5"),
        ),
        Field(("mean",), _("Mean thickness, where it was not measured here"), hint="14.6 ± 0.05"),
        Field(("scatter",), _("Scatter within a sheet, where it is known")),
        Field(("grain",), _("Grain"), "choice", grains, absent=_("along the sheet")),
    ]
    for kind, words in (("sheets", _("Sheet %(number)d")), ("offcuts", _("Offcut %(number)d"))):
        for index, _sheet in enumerate(value_at(entry, (kind,)) or []):
            label = words % {"number": index + 1}
            fields += [
                Field((kind, index, "length"), _("%(sheet)s, length") % {"sheet": label}),
                Field((kind, index, "width"), _("%(sheet)s, width") % {"sheet": label}),
                Field((kind, index, "on_hand"), _("%(sheet)s, on hand") % {"sheet": label}, "whole"),
            ]
            if kind == "sheets":
                fields.append(
                    Field((kind, index, "price"), _("%(sheet)s, price") % {"sheet": label}, "number")
                )
    return tuple(field.at("stock", name) for field in fields)


def cutter_page(request: Request) -> Response:
    """The cutter of the job."""
    return _page(request, "cutter", _("Cutter"), "cutter_part.html")


def stock_page(request: Request) -> Response:
    """Stock and machine of the job."""
    return _page(request, "stock", _("Stock and machine"), "stock_part.html")


def _page(request: Request, tab: str, heading: str, part: str) -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = jobtext.data_of(job.text)
    reader = request.state.reader
    groups: list[Group] = []
    if tab == "cutter":
        groups.append(("cutter", _("Cutter"), cutter_fields()))
    else:
        for name, entry in (value_at(data, ("stock",)) or {}).items():
            groups.append((f"stock-{name}", _("Stock %(name)s") % {"name": name}, stock_fields(name, entry)))
        groups.append(("machine", _("Saw and router table"), machine_fields()))
    faults, other_faults = jobtext.faults_by_field(
        job.text, [field for _key, _title, fields in groups for field in fields]
    )
    context = {
        "job": job,
        "tab": tab,
        "heading": heading,
        "part": part,
        "data": data,
        "groups": groups,
        "faults": faults,
        "other_faults": other_faults,
        "show": lambda data, field: shown(value_at(data, field.path), field.kind, reader),
        "shelf": {
            key: beside_shelf(shop, job, _part_of(key), reader)
            for key, _title, _fields in groups
            if value_at(data, _part_of(key)) is not None
        },
        "trial_cuts": _trial_cuts(shop, value_at(data, ("cutter", "name"))) if tab == "cutter" else [],
        **(_cutter_look(job, reader) if tab == "cutter" else _stock_look(job)),
    }
    if request.query_params.get("part"):
        return shop.renderer.page(request, part, context)
    return job_page(request, "planned.html", tab, job, context)


def _trial_cuts(shop: Shop, cutter: Any) -> list[tuple[ShelfEntry, Any]]:
    """Every test cut made with a cutter of this name, in whatever job, the newest first."""
    entries = [(entry, jobtext.data_of(entry.text)) for entry in shop.shelf.list(ShelfKind.TRIAL_CUT)]
    return [(entry, data) for entry, data in reversed(entries) if data.get("cutter") == (cutter or "cutter")]


def _part_of(key: str) -> EntryPath:
    return ("stock", key.removeprefix("stock-")) if key.startswith("stock-") else (key,)


def _cutter_look(job: JobRecord, reader: Any) -> dict[str, Any]:
    found = jobtext.job_of(job.text)
    if found is None:
        return {"picture": "", "mating": None}
    from drawerwright.drawings.corner import draw_corner
    from drawerwright.drawings.svg import write_svg
    from drawerwright.joints.setting import CornerGeometry, set_corner

    thickness = max(next(iter(found.stock.values())).thickness.value, found.cutter.mid_depth.value * 2 + 2)
    setting = set_corner(found.cutter, CornerGeometry(thickness, thickness))
    picture = write_svg(draw_corner(setting, style=reader.lengths), ground=False)
    return {"picture": picture, "mating": setting}


def _stock_look(job: JobRecord) -> dict[str, Any]:
    found = jobtext.job_of(job.text)
    return {"thicknesses": {} if found is None else {n: s.thickness for n, s in found.stock.items()}}


ROUTES = (
    Route("/jobs/{job_id:int}/cutter", cutter_page),
    Route("/jobs/{job_id:int}/stock", stock_page),
)
