"""The job's own copy of its cutters, entry by entry."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.cutter_places import SEVERAL, CutterPlace, cutter_places
from drawerwright.job.file.entry_paths import members_at, value_at
from drawerwright.store.records import ConflictError, JobRecord, ShelfEntry, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.cutter_fields import cutter_fields, profile_fields
from drawerwright.web.fields.every_field import fault_links
from drawerwright.web.fields.field import Field, name_of, shown, stored
from drawerwright.web.fields.notices import findings_on_page
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.job_frame import announced, job_id_of, job_page, save_and_announce, saved
from drawerwright.web.pages.parts.kept_cut_rows import KeptCut, said_cut
from drawerwright.web.pages.profile_page import profile_look
from drawerwright.web.pages.shelf_page import OnShelf, beside_shelf
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.job.job import Job
    from drawerwright.job.pictures.cutter_pictures import CutterPictures

LONGEST_NAME = 60
ADDED = ("name", "kind", "mid_depth", "step")
"""What is asked of a further cutter."""


@dataclass(frozen=True, slots=True)
class ShownCutter:
    """A cutter as the page shows it: its entries, where to measure it, its profile and its test cuts.

    `shelf` is None while nothing is said of it yet; `kept` is empty without a profile.
    """

    place: CutterPlace
    fields: tuple[Field, ...]
    shelf: OnShelf | None
    look: CutterPictures
    kept: dict[str, Any]
    trial_cuts: list[KeptCut]


def page(request: Request) -> Response:
    """The cutters of the job."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    reader = request.state.reader
    cutters = [_shown(shop, job, data, place, reader) for place in cutter_places(data)]
    fields = [field for cutter in cutters for field in cutter.fields]
    faults, other_faults = job_text.faults_by_field(job.text, fields)
    context = {
        "job": job,
        "tab": "cutter",
        "heading": _("Cutter"),
        "part": "cutter_part.html",
        "data": data,
        "cutters": cutters,
        "faults": faults,
        "other_faults": other_faults,
        "fault_links": fault_links(job.text),
        **findings_on_page(job_text.shown(job.text), fields, data),
        "show": lambda data, field: shown(value_at(data, field.path), field.kind, reader),
        "usual_inset": shown(usual.PROFILE_INSET, "length", reader),
        "on_shelf": _only_on_shelf(shop.shelf.list(ShelfKind.CUTTER), data),
        **_adding({}, ""),
    }
    if request.query_params.get("part"):
        return shop.renderer.page(request, "cutter_part.html", {**context, "is_part": True})
    return job_page(request, "planned.html", "cutter", job, context)


def _adding(typed: dict[str, str], fault: str) -> dict[str, Any]:
    """What the form for a further cutter shows."""
    from drawerwright.job.file.usual_entries import cutter_kinds

    example = _("for instance %s")
    hints = {"mid_depth": example % "3.6 ± 0.05", "step": example % "2.6 ± 0.05"}
    return {"typed": typed, "fault": fault, "kinds": cutter_kinds(), "hints": hints}


def _shown(shop: Shop, job: JobRecord, data: Any, place: CutterPlace, reader: Preferences) -> ShownCutter:
    from drawerwright.job.measured_cutter import kept_profile

    entry, good = value_at(data, place.path), job_text.job_of(job.text)
    has_profile = value_at(entry, ("points",)) is not None
    fields = tuple(
        field.at(*place.path) for field in cutter_fields(has_profile, is_only=not place.is_one_of_several)
    )
    beside = (*fields, *(field.at(*place.path) for field in profile_fields()))
    kept = kept_profile(data, good, place.path)
    return ShownCutter(
        place,
        fields,
        None if entry is None else beside_shelf(shop, job, place.path, beside, reader),
        _look(good, place, entry, reader),
        {} if kept is None else profile_look(kept, reader),
        _trial_cuts(shop, job, data, place, reader),
    )


def _look(good: Job | None, place: CutterPlace, entry: Any, reader: Preferences) -> CutterPictures:
    """The cutter drawn: with its corner in a job without faults, else from its own entries alone."""
    from drawerwright.job.file.cutters import cutter_alone
    from drawerwright.job.pictures.cutter_pictures import any_cutter, cutter_of_job, one_cutter

    known = None if good is None else next((one for one in good.cutters if one.place == place.path), None)
    if good is not None and known is not None:
        return cutter_of_job(good, known, reader.lengths)
    alone = cutter_alone(entry, place.name)
    return any_cutter(reader.lengths) if alone is None else one_cutter(alone, reader.lengths)


def _trial_cuts(
    shop: Shop, job: JobRecord, data: Any, place: CutterPlace, reader: Preferences
) -> list[KeptCut]:
    """Every test cut made with a cutter of this name, in whatever job, the newest first; those of this job also
    where the cutter was called otherwise then."""
    from drawerwright.job.test_cuts.kept_cuts import cuts_with

    own_id = str(value_at(data, (*place.path, "id")) or place.name)
    called = {
        str(value_at(entry, ("id",)) or stock): stock for stock, entry in members_at(data, ("stock",)).items()
    }
    cuts = cuts_with(place, own_id, job.id, shop.shelf.list(ShelfKind.TRIAL_CUT))
    return [said_cut(entry, reader, called if is_own else None) for entry, is_own in reversed(cuts)]


def _only_on_shelf(entries: tuple[ShelfEntry, ...], data: Any) -> list[ShelfEntry]:
    own = {place.name for place in cutter_places(data)}
    return [entry for entry in entries if entry.name not in own]


async def add(request: Request) -> Response:
    """A further cutter; those that the job has keep their drawers."""
    form = await request.form()
    typed = {name: str(form.get(name, ""))[:LONGEST_NAME] for name in ADDED}
    return await asyncio.to_thread(_add, request, typed)


def _add(request: Request, typed: dict[str, str]) -> Response:
    from drawerwright.job.file.cutter_entries import add_cutter
    from drawerwright.job.file.job_entries import job_unit

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    reader, name = request.state.reader, typed["name"].strip()
    entry: dict[str, Any] = {
        "kind": typed["kind"] or None,
        **{
            measure: stored(typed[measure], "length", reader, job_unit(job.text))
            for measure in ("mid_depth", "step")
        },
    }
    try:
        text = add_cutter(job.text, name, {key: value for key, value in entry.items() if value is not None})
        kept = saved(shop, job, text, name_of((SEVERAL, name)))
    except (ConflictError, InvalidValueError) as error:
        context = {"job": job, **_adding(typed, str(error))}
        return shop.renderer.page(request, "cutter_add.html", context, status=422)
    return announced(shop, job, kept)


async def take(request: Request) -> Response:
    """A further cutter from the shop's shelf."""
    form = await request.form()
    entry_id = whole_number(str(form.get("entry", ""))) or 0
    return await asyncio.to_thread(_take, request, entry_id)


def _take(request: Request, entry_id: int) -> Response:
    from drawerwright.job.file.cutter_entries import add_cutter
    from drawerwright.job.file.file_units import in_unit
    from drawerwright.job.file.job_entries import job_unit
    from drawerwright.job.file.model import JobFile
    from drawerwright.job.shelf_parts import ShelfPart

    shop = shop_of(request)
    entry = shop.shelf.load(entry_id)
    brought = ShelfPart((SEVERAL, entry.name), entry.kind, entry.name).brought_by(entry)
    note = phrase("{name} copied from the shelf", name=entry.name)

    def added(text: str) -> str:
        return add_cutter(text, entry.name, in_unit(brought, JobFile, (SEVERAL, entry.name), job_unit(text)))

    return _changed(request, added, note)


async def rename(request: Request) -> Response:
    """Call one of several cutters by another name, wherever the job names it; its corners and their test cuts stay."""
    form = await request.form()
    old, new = (str(form.get(name, ""))[:LONGEST_NAME] for name in ("old", "name"))
    return await asyncio.to_thread(_rename, request, old, new)


def _rename(request: Request, old: str, new: str) -> Response:
    from drawerwright.job.renaming import rename_cutter

    note = phrase("cutter {old} is now {new}", old=old, new=new.strip())
    return _changed(request, lambda text: rename_cutter(text, old, new), note)


def _changed(request: Request, change: Callable[[str], str], note: str) -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    return save_and_announce(shop, job, change(job.text), note)


ROUTES = (
    Route("/jobs/{job_id:int}/cutter", page),
    Route("/jobs/{job_id:int}/cutter/add", add, methods=["POST"]),
    Route("/jobs/{job_id:int}/cutter/take", take, methods=["POST"]),
    Route("/jobs/{job_id:int}/cutter/rename", rename, methods=["POST"]),
)
