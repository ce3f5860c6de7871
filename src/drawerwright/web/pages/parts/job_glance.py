"""What the pages of a job say of it at a glance: what is next, and the sign of each page."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from drawerwright.store.records import JobRecord, ShelfEntry, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.every_field import field_of
from drawerwright.web.server.shop import Shop

if TYPE_CHECKING:
    from drawerwright.job.glance.at_a_glance import Glance, PlacedFinding
    from drawerwright.job.glance.tried_cuts import CornerCuts
    from drawerwright.job.planning.job_plan import JobPlan
    from drawerwright.web.work.background import State

KEPT_CUTS = 16


@lru_cache(maxsize=KEPT_CUTS)
def _cuts(job_id: int, text: str, shelf: tuple[ShelfEntry, ...]) -> tuple[CornerCuts, ...]:
    from drawerwright.job.glance.tried_cuts import cuts_of_corners

    draft = job_text.shown(text).draft
    return () if draft is None else cuts_of_corners(job_id, draft, shelf)


def cuts_to_follow(shop: Shop, job: JobRecord) -> tuple[CornerCuts, ...]:
    """Corners whose test cuts ask for other settings than the job has."""
    cuts = _cuts(job.id, job.text, tuple(shop.shelf.list(ShelfKind.TRIAL_CUT)))
    return tuple(one for one in cuts if one.asks.is_about_the_cut and one.to_set)


def plans_of(shop: Shop, job: JobRecord, patience: float | None) -> State[tuple[JobPlan, ...]]:
    """Every plan of a job; None waits for none and begins none."""
    found = job_text.job_of(job.text)
    is_split = found is not None and bool(found.days)
    return shop.plans.every_plan(job.text, patience, job.id, is_split=is_split)


def glance_of(shop: Shop, job: JobRecord, state: State[tuple[JobPlan, ...]]) -> Glance:
    """A job at a glance, with as much of its plans as there is."""
    from drawerwright.job.glance.at_a_glance import JobFacts, at_a_glance

    shelf = tuple(shop.shelf.list(ShelfKind.TRIAL_CUT))
    return at_a_glance(
        JobFacts(
            job_text.data_of(job.text),
            job_text.shown(job.text),
            state.made or (),
            state.fault,
            _cuts(job.id, job.text, shelf),
            frozenset(shop.progress.load(job.id).ticked),
            is_cut(shop, job),
        )
    )


def is_cut(shop: Shop, job: JobRecord) -> bool:
    """Whether the run of a job is booked at the rack; of one that is split, that of each day."""
    booked = {run.day for run in shop.rack.runs(job.id)}
    found = job_text.job_of(job.text)
    days = found.days if found is not None else ()
    return booked >= set(range(1, len(days) + 1)) if days else bool(booked)


def signs_of(shop: Shop, job: JobRecord) -> Mapping[str, str]:
    """How far each page of a job is; nothing is planned for it."""
    glance = glance_of(shop, job, plans_of(shop, job, None))
    return {str(topic): str(sign) for topic, sign in glance.signs.items()}


def finding_place(job: JobRecord, placed: PlacedFinding) -> tuple[str, str] | None:
    """Where the entry that a finding concerns is typed, and what its field is called."""
    found = field_of(job.text, placed.entry) if placed.entry else None
    if found is None:
        return None
    place, label = found
    return f"/jobs/{job.id}/{place}", label


def drawer_link(job: JobRecord, name: str) -> str:
    """Where a drawer is worked on."""
    return f"/jobs/{job.id}/drawers?{urlencode({'drawer': name})}"
