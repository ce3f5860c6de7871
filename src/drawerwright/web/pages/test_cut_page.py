"""Test cuts: what the calipers say or the eye sees, and what to change; history, and what was learnt."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.store.records import ChangedMeanwhileError, JobRecord, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.every_field import fault_links
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.corner_choice import bench_only, corner_links, meant_corner, shown_corner
from drawerwright.web.pages.parts.day_choice import day_part
from drawerwright.web.pages.parts.draft_taken import taken
from drawerwright.web.pages.parts.job_frame import CHANGES_TOO_FAST, job_id_of, job_page, last_good, saved
from drawerwright.web.pages.parts.kept_cut_rows import said_cut, seen_words
from drawerwright.web.pages.test_cut_changes import back, change_cut, delete, look, release, restore, unlook
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.rendering import set_reader_of_form
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.draft import Corner
    from drawerwright.job.test_cuts.bench import Bench

CUTS = "cuts"
"""Under which name a fault stands that concerns no single field but what was read altogether."""


def _bench(
    shop: Shop, job: JobRecord, token: str, choose: Callable[[Sequence[Corner], str], Corner] = meant_corner
) -> Bench | None:
    """The corner that `token` names, None while the job never was without faults.

    Raises:
        InvalidValueError: `choose` finds no such corner.
    """
    from drawerwright.job.test_cuts.bench import bench_of

    good, _is_newest = last_good(shop, job)
    if good.job is None or good.draft is None:
        return None
    cuts = shop.shelf.list(ShelfKind.TRIAL_CUT)
    return bench_of(job.id, good.job, good.draft, choose(good.draft.corners, token), cuts)


def page(request: Request) -> Response:
    """The page."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    return _page(request, job, request.query_params.get("corner", ""), {}, {}, 200)


def _page(
    request: Request,
    job: JobRecord,
    corner: str,
    typed: Mapping[str, str],
    faults: Mapping[str, str],
    status: int,
) -> Response:
    from drawerwright.job.pictures.corner_pictures import (
        corner_as_seen,
        letters_on_test_pieces,
        test_piece_pictures,
    )
    from drawerwright.job.pictures.doubt_pictures import misfit_picture
    from drawerwright.job.planning.odds_words import percent
    from drawerwright.job.test_cuts.bench import learnt_rows
    from drawerwright.job.test_cuts.goes_home import home_questions
    from drawerwright.job.test_cuts.quarrels import quarrel_words

    good, _is_newest = last_good(shop_of(request), job)
    if good.draft is not None and not good.draft.corners:
        alone = bench_only(good.draft, request.state.reader.lengths)
        return job_page(request, "unshown.html", "trial", job, {"heading": _("Test cut"), **alone})
    bench = _bench(shop_of(request), job, corner, shown_corner)
    if bench is None:
        context: dict[str, Any] = {
            "bench": None,
            "faults": job_text.faults_of(job.text),
            "fault_links": fault_links(job.text),
        }
        return job_page(request, "trial.html", "trial", job, context)
    reader: Preferences = request.state.reader
    style, trial, setting, correction = reader.lengths, bench.trial, bench.corner.setting, None
    try:
        correction = bench.correction()
    except InvalidValueError as impossible:
        faults = {CUTS: str(impossible), **faults}
    questions = () if correction is None else home_questions(trial, correction)
    first = bench.first
    start = {
        **bench.dial(correction),
        "flat": first.flat_thickness.value,
        "upright": first.upright_thickness.value,
    }
    shown = {name: style.typed(value) for name, value in start.items()}
    odds = bench.odds(correction, questions, style)
    context = {
        "bench": bench,
        **corner_links(bench.draft.corners, bench.corner, style),
        "rules": bench.rules,
        "seen_words": seen_words(),
        "typed": {**shown, **typed},
        "is_typed": bool(typed),
        "faults": faults,
        "first": first,
        "is_next": trial.table.settled is not None,
        "play_words": bench.corner.play_words(style, trial.table),
        "by_block": typed.get("by_block") if typed else bench.by_block,
        "correction": correction,
        "odds_words": odds.words,
        "odds_picture": ""
        if odds.misfit is None
        else misfit_picture(odds.misfit, trial.wanted.fit, trial.cutter, style),
        "asked": bench.asked(questions),
        "is_open": any(question.is_open for question in questions),
        "percent": percent,
        "pictures": corner_as_seen(setting, style),
        "pieces": test_piece_pictures(setting, style),
        "letters": letters_on_test_pieces(setting),
        "deleted": request.query_params.get("deleted", ""),
        "looked": request.query_params.get("looked", ""),
        "learnt": () if correction is None else learnt_rows(correction),
        "quarrels": () if correction is None else quarrel_words(correction),
        "is_settled": correction is not None and bench.is_settled(correction),
        "history": [said_cut(entry, reader) for entry in bench.entries],
        "others": [said_cut(entry, reader, bench.stock_names) for entry in bench.others],
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
    from drawerwright.job.test_cuts.kept_cuts import GAUGES, HEIGHT

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    corner = typed.get("corner", "")
    bench = _bench(shop, job, corner)
    if bench is None:
        raise HTTPException(422, _("The job has faults; its pages show them."))
    form = LengthsForm(typed, request.state.reader)
    by_block = bool(typed.get("by_block"))
    measured = (*GAUGES, "flat", "upright")
    for name in measured:
        form.read([name], over_zero=True, with_doubt=name not in GAUGES or (by_block and name == HEIGHT))
    for rule in bench.rules:
        if typed.get(rule.kind, "").strip():
            least = 0.0 if rule.is_seen_when_positive else None
            form.read([str(rule.kind)], least=least, with_doubt=True)
    if form.faults:
        return _page(request, job, corner, typed, form.faults, 422)
    kinds = [str(rule.kind) for rule in bench.rules]
    seen = typed.get("seen", "")
    made = CutMade(
        {name: form.given(name) for name in measured},
        {kind: form.given(kind) for kind in kinds if kind in form.values},
        seen if seen in seen_words() else "",
        by_block,
    )
    try:
        text = bench.cut_text(made)
    except InvalidValueError as impossible:
        return _page(request, job, corner, typed, {CUTS: str(impossible)}, 422)
    shop.shelf.add(ShelfKind.TRIAL_CUT, f"{bench.trial.cutter.name}, {bench.corner.name}", text)
    if step := whole_number(typed.get("step", "")):
        return RedirectResponse(
            f"/jobs/{job.id}/run?view=one&step={step}{day_part(typed.get('day', ''))}", 303
        )
    return RedirectResponse(f"/jobs/{job.id}/trial?corner={bench.token}", 303)


def claim(request: Request) -> Response:
    """Let a test cut count for the corner shown; the page offers to undo it."""
    from drawerwright.job.plain_data import key_data
    from drawerwright.job.test_cuts.kept_cuts import CLAIMED

    shop = shop_of(request)
    bench = _bench(shop, shop.jobs.load(job_id_of(request)), request.query_params.get("corner", ""))
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

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    bench = _bench(shop, job, request.query_params.get("corner", ""))
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
