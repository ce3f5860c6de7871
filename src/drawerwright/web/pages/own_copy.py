"""The job's own copy of cutter, machine and stock, entry by entry."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import parse_length
from drawerwright.store import JobRecord, ShelfEntry, ShelfKind
from drawerwright.web import jobtext
from drawerwright.web.entries import EntryPath, Field, shown, value_at
from drawerwright.web.pages.frame import job_id_of, job_page
from drawerwright.web.pages.profile import profile_look
from drawerwright.web.pages.shelf import beside_shelf
from drawerwright.web.preferences import Preferences
from drawerwright.web.shop import Shop, shop_of
from drawerwright.web.words import gettext as _

FIRST_LOOK = (6.0, 4.0, 45.0)
"""Mid depth, step (mm) and slope (degrees) of the cutter that shows where to measure, until the job has its own."""
SCALE, TALLEST = 5.0, 75.0
"""Of the picture of the cutter: paper per thing, and how tall it may become (mm of paper)."""
Group = tuple[str, str, tuple[Field, ...]]


def cutter_fields(has_profile: bool = False) -> tuple[Field, ...]:
    """Entries of the cutter; with a measured profile the measures follow from it where they are not given."""
    kinds = (
        ("drawer-lock", _("drawer lock: its top ends inside the wood")),
        ("lock-mitre", _("lock mitre: taller than the stock")),
    )
    doubt = _("with its uncertainty where it is known: 6.1 ± 0.05")
    from_profile = _("from the profile") if has_profile else ""
    return (
        Field(("cutter", "name"), _("Name"), "text", absent=_("cutter")),
        Field(("cutter", "kind"), _("Kind of cutter"), "choice", kinds, absent=_("drawer lock")),
        Field(("cutter", "mid_depth"), _("Mid depth"), hint=doubt, absent=from_profile),
        Field(("cutter", "step"), _("Step"), hint=doubt, absent=from_profile),
        Field(("cutter", "slope"), _("Slope (degrees)"), "number", absent=from_profile or "45"),
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
        groups.append(
            ("cutter", _("Cutter"), cutter_fields(value_at(data, ("cutter", "points")) is not None))
        )
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
        **(_cutter_look(job, data, reader) if tab == "cutter" else _stock_look(job)),
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


def _cutter_look(job: JobRecord, data: Any, reader: Preferences) -> dict[str, Any]:
    from drawerwright.drawings.corner import draw_corner
    from drawerwright.drawings.cutter_profile import draw_profile
    from drawerwright.drawings.svg import write_svg
    from drawerwright.joints.profile import drawer_lock_profile
    from drawerwright.joints.setting import CornerGeometry, set_corner

    found = jobtext.job_of(job.text)
    kept = _kept_profile(job, data, reader)
    if found is None:
        shape = drawer_lock_profile(*FIRST_LOOK).between(0.0, 2 * FIRST_LOOK[0])
        drawing = draw_profile(shape, *FIRST_LOOK[:2], style=reader.lengths, dots=False)
        return {"picture": "", "mating": None, "kept": kept, "measures": write_svg(drawing, ground=False)}
    cutter = found.cutter
    middle = cutter.mid_depth.value
    shape = cutter.profile().between(0.0, max(2 * middle, middle + cutter.step.value))
    drawing = draw_profile(
        shape,
        middle,
        cutter.step.value,
        style=reader.lengths,
        dots=False,
        scale=min(SCALE, TALLEST / shape[-1][0]),
    )
    thickness = max(next(iter(found.stock.values())).thickness.value, middle * 2 + 2)
    setting = set_corner(cutter, CornerGeometry(thickness, thickness))
    picture = write_svg(draw_corner(setting, style=reader.lengths), ground=False)
    return {
        "picture": picture,
        "mating": setting,
        "kept": kept,
        "measures": write_svg(drawing, ground=False),
        "is_through": cutter.kind == "lock-mitre",
    }


def _kept_profile(job: JobRecord, data: Any, reader: Preferences) -> dict[str, Any]:
    """What there is to show of the points that the job keeps; nothing while they cannot be read."""
    rows, doubt = value_at(data, ("cutter", "points")), value_at(data, ("cutter", "profile_uncertainty"))
    try:
        points = tuple((parse_length(depth), parse_length(inset)) for depth, inset in rows or ())
        return profile_look(job.text, points, parse_length(doubt or 0), reader) if points else {}
    except (InvalidValueError, TypeError, ValueError):
        return {}


def _stock_look(job: JobRecord) -> dict[str, Any]:
    found = jobtext.job_of(job.text)
    return {"thicknesses": {} if found is None else {n: s.thickness for n, s in found.stock.items()}}


ROUTES = (
    Route("/jobs/{job_id:int}/cutter", cutter_page),
    Route("/jobs/{job_id:int}/stock", stock_page),
)
