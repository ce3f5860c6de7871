"""Banks and boxes in tables, with the fronts drawn live."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.web import jobtext
from drawerwright.web.entries import Field, shown, value_at
from drawerwright.web.pages.frame import job_id_of, job_page, last_good
from drawerwright.web.shop import shop_of
from drawerwright.web.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.basics.findings import Finding
    from drawerwright.job.job import Job


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
        "side-mounted": _("side-mounted"),
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
        "drawer_names": [box.name for box in good.all_boxes] if good is not None else [],
        "rules": _rules(data),
        **_findings(good),
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


def _rules(data: Any) -> dict[int, str]:
    """Banks whose heights follow a progression, which the table has no cell for, and how."""
    words = {"arithmetic": _("arithmetic progression"), "geometric": _("geometric progression")}
    terms_words = {
        "count": _("count"),
        "step": _("step from front to front"),
        "smallest": _("smallest"),
        "ratio": _("ratio"),
    }
    rules = {}
    for row, bank in enumerate(value_at(data, ("banks",)) or []):
        heights = value_at(bank, ("fronts", "heights"))
        for name, word in words.items():
            terms = value_at(heights, (name,))
            if isinstance(terms, dict):
                rules[row] = f"{word}: " + ", ".join(
                    f"{terms_words.get(key, key)} {value}" for key, value in terms.items()
                )
    return rules


def _findings(good: Job | None) -> dict[str, Any]:
    """What is doubtful, by the row that it concerns, and what concerns the whole job."""
    if good is None:
        return {"row_findings": {}, "findings": ()}
    from drawerwright.job.draft import draft_job
    from drawerwright.job.judging import draft_findings

    draft = draft_job(good)
    corners = {corner.name: set(corner.drawers) for corner in draft.corners}
    names = {
        ("banks", row): {bank.bank.name, *(box.name for box in bank.boxes)}
        for row, bank in enumerate(good.banks)
    }
    rows: dict[tuple[str, int], list[Finding]] = {}
    rest = []
    for finding in draft_findings(draft):
        drawers = corners.get(finding.where, {finding.where})
        owners = [
            row
            for row, known in names.items()
            if drawers & known or any(finding.where.startswith(f"{name} ") for name in known)
        ]
        for row in owners:
            rows.setdefault(row, []).append(finding)
        if not owners:
            rest.append(finding)
    return {"row_findings": rows, "findings": tuple(rest)}


def model(request: Request) -> Response:
    """One drawer as a GLB file for the viewer."""
    from drawerwright.drawings.glb import write_glb
    from drawerwright.drawings.solids import cut_open, drawer_solids
    from drawerwright.job.draft import draft_job

    shop = shop_of(request)
    good, _is_newest = last_good(shop, shop.jobs.load(job_id_of(request)))
    wanted = request.query_params.get("drawer", "")
    box = next((box for box in (good.all_boxes if good else ()) if box.name == wanted), None)
    if good is None or box is None:
        raise HTTPException(404, _("This job has no such drawer."))
    settings = draft_job(good).settings
    solids = drawer_solids(box, settings[box.front_corner], settings[box.back_corner])
    if "open" in request.query_params:
        solids = tuple(part for part in cut_open(solids, box.height / 2) if part.volume > 0)
    return Response(
        write_glb(solids, box.name, style=request.state.reader.lengths), media_type="model/gltf-binary"
    )


ROUTES = (Route("/jobs/{job_id:int}/drawers", page), Route("/jobs/{job_id:int}/drawer.glb", model))
