"""Banks and boxes in tables, with the fronts drawn live."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.job.file.drawer_names import bank_marks, drawers_of_row
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.job.file.likes import inherited, with_likes
from drawerwright.store.records import JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.drawer_fields import asked_panels, columns_of, rarer_panels
from drawerwright.web.fields.every_field import fault_links
from drawerwright.web.fields.field import Field, shown
from drawerwright.web.fields.field_facts import stated_facts
from drawerwright.web.fields.field_plate import TitledFields
from drawerwright.web.fields.notices import numbered_findings
from drawerwright.web.pages.parts.job_frame import job_id_of, job_page, last_good
from drawerwright.web.pages.parts.job_glance import drawer_link, finding_place
from drawerwright.web.pages.parts.panels import panel
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.reader.words import ngettext
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.job import Job
    from drawerwright.job.planning.draft import JobDraft
    from drawerwright.job.planning.shown_job import ShownJob

LONG_SIZES = 52
"""Characters of a line of sizes that has no room beside picture and panel: sixty-fourths, names of many banks."""


@dataclass(frozen=True, slots=True)
class Row:
    """One bank or box: its cells in the table, and the groups of its panel `panel_id`, which `subtitle` describes.

    `brief` says its sizes where there is no room for its cells; of `folded` groups the page shows what is stated.
    """

    panel_id: str
    name: str
    subtitle: str
    brief: str
    drawers: tuple[str, ...]
    cells: tuple[Field, ...]
    panel: tuple[TitledFields, ...]
    folded: tuple[TitledFields, ...]

    @property
    def fields(self) -> tuple[Field, ...]:
        """Every field, in the table or the panel."""
        return self.cells + tuple(field for _title, group in (*self.panel, *self.folded) for field in group)

    def is_marked(self, marked: Container[str]) -> bool:
        """Whether a field of the panel is one of these."""
        return any(field.path_name in marked for field in self.fields[len(self.cells) :])


@dataclass(frozen=True, slots=True)
class Table:
    """All banks, or all boxes; `hint` says what its sizes are."""

    name: str
    title: str
    hint: str
    rows: list[Row]


def page(request: Request) -> Response:
    """The whole page, or the part of it that shows what is saved now."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    own = job_text.data_of(job.text)
    data = with_likes(own)
    reader = request.state.reader
    good, is_newest = last_good(shop, job)
    divided = Table(
        "openings",
        _("Divided carcases"),
        _("with dividers or a face frame, inside"),
        _rows("openings", data, reader),
    )
    plain = [
        Table("banks", _("Banks"), _("openings in a carcase, inside"), _rows("banks", data, reader)),
        Table("boxes", _("Boxes"), _("plain ones, outside"), _rows("boxes", data, reader)),
    ]
    # Where nothing is divided, banks are what a maker looks for first.
    tables = [divided, *plain] if divided.rows else [*plain, divided]
    fields = [field for table in tables for row in table.rows for field in row.fields]
    faults, other_faults = job_text.faults_by_field(job.text, fields)
    part = request.query_params.get("part")
    is_part = part == "entries"
    drawer = request.query_params.get("drawer", "")
    # A panel that comes alone brings no picture along.
    show = _noted if part == "panel" else _drawn
    drawn = panel(request, lambda: show(job, good, reader, fields, data), _nothing_drawn())
    marked = faults.keys() | drawn["numbers"].keys()
    rows = [row for table in tables for row in table.rows]
    chosen = _chosen(rows, faults, drawer, is_part=is_part)
    opened = request.query_params.get("open", "")
    context = {
        "data": data,
        "notes": _taken_over(fields, own),
        "faults": faults,
        "other_faults": other_faults,
        "fault_links": fault_links(job.text),
        "show": lambda data, field: shown(value_at(data, field.path), field.kind, reader),
        "tables": tables,
        "is_newest": is_newest,
        "is_part": is_part,
        "drawer": drawer,
        "chosen": chosen,
        "laid_out": {
            row.panel_id for row in rows if row.panel_id in (chosen, opened) or row.is_marked(faults)
        },
        "rows_of": {name: row.panel_id for row in rows for name in row.drawers},
        "stated": lambda group: stated_facts(group, data, reader),
        "is_marked": lambda group: any(field.path_name in marked for field in group),
        **drawn,
    }
    if part == "panel":
        return shop.renderer.page(
            request, "drawers_panel.html", {"job": job, "row": _row(rows, opened), **context}
        )
    if is_part:
        return shop.renderer.page(request, "drawers_part.html", {"job": job, **context})
    return job_page(request, "drawers.html", "drawers", job, context)


def _taken_over(fields: Sequence[Field], own: Any) -> dict[str, str]:
    """Where the value of a field comes from that its own bank does not say."""
    found = {}
    for field in fields:
        if value_at(own, field.path) is None and not _says_nothing(own, field.path):
            like = inherited(own, field.path)
            if like is not None:
                found[field.path_name] = _("as in bank %s") % like.bank
    return found


def _says_nothing(own: Any, path: EntryPath) -> bool:
    """Whether an entry stands there, or one around it, that says that there is none."""
    return any(
        isinstance(holder := value_at(own, path[:end]), dict)
        and path[end] in holder
        and holder[path[end]] is None
        for end in range(2, len(path))
    )


def _drawn(
    job: JobRecord, shown_now: ShownJob, reader: Preferences, fields: list[Field], data: Any
) -> dict[str, Any]:
    """What follows from the last state without faults: pictures, sizes, and what is noted."""
    good, draft = shown_now.job, shown_now.draft
    if good is None or draft is None:
        return _nothing_drawn()
    from drawerwright.job.glance.box_sizes import box_sizes
    from drawerwright.job.pictures.chest_picture import COLUMN, chest_pictures
    from drawerwright.job.pictures.duty_pictures import carried_drawers

    sizes = box_sizes(good, reader.lengths)
    noted = _noted(job, shown_now, reader, fields, data)
    return {
        **noted,
        "summary": _summary(good),
        "pictures": chest_pictures(
            good, reader.lengths, lambda name: drawer_link(job, name), noted["findings"], COLUMN
        ),
        "elevations": _elevations(draft, reader),
        "drawer_names": [box.name for box in good.all_boxes],
        "sizes": sizes,
        "sizes_are_long": any(
            len(f"{size.names} {size.outside} {size.inside}") > LONG_SIZES for size in sizes
        ),
        "carried": carried_drawers(draft, reader.lengths),
    }


def _noted(
    job: JobRecord, shown_now: ShownJob, reader: Preferences, fields: list[Field], data: Any
) -> dict[str, Any]:
    """The findings of the last state without faults, with their numbers at the fields."""
    if shown_now.job is None or shown_now.draft is None:
        return _nothing_drawn()
    findings, numbers = numbered_findings(shown_now.draft, shown_now.findings, fields, data)
    return {
        **_nothing_drawn(),
        "findings": findings,
        "numbers": numbers,
        "finding_place": lambda placed: finding_place(job, placed),
    }


def _elevations(draft: JobDraft, reader: Preferences) -> list[str]:
    """The banks whose drawings come, each some 20 kB, as they come into view."""
    from drawerwright.job.pictures.drawer_pictures import bank_pictures

    return [name for name, _draw in bank_pictures(draft, reader.lengths)]


def elevation(request: Request) -> Response:
    """One bank with its dimensions, by its place from 1."""
    from drawerwright.job.pictures.drawer_pictures import bank_pictures

    shop = shop_of(request)
    draft = last_good(shop, shop.jobs.load(job_id_of(request)))[0].draft
    pictures = [] if draft is None else bank_pictures(draft, request.state.reader.lengths)
    place = int(request.path_params["place"])
    if not 1 <= place <= len(pictures):
        raise HTTPException(404, _("This job has no such bank."))
    return Response(pictures[place - 1][1](), media_type="text/html; charset=utf-8")


def _nothing_drawn() -> dict[str, Any]:
    return {
        "summary": "",
        "pictures": None,
        "elevations": [],
        "drawer_names": [],
        "sizes": (),
        "sizes_are_long": False,
        "carried": (),
        "findings": (),
        "numbers": {},
        "finding_place": lambda placed: None,
    }


def _summary(job: Job) -> str:
    count = len(job.all_boxes)
    words = [ngettext("%(num)d drawer", "%(num)d drawers", count) % {"num": count}]
    if job.banks:
        words.append(ngettext("%(num)d bank", "%(num)d banks", len(job.banks)) % {"num": len(job.banks)})
    return ", ".join(words)


def _row(rows: Iterable[Row], opened: str) -> Row:
    """The row whose panel was asked for; others may have taken it out meanwhile."""
    for row in rows:
        if row.panel_id == opened:
            return row
    raise HTTPException(404, _("This job has no such bank."))


def _chosen(rows: Sequence[Row], faults: Container[str], drawer: str, *, is_part: bool) -> str:
    """Whose panel is open: where a fault is; of a page that is drawn whole, that of the drawer that the address names,
    else the first. Where a part is drawn anew, the page keeps open what was."""
    faulty = [row.panel_id for row in rows if row.is_marked(faults)]
    if faulty or is_part:
        return faulty[0] if faulty else ""
    named = [row.panel_id for row in rows if drawer in row.drawers]
    return (named or [row.panel_id for row in rows] or [""])[0]


def _rows(name: str, data: Any, reader: Preferences) -> list[Row]:
    return [
        Row(
            f"more-{name}-{place}",
            str(value_at(item, ("name",)) or place + 1),
            _subtitle(name, place, drawers, data),
            _sizes(cells, data, reader),
            drawers,
            cells,
            _at(asked_panels(name, item, data), name, place),
            _at(rarer_panels(name, item, data), name, place),
        )
        for place, item in enumerate(rows_at(data, (name,)))
        for drawers in [drawers_of_row(name, place, data)]
        for cells in [tuple(column.at(name, place) for column in columns_of(name, item))]
    ]


def _at(groups: Iterable[TitledFields], name: str, place: int) -> tuple[TitledFields, ...]:
    return tuple((title, tuple(field.at(name, place) for field in group)) for title, group in groups)


def _sizes(cells: Iterable[Field], data: Any, reader: Preferences) -> str:
    """The sizes of a row one after another; nothing of a bank that has them from a divided carcase."""
    sizes = (shown(value_at(data, cell.path), cell.kind, reader) for cell in cells if cell.kind == "length")
    return " × ".join(size for size in sizes if size)


def _subtitle(name: str, place: int, drawers: tuple[str, ...], data: Any) -> str:
    if name == "openings":
        return _("divided carcase")
    count = ngettext("%(num)d drawer", "%(num)d drawers", len(drawers)) % {"num": len(drawers)}
    if name == "boxes":
        return count
    return _("bank %(mark)s, %(count)s") % {"mark": ", ".join(bank_marks(data, place)), "count": count}


def model(request: Request) -> Response:
    """One drawer as a GLB file for the viewer."""
    from drawerwright.job.pictures.drawer_pictures import drawer_model

    shop = shop_of(request)
    draft = last_good(shop, shop.jobs.load(job_id_of(request)))[0].draft
    name, is_open = request.query_params.get("drawer", ""), "open" in request.query_params
    style = request.state.reader.lengths
    made = None if draft is None else drawer_model(draft, name, style, is_open=is_open)
    if made is None:
        raise HTTPException(404, _("This job has no such drawer."))
    return Response(made, media_type="model/gltf-binary")


ROUTES = (
    Route("/jobs/{job_id:int}/drawers", page),
    Route("/jobs/{job_id:int}/drawer.glb", model),
    Route("/jobs/{job_id:int}/elevations/{place:int}", elevation),
)
