"""Test cuts: what the calipers say or the eye sees, and what to change; history, and what was learnt."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.store.records import ChangedMeanwhileError, JobRecord, ShelfEntry, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.every_field import fault_links
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.corner_choice import bench_only, corner_links, meant_corner, shown_corner
from drawerwright.web.pages.parts.cut_again import CHANGED, typed_again
from drawerwright.web.pages.parts.day_choice import day_part
from drawerwright.web.pages.parts.draft_taken import taken
from drawerwright.web.pages.parts.job_frame import CHANGES_TOO_FAST, job_id_of, job_page, last_good, saved
from drawerwright.web.pages.parts.kept_cut_rows import said_cut, seen_words
from drawerwright.web.pages.parts.kept_pictures import numbers_in, pictures_of
from drawerwright.web.pages.parts.said_of_cuts import cutter_bench, plain_bench
from drawerwright.web.pages.test_cut_changes import (
    back,
    change_cut,
    delete,
    look,
    own,
    release,
    restore,
    unlook,
)
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.rendering import set_reader_of_form
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.corners import PlainJobCorner
    from drawerwright.job.planning.draft import Corner, JobDraft
    from drawerwright.job.scan.scanned_test_cut import ScannedTestCut
    from drawerwright.job.test_cuts.bench import Bench
    from drawerwright.job.test_cuts.plain_bench import PlainBench

CUTS = "cuts"
"""Under which name a fault stands that concerns no single field but what was read altogether."""


def bench_at(
    shop: Shop, job: JobRecord, token: str, *, is_meant: bool = True, but: int | None = None
) -> Bench | PlainBench | None:
    """The corner that `token` names with its test cuts `but` one, None while the job never was without faults.

    Raises:
        InvalidValueError: the corner `is_meant` and the job has no such corner; else its first one is shown.
    """
    from drawerwright.job.planning.draft import Corner
    from drawerwright.job.test_cuts.bench import bench_of
    from drawerwright.job.test_cuts.plain_bench import plain_bench_of

    good, _is_newest = last_good(shop, job)
    if good.job is None or good.draft is None:
        return None
    cuts = [cut for cut in shop.shelf.list(ShelfKind.TRIAL_CUT) if cut.id != but]
    corners = _corners(good.draft)
    corner = meant_corner(corners, token) if is_meant else shown_corner(corners, token)
    if isinstance(corner, Corner):
        return bench_of(job.id, good.job, good.draft, corner, cuts)
    return plain_bench_of(job.id, good.draft, corner, cuts)


def _corners(draft: JobDraft) -> tuple[Corner | PlainJobCorner, ...]:
    """The corners of a job that are tried on scraps."""

    return (*draft.corners, *draft.tested_plain_corners)


def page(request: Request) -> Response:
    """The page."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    corner, changed = (
        request.query_params.get("corner", ""),
        whole_number(request.query_params.get(CHANGED, "")),
    )
    bench = None if changed is None else bench_at(shop, job, corner, is_meant=False)
    if changed is None or bench is None:
        return cut_page(request, job, corner, {}, {}, 200)
    entry = shop.shelf.load(changed)
    own(shop, job.id, entry)
    return cut_page(request, job, corner, typed_again(bench, entry, request.state.reader.lengths), {}, 200)


def cut_page(
    request: Request,
    job: JobRecord,
    corner: str,
    typed: Mapping[str, str],
    faults: Mapping[str, str],
    status: int,
    scanned: ScannedTestCut | None = None,
) -> Response:
    from drawerwright.job.test_cuts.bench import Bench, stock_names

    good, _is_newest = last_good(shop_of(request), job)
    if good.draft is not None and not _corners(good.draft):
        alone = bench_only(good.draft, request.state.reader.lengths)
        return job_page(request, "unshown.html", "trial", job, {"heading": _("Test cut"), **alone})
    bench = bench_at(shop_of(request), job, corner, is_meant=False)
    if bench is None:
        context: dict[str, Any] = {
            "bench": None,
            "faults": job_text.faults_of(job.text),
            "fault_links": fault_links(job.text),
        }
        return job_page(request, "trial.html", "trial", job, context)
    reader: Preferences = request.state.reader
    style = reader.lengths
    said = cutter_bench(bench, style, typed) if isinstance(bench, Bench) else plain_bench(bench, style)
    shown = {name: style.typed(value) for name, value in said.start.items()}
    context = {
        "bench": bench,
        **corner_links(_corners(bench.draft), bench.corner, style),
        "asked_about": bench.asked_about,
        "rules": bench.rules,
        "section_rules": bench.of_sections,
        "reads_pictures": bool(bench.of_sections),
        "scanned": scanned,
        "scanners": [one.name for one in shop_of(request).shelf.list(ShelfKind.SCANNER)],
        "stretches": () if scanned is None else scanned.stretches,
        "kept_pictures": numbers_in(typed),
        "pictures_of": pictures_of(shop_of(request), job.id),
        "seen_words": seen_words(),
        "typed": {**shown, **typed},
        "is_typed": request.method == "POST",
        "changed": whole_number(typed.get(CHANGED, "")),
        "faults": {**({} if said.fault is None else {CUTS: said.fault}), **faults},
        "said": said,
        "deleted": request.query_params.get("deleted", ""),
        "looked": request.query_params.get("looked", ""),
        "history": [said_cut(entry, reader) for entry in bench.entries],
        "others": [said_cut(entry, reader, stock_names(bench.draft)) for entry in bench.others],
        "moved": request.query_params.get("moved", ""),
        "step": whole_number(typed.get("step", request.query_params.get("step", ""))),
        "day": typed.get("day", request.query_params.get("day", "")),
    }
    return job_page(request, "trial.html", "trial", job, context, status=status)


async def save(request: Request) -> Response:
    """Keep a test cut."""
    form = await request.form()
    set_reader_of_form(request, form)
    typed = {name: str(value)[:60] for name, value in form.items()}
    return taken(await asyncio.to_thread(_save, request, typed), form)


def _save(request: Request, typed: Mapping[str, str]) -> Response:
    from drawerwright.job.test_cuts.bench import CutMade
    from drawerwright.job.test_cuts.kept_cuts import HEIGHT

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    corner, changed = typed.get("corner", ""), whole_number(typed.get(CHANGED, ""))
    bench = bench_at(shop, job, corner, but=changed)
    if bench is None:
        raise HTTPException(422, _("The job has faults; its pages show them."))
    form = LengthsForm(typed, request.state.reader)
    by_block = bool(typed.get("by_block"))
    for one in bench.asked_about:
        form.read([one.field], over_zero=True, with_doubt=one.with_doubt or (by_block and one.name == HEIGHT))
    rules = (*bench.rules, *bench.of_sections)
    for rule in rules:
        if typed.get(rule.field, "").strip():
            form.read([rule.field], over_zero=rule.is_size, least=rule.least, with_doubt=True)
    if form.faults:
        return cut_page(request, job, corner, typed, form.faults, 422)
    seen = typed.get("seen", "")
    made = CutMade(
        {one.name: form.given(one.field) for one in bench.asked_about},
        {rule.name: form.given(rule.field) for rule in rules if rule.field in form.values},
        seen if seen in seen_words() else "",
        by_block,
    )
    try:
        text = bench.cut_text(made)
    except InvalidValueError as impossible:
        return cut_page(request, job, corner, typed, {CUTS: str(impossible)}, 422)
    entry = _kept(shop, job, bench.title, text, changed)
    shop.pictures.attach(job.id, numbers_in(typed), entry.id)
    if step := whole_number(typed.get("step", "")):
        return RedirectResponse(
            f"/jobs/{job.id}/run?view=one&step={step}{day_part(typed.get('day', ''))}", 303
        )
    return RedirectResponse(f"/jobs/{job.id}/trial?corner={bench.token}", 303)


def _kept(shop: Shop, job: JobRecord, title: str, text: str, changed: int | None) -> ShelfEntry:
    """The cut on the shelf: a new one, or in the place of the one that is `changed`, with its pictures."""
    if changed is None:
        return shop.shelf.add(ShelfKind.TRIAL_CUT, title, text)
    before = shop.shelf.load(changed)
    own(shop, job.id, before)
    return shop.shelf.save(before.id, text, name=title, base=before.version)


def claim(request: Request) -> Response:
    """Let a test cut count for the corner shown; the page offers to undo it."""
    from drawerwright.job.plain_data import key_data
    from drawerwright.job.test_cuts.kept_cuts import CLAIMED

    shop = shop_of(request)
    bench = bench_at(shop, shop.jobs.load(job_id_of(request)), request.query_params.get("corner", ""))
    if bench is None:
        raise HTTPException(422, _("The job has faults; its pages show them."))
    entry_id = int(request.path_params["entry_id"])
    bench.check_claim(shop.shelf.load(entry_id).text)
    change_cut(request, CLAIMED, key_data(bench.corner.key))
    return back(request, f"&moved={entry_id}")


def accept(request: Request) -> Response:
    """Write what was learnt into cutter and machine of the job and of the shop, all or nothing.

    The cuts it came from count no more.
    """
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.shelf_parts import teach_shelf
    from drawerwright.job.test_cuts.bench import Bench

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    bench = bench_at(shop, job, request.query_params.get("corner", ""))
    if bench is not None and not isinstance(bench, Bench):
        return _accept_joint(shop, job, bench)
    correction = None if bench is None else bench.correction()
    text, entries = (
        (job.text, ()) if bench is None or correction is None else bench.taught(job.text, correction)
    )
    if bench is None or not entries:
        raise HTTPException(422, _("Nothing learnt yet."))
    try:
        with shop.database.writing():
            saved(shop, job, text, phrase("learnt from test cuts"))
            teach_shelf(shop.shelf, text, entries)
            for entry in bench.entries:
                accepted = set_value(entry.text, ("accepted",), True)
                shop.shelf.save(entry.id, accepted, name=entry.name, base=entry.version)
    except ChangedMeanwhileError:
        raise InvalidValueError(CHANGES_TOO_FAST) from None
    shop.hub.announce(job.id)
    return RedirectResponse(f"/jobs/{job.id}/cutter", 303)


def _accept_joint(shop: Shop, job: JobRecord, bench: PlainBench) -> Response:
    """Write what was learnt of a joint without a cutter into the job; the cuts it came from count no more."""
    from drawerwright.job.file.editing import set_value

    if not bench.can_accept:
        raise HTTPException(422, _("Nothing learnt yet."))
    try:
        with shop.database.writing():
            saved(shop, job, bench.taught(job.text), phrase("learnt from test cuts"))
            for entry in (*bench.entries, *bench.former_entries):
                accepted = set_value(entry.text, ("accepted",), True)
                shop.shelf.save(entry.id, accepted, name=entry.name, base=entry.version)
    except ChangedMeanwhileError:
        raise InvalidValueError(CHANGES_TOO_FAST) from None
    shop.hub.announce(job.id)
    return RedirectResponse(f"/jobs/{job.id}/trial?corner={bench.token}", 303)


ROUTES = (
    Route("/jobs/{job_id:int}/trial", page),
    Route("/jobs/{job_id:int}/trial", save, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/accept", accept, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/{entry_id:int}/delete", delete, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/{entry_id:int}/restore", restore, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/{entry_id:int}/claim", claim, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/{entry_id:int}/release", release, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/{entry_id:int}/unlook", unlook, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/{entry_id:int}/look/{seen}", look, methods=["POST"]),
)
