"""The order of work as a checklist for a phone at the machine."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.store.records import JobRecord, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.day_choice import day_context, day_part
from drawerwright.web.pages.parts.job_frame import job_id_of
from drawerwright.web.pages.parts.planned import planned_page
from drawerwright.web.pages.rack_page import rack_context
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.job_plan import JobPlan

LONGEST_NOTE = 2000
LONGEST_KEY = 200
CAUTIONS_READ = "drawerwright_cautions"
"""The cookie with the marks of the cautions that were read on this device."""


def page(request: Request) -> Response:
    """The page: every step, or one step on the screen."""
    return planned_page(request, "run", _("Run"), "run_part.html", _content)


def _content(request: Request, job: JobRecord, plan: JobPlan) -> Mapping[str, Any]:
    from drawerwright.job.made_parts import Standing, compared_parts, kept_text, made_by, read_kept
    from drawerwright.job.papers.part_labels import ASKED_PART
    from drawerwright.job.pictures.run_pictures import setup_pictures, step_sheet_pictures
    from drawerwright.job.planning.fence_costs import choice_in_words, compared_plans
    from drawerwright.job.run_list import (
        asked_part,
        cautions_mark,
        corners_to_test,
        plain_corners_to_test,
        step_keys,
        step_stops,
        steps_that_set_up,
        tick_names,
        ticks_left_over,
    )
    from drawerwright.job.test_cuts.set_by_cut import set_by_cut

    shop = shop_of(request)
    progress = shop.progress.load(job.id)
    style = request.state.reader.lengths
    days = day_context(request, job)
    steps, keys = plan.run.steps, step_keys(plan, days["day"])
    names = tick_names(plan, progress.ticked, days["day"])
    is_ticked = [name in progress.ticked for name in names]
    at = is_ticked.index(False) if False in is_ticked else len(keys) - 1
    asked = None
    if mark := request.query_params.get(ASKED_PART, ""):
        asked = asked_part(plan, mark[:LONGEST_KEY], is_ticked)
        at = at if asked.place is None else asked.place
    is_single = request.query_params.get("view") == "one" or asked is not None
    chosen = whole_number(request.query_params.get("step", ""))
    if chosen is not None and 1 <= chosen <= len(keys):
        at = chosen - 1
    shown = [at] if is_single else range(len(keys))
    at_setups = {steps[index].setup for index in shown}
    first_of_setup = steps_that_set_up(plan)
    cuts = shop.shelf.list(ShelfKind.TRIAL_CUT)
    whole = job_text.shown(job.text).draft or plan.draft  # parts are made on whichever day
    compared = compared_parts(read_kept(progress.made.values()), whole.parts)
    return {
        "made": {index: kept_text(made_by(steps[index].work, plan.parts)) for index in shown},
        "made_parts": [each for each in compared if each.standing is not Standing.FITS],
        "fitting": sum(1 for each in compared if each.standing is Standing.FITS),
        "stops": {index: step_stops(plan, steps[index]) for index in shown},
        "progress": progress,
        "steps": [(index, keys[index], names[index], steps[index]) for index in shown],
        "left_over": ticks_left_over(plan, progress.ticked, days["day"], len(days["days"])),
        "count": len(keys),
        "done": sum(is_ticked),
        "setups": {setup.number: setup for setup in plan.run.setups},
        "drawn": {
            setup.number: setup_pictures(setup, style, plan.job.table.feed)
            for setup in plan.run.setups
            if setup.number in at_setups
        },
        # A list of many sheets is for reading ahead; the drawing that is cut from comes with its one step.
        "sheets_drawn": step_sheet_pictures(plan, steps[at]) if is_single else [],
        "fence_plans": compared_plans(plan.draft.fences),
        "fence_choice": choice_in_words(plan.draft.fences),
        "is_single": is_single,
        "asked": asked,
        **rack_context(request, job, plan),
        "at": at,
        "first_of_setup": first_of_setup,
        "cautions_mark": cautions_mark(plan),
        "are_cautions_read": cautions_mark(plan) in request.cookies.get(CAUTIONS_READ, "").split("."),
        "to_test": (*corners_to_test(plan, steps[at]), *plain_corners_to_test(plan, steps[at]))
        if is_single
        else (),
        "set_by_cuts": {
            index: set_by_cut(job.id, plan, steps[index], cuts)
            for index in shown
            if is_single or index in first_of_setup or steps[index].setup is None
        },
        **({"query": f"{days['and_day']}&view=one&step={at + 1}"} if is_single else {}),
    }


async def tick(request: Request) -> Response:
    """Tick a step, or take the tick back."""
    form = await request.form()
    step, is_done = str(form.get("step", ""))[:LONGEST_KEY], form.get("done") == "yes"
    return await asyncio.to_thread(_tick, request, step, is_done=is_done, made=_told_made(form))


def _told_made(form: Mapping[str, Any]) -> str:
    """What a page tells of the parts that a step made; nothing where that is too long to be so."""
    from drawerwright.job.made_parts import LONGEST_TEXT

    told = str(form.get("made", ""))
    return told if len(told) <= LONGEST_TEXT else ""


def _tick(request: Request, step: str, *, is_done: bool, made: str = "") -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    version = shop.progress.tick(job.id, step, is_done=is_done, made=made).version
    return _told(request, job.id, version)


async def tick_and_go_on(request: Request) -> Response:
    """Tick a step and show another, in one go: nobody moves on from a step whose tick was lost."""
    form = await request.form()
    step, other = str(form.get("step", ""))[:LONGEST_KEY], whole_number(str(form.get("next", "")))
    day = day_part(str(form.get("day", "")))
    path = f"/jobs/{job_id_of(request)}/run"
    await asyncio.to_thread(_tick, request, step, is_done=True, made=_told_made(form))
    return RedirectResponse(
        f"{path}?{day[1:]}" if other is None else f"{path}?view=one&step={other}{day}", 303
    )


async def tick_all(request: Request) -> Response:
    """Take several ticks back, or undo that."""
    form = await request.form()
    steps = [str(step)[:LONGEST_KEY] for step in form.getlist("step")]
    made = dict(zip(steps, map(str, form.getlist("made")), strict=False))
    return await asyncio.to_thread(_tick_all, request, steps, made, is_done=form.get("done") == "yes")


def _tick_all(request: Request, steps: list[str], made: Mapping[str, str], *, is_done: bool) -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    before = shop.progress.load(job.id).made
    version = shop.progress.tick_all(job.id, steps, is_done=is_done, made=made).version
    told = _told(request, job.id, version)
    context = {"job": job, "taken": () if is_done else steps, "made": before}
    answer = shop.renderer.page(request, "ticks_taken.html", context)
    answer.headers["hx-trigger"] = told.headers["hx-trigger"]
    return answer


async def note(request: Request) -> Response:
    """Write the note of a step."""
    form = await request.form()
    step, text = str(form.get("step", ""))[:LONGEST_KEY], str(form.get("text", "")).strip()[:LONGEST_NOTE]
    return await asyncio.to_thread(_note, request, step, text)


def _note(request: Request, step: str, text: str) -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    return _told(request, job.id, shop.progress.write_note(job.id, step, text).version)


def _told(request: Request, job_id: int, version: int) -> Response:
    shop_of(request).hub.announce(job_id)
    return Response(status_code=204, headers={"hx-trigger": f'{{"versions": {{"progress": {version}}}}}'})


ROUTES = (
    Route("/jobs/{job_id:int}/run", page),
    Route("/jobs/{job_id:int}/run/tick", tick, methods=["POST"]),
    Route("/jobs/{job_id:int}/run/ticks", tick_all, methods=["POST"]),
    Route("/jobs/{job_id:int}/run/done", tick_and_go_on, methods=["POST"]),
    Route("/jobs/{job_id:int}/run/note", note, methods=["POST"]),
)
