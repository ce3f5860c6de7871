"""Test cuts: what the calipers say or the eye sees, and what to change; history, and what was learnt."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase, plain
from drawerwright.store import ChangedMeanwhileError, JobRecord, ShelfEntry, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.pages.parts.corner_choice import meant_corner, shown_corner
from drawerwright.web.pages.parts.job_frame import CHANGES_TOO_FAST, job_id_of, job_page, last_good, saved
from drawerwright.web.pages.parts.kept_cut_rows import GAUGES, said_cut, seen_words
from drawerwright.web.pages.parts.sight import SEEN, pictures, questions_of
from drawerwright.web.pages.shelf_page import teach
from drawerwright.web.pages.test_cut_changes import back, change_cut, delete, look, release, restore, unlook
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.basics.uncertain import Estimate
    from drawerwright.job.planning.draft import Corner, JobDraft
    from drawerwright.job.test_cuts.goes_home import HomeQuestion
    from drawerwright.job.test_cuts.trial_reading import Trial
    from drawerwright.joints.correction import Correction
    from drawerwright.joints.learning import TrialCut

HEIGHT = GAUGES[0]
PIECES = ("flat", "upright")
CUTS = "cuts"
"""Under which name a fault stands that concerns no single field but what was read altogether."""


@dataclass(frozen=True, slots=True)
class Bench:
    """One corner of a job with the test cuts that count for it.

    `others` are test cuts of the job that count for none of its corners: their own is not known, or is no more.
    """

    job: JobRecord
    draft: JobDraft
    corner: Corner
    entries: tuple[ShelfEntry, ...]
    others: tuple[ShelfEntry, ...]
    trial: Trial

    @property
    def token(self) -> str:
        """The corner in addresses and forms."""
        return self.corner.key.token

    @property
    def stock_names(self) -> dict[str, str]:
        """What the job's stocks are called, by their ids."""
        return {stock.key: stock.name for stock in self.draft.job.stock.values()}

    def correction(self) -> Correction | None:
        """What the cuts say; None before the first.

        Raises:
            InvalidValueError: something impossible follows from what was read.
        """
        from drawerwright.job.test_cuts.correcting import correct_trial

        return correct_trial(self.trial) if self.trial.cuts else None

    def with_cut(self, text: str) -> Bench:
        """The bench as it is once a kept cut has joined the others."""
        from drawerwright.job.test_cuts.trial_reading import read_kept_cut

        return replace(self, trial=replace(self.trial, cuts=(*self.trial.cuts, read_kept_cut(text))))


def _bench(
    shop: Shop, job: JobRecord, token: str, choose: Callable[[Sequence[Corner], str], Corner] = meant_corner
) -> Bench | None:
    """The corner that `token` names, None while the job never was without faults.

    Raises:
        InvalidValueError: `choose` finds no such corner.
    """
    from drawerwright.job.planning.draft import draft_job
    from drawerwright.job.test_cuts.kept_cuts import key_of
    from drawerwright.job.test_cuts.trial_reading import Trial, corner_wanted, read_kept_cut

    good, _is_newest = last_good(shop, job)
    if good is None:
        return None
    draft = draft_job(good)
    corner = choose(draft.corners, token)
    keyed = [
        (key_of(data), entry)
        for entry in shop.shelf.list(ShelfKind.TRIAL_CUT)
        if (data := job_text.data_of(entry.text)).get("job") == job.id and not data.get("accepted")
    ]
    entries = tuple(entry for key, entry in keyed if key == corner.key)
    others = tuple(entry for key, entry in keyed if key not in draft.settings)
    trial = Trial(
        name=plain(corner.name),
        style=good.style,
        cutter=good.cutter,
        table=good.table,
        wanted=corner_wanted(corner.setting, good.fit_range),
        cuts=tuple(read_kept_cut(entry.text) for entry in entries),
    )
    return Bench(job, draft, corner, entries, others, trial)


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
    from drawerwright.drawings.test_pieces import reading_letters
    from drawerwright.job.planning.first_cut_odds import percent
    from drawerwright.job.test_cuts.correcting import learnt_entries
    from drawerwright.job.test_cuts.goes_home import home_questions
    from drawerwright.job.test_cuts.quarrels import quarrel_words
    from drawerwright.joints.correction import cut_at
    from drawerwright.joints.joint import joint_of
    from drawerwright.joints.setting_words import play_words

    bench = _bench(shop_of(request), job, corner, shown_corner)
    if bench is None:
        context: dict[str, Any] = {"bench": None, "faults": job_text.faults_of(job.text)}
        return job_page(request, "trial.html", "trial", job, context)
    reader: Preferences = request.state.reader
    trial, correction = bench.trial, None
    try:
        correction = bench.correction()
    except InvalidValueError as impossible:
        faults = {CUTS: str(impossible), **faults}
    questions = () if correction is None else home_questions(trial, correction)
    first = cut_at(bench.corner.setting, trial.table, trial.wanted)
    dial = _dial(correction, first)
    start = {**dial, "flat": first.flat_thickness.value, "upright": first.upright_thickness.value}
    shown = {name: reader.lengths.show(value, fine=True, with_unit=False) for name, value in start.items()}
    context = {
        "bench": bench,
        "corners": bench.draft.corners,
        "rules": joint_of(trial.cutter).rules,
        "seen_words": seen_words(),
        "typed": {**shown, **typed},
        "is_typed": bool(typed),
        "faults": faults,
        "first": first,
        "is_next": trial.table.settled is not None,
        "play_words": play_words(bench.corner.setting, reader.lengths, trial.table),
        "by_block": typed.get("by_block") if typed else bool(trial.cuts) and trial.cuts[-1].by_block,
        "correction": correction,
        "odds": _odds(bench, correction, questions, reader),
        "asked": questions_of(trial, bench.entries, questions),
        "is_open": any(question.is_open for question in questions),
        "percent": percent,
        "pictures": pictures(bench.corner.setting, reader),
        "pieces": _pieces(bench, reader),
        "letters": reading_letters(joint_of(trial.cutter)),
        "deleted": request.query_params.get("deleted", ""),
        "looked": request.query_params.get("looked", ""),
        "learnt": () if correction is None else _learnt(correction),
        "quarrels": () if correction is None else quarrel_words(correction),
        "is_settled": correction is not None and bool(learnt_entries(correction)),
        "history": [said_cut(entry, reader) for entry in bench.entries],
        "others": [said_cut(entry, reader, bench.stock_names) for entry in bench.others],
        "moved": request.query_params.get("moved", ""),
    }
    return job_page(request, "trial.html", "trial", job, context, status=status)


def _learnt(correction: Correction) -> list[tuple[str, Estimate, bool]]:
    """What is now known of each statement, and whether it is open which of some is wrong."""
    from drawerwright.joints.statements import Statement

    labels = {
        Statement.MID_DEPTH: _("Mid depth"),
        Statement.STEP: _("Step"),
        Statement.HEIGHT_GAUGE: _("Height gauge shows too much by"),
        Statement.FENCE_GAUGE: _("Fence scale shows too much by"),
    }
    learnt, disagreement = correction.learnt, correction.disagreement
    return [(label, learnt.stated(one), disagreement.is_open(one)) for one, label in labels.items()]


def _dial(correction: Correction | None, first: TrialCut) -> dict[str, float]:
    """What the gauges should show for the cut to come."""
    if correction is None:
        values = (first.height_shown.value, first.fence_flat_shown, first.fence_upright_shown)
    else:
        after = correction.next_cut
        values = (after.height_shown, after.fence_flat_shown, after.fence_upright_shown)
    return dict(zip(GAUGES, values, strict=True))


def _odds(
    bench: Bench, correction: Correction | None, questions: Sequence[HomeQuestion], reader: Preferences
) -> dict[str, Any]:
    """How sure the cut to come is: before the first test cut, as the job's first cut is everywhere."""
    from drawerwright.job.planning.first_cut_odds import card_words, corner_odds
    from drawerwright.job.test_cuts.correcting import next_cut_words
    from drawerwright.web.pages.parts.odds_pictures import misfit_picture

    trial = bench.trial
    if correction is None:
        odds = corner_odds(bench.draft, bench.corner)
        words = card_words(odds, trial.table, reader.lengths)
        known = odds.misfit_estimate if odds.is_judged else None
    else:
        words, known = next_cut_words(correction, questions), correction.next_cut.misfit
    fit, cutter = trial.wanted.fit, trial.cutter
    return {"words": words, "picture": "" if known is None else misfit_picture(known, fit, cutter, reader)}


def _pieces(bench: Bench, reader: Preferences) -> list[str]:
    """Where the calipers are held, with what they read where all is as wanted."""
    from drawerwright.drawings.svg import write_svg
    from drawerwright.drawings.test_pieces import draw_test_pieces

    scenes = draw_test_pieces(bench.corner.setting, style=reader.lengths)
    return [write_svg(scene, ground=False) for scene in scenes.values()]


async def save(request: Request) -> Response:
    """Keep a test cut."""
    form = await request.form()
    typed = {name: str(value)[:60] for name, value in form.items()}
    return await asyncio.to_thread(_save, request, typed)


def _save(request: Request, typed: Mapping[str, str]) -> Response:
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.plain_data import key_data
    from drawerwright.job.test_cuts.kept_cuts import KEY
    from drawerwright.joints.joint import joint_of

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    corner = typed.get("corner", "")
    bench = _bench(shop, job, corner)
    if bench is None:
        raise HTTPException(422, _("The job has faults; its pages say which."))
    form = LengthsForm(typed, request.state.reader)
    form.read((*GAUGES, *PIECES), over_zero=True)
    rules = joint_of(bench.draft.job.cutter).rules
    kinds = [str(rule.kind) for rule in rules]
    for rule in rules:
        if typed.get(rule.kind, "").strip():
            form.read([str(rule.kind)], least=0.0 if rule.is_seen_when_positive else None)
    if form.faults:
        return _page(request, job, corner, typed, form.faults, 422)
    readings = {kind: round(form.values[kind], 4) for kind in kinds if kind in form.values}
    seen = typed.get("seen", "")
    text = set_value("", ("job",), job.id)
    for name, value in {
        "cutter": bench.draft.job.cutter.name,
        "corner": plain(bench.corner.name),
        KEY: key_data(bench.corner.key),
        **{
            "block" if name == HEIGHT and typed.get("by_block") else name: round(form.values[name], 4)
            for name in (*GAUGES, *PIECES)
        },
        "readings": readings or None,
        "seen": seen if seen in SEEN else None,
    }.items():
        if value is not None:
            text = set_value(text, (name,), value)
    try:
        bench.with_cut(text).correction()
    except InvalidValueError as impossible:
        return _page(request, job, corner, typed, {CUTS: str(impossible)}, 422)
    shop.shelf.add(ShelfKind.TRIAL_CUT, f"{bench.draft.job.cutter.name}, {bench.corner.name}", text)
    return RedirectResponse(f"/jobs/{job.id}/trial?corner={bench.token}", 303)


def claim(request: Request) -> Response:
    """Let a test cut count for the corner shown; the page offers to undo it."""
    from drawerwright.job.plain_data import key_data
    from drawerwright.job.test_cuts.kept_cuts import CLAIMED
    from drawerwright.joints.joint import joint_of

    shop = shop_of(request)
    bench = _bench(shop, shop.jobs.load(job_id_of(request)), request.query_params.get("corner", ""))
    if bench is None:
        raise HTTPException(422, _("The job has faults; its pages say which."))
    counted = bench.with_cut(shop.shelf.load(int(request.path_params["entry_id"])).text)
    readable = joint_of(bench.draft.job.cutter).readings
    if any(reading.kind not in readable for reading in counted.trial.cuts[-1].readings):
        raise InvalidValueError(_("This cut has readings that another kind of joint shows."))
    counted.correction()
    change_cut(request, CLAIMED, key_data(bench.corner.key))
    return back(request, f"&moved={int(request.path_params['entry_id'])}")


def accept(request: Request) -> Response:
    """Write what was learnt into cutter and machine of the job and of the shop, all or nothing.

    The cuts it came from count no more.
    """
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.file.settled import LEARNT, settled_entry
    from drawerwright.job.test_cuts.correcting import learnt_entries

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    bench = _bench(shop, job, request.query_params.get("corner", ""))
    correction = None if bench is None else bench.correction()
    entries = () if correction is None else learnt_entries(correction)
    if bench is None or correction is None or not entries:
        raise HTTPException(422, _("There is nothing learnt yet."))
    text = job.text
    for path, value in entries:
        text = set_value(text, path, value)
    text = set_value(text, LEARNT, settled_entry(correction, bench.trial.table))
    try:
        with shop.database.writing():
            saved(shop, job, text, phrase("learnt from test cuts"))
            teach(shop, text, entries)
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
