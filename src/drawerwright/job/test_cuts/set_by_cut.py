"""What the gauges have to show at a set-up of the run since a test cut of one of its corners was read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.parts import Role
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.run_list import plain_corners_to_test, setup_of
from drawerwright.job.test_cuts.bench import Bench, bench_of
from drawerwright.job.test_cuts.goes_home import home_questions
from drawerwright.job.test_cuts.kept_cuts import GAUGES, HEIGHT
from drawerwright.job.test_cuts.plain_bench import PlainBench, plain_bench_of
from drawerwright.run.steps import Step
from drawerwright.store.records import ShelfEntry

FENCE_OF = {Role.FLAT: GAUGES[1], Role.UPRIGHT: GAUGES[2]}


@dataclass(frozen=True, slots=True)
class GaugeShows:
    """What one gauge has to show (mm): its name in a kept cut, and what it is called."""

    name: str
    words: Phrase
    shown: Mm


@dataclass(frozen=True, slots=True)
class SetByCut:
    """A corner of a set-up whose test cuts count, and what follows from them for the gauges.

    With `asks` the page of test cuts has a question first; `words` say how sure it is, or what was wrong.
    """

    corner: str
    token: str
    gauges: tuple[GaugeShows, ...]
    asks: bool
    words: str


def set_by_cut(job_id: int, plan: JobPlan, step: Step, shelf: Sequence[ShelfEntry]) -> SetByCut | None:
    """What follows for a step from the test cuts of the first corner of its set-up that has any; None where none has.

    Nothing follows from cuts that contradict each other: their page says how.
    """
    setup = setup_of(plan, step)
    if setup is None:
        benches = (
            plain_bench_of(job_id, plan.draft, corner, shelf) for corner in plain_corners_to_test(plan, step)
        )
        return next(
            filter(None, (_plainly_followed(bench) for bench in benches if bench.entries or bench.learnt)),
            None,
        )
    for corner in plan.corners:
        setting = setup.corners.get(corner.key)
        if setting is None:
            continue
        bench = bench_of(job_id, plan.job, plan.draft, corner, shelf)
        found = None if not bench.entries else _followed(bench, setup.roles(setting)[0], plan.job.style)
        if found is not None:
            return found
    return None


def _plainly_followed(bench: PlainBench) -> SetByCut | None:
    try:
        found = bench.answer()
    except InvalidValueError:
        return None
    gauges = tuple(GaugeShows(each.setting.figure, each.setting.words, each.shown) for each in found.settings)
    words = found.lines[0] if found.lines else phrase("Learnt from accepted test cuts.")
    return SetByCut(bench.corner.name, bench.token, gauges, bool(found.quarrels), words)


def _followed(bench: Bench, role: Role, style: LengthStyle) -> SetByCut | None:
    try:
        correction = bench.correction()
    except InvalidValueError:
        return None
    if correction is None:
        return None
    questions = home_questions(bench.trial, correction)
    dial = bench.dial(correction)
    height = phrase("Plane a block to") if bench.by_block else phrase("Height gauge shows")
    fence = FENCE_OF[role]
    return SetByCut(
        bench.corner.name,
        bench.token,
        (
            GaugeShows(HEIGHT, height, dial[HEIGHT]),
            GaugeShows(fence, phrase("Fence scale shows"), dial[fence]),
        ),
        bool(questions) or not bench.is_settled(correction),
        bench.odds(correction, questions, style).words[0],
    )
