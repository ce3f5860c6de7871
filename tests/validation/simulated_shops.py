"""Shops with a hidden truth, for judging what the evaluation of test cuts promises.

The wood's answer is written down here a second time, in plain arithmetic from the statement of the problem,
and shares no code with the package: a corner at bit height h has the play 2 m - h or stands proud by
(h - 2 m) x run / rise; its lip is F_flat + F_upright - t_upright - d.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from random import Random

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.contradictions import find_contradictions
from drawerwright.joints.correction import NextCut, first_cut, plan_next
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.learning import Item, Learnt, learn
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TakenReading, TrialCut
from drawerwright.joints.wanted import Wanted

CUTTER, GAUGE, REPEAT, CALIPERS, THICKNESS = 0.08, 0.1, 0.02, 0.03, 0.03
"""Standard uncertainties (mm): cutter's measures, offset of a gauge, dialling in, calipers, thickness."""
EYE = 0.02
"""How much play or standing proud the eye misses now and then (standard deviation, mm)."""
MOST_PLAY = 0.15

Plan = Sequence[str]
"""Names of caliper readings. `seat` is the play when the corner has any, else how far it stands proud;
`shoulder` is the gap at the shoulder when it has play, else what stands proud, read at the other end.
What is seen on the assembled corner, play or standing proud or neither, is always noted as well, unmeasured."""
THREE: Plan = ("seat", "shoulder", "deepest_cut")
LOOSE: Plan = ("roof", "deepest_cut", "shallow_cut", "neck", "head", "tip_to_slope")
"""All that calipers read on the loose pieces."""
SCANNED: Plan = ("cut_height", "top_to_slope", "cut_step", "deepest_cut")
"""What a scan of the flat piece tells."""
SCAN = 0.02
"""Standard uncertainty of what a scan tells (mm): rather more than benchmarks/scan.py finds."""


@dataclass
class Shop:
    """One shop: what its owner believes, and what is true."""

    random: Random
    plan: Plan = THREE
    sets_aside: bool = False
    """Whether what cannot be right together is set aside, as `correct` does; slow."""
    cutter_doubt: float = CUTTER
    gauge_doubt: float = GAUGE
    height_slip: float = 0.0
    """How far the height gauge is off beyond what its owner states (mm)."""
    depth_slip: float = 0.0
    """How far the mid depth is off beyond what its owner states (mm)."""
    reading_slip: float = 0.0
    """How far the first caliper reading of the first cut is off beyond what calipers do (mm)."""
    cutter: Cutter = field(init=False)
    table: RouterTable = field(init=False)
    wanted: Wanted = field(init=False)
    _judged: tuple[list[TrialCut], frozenset[Item]] | None = field(init=False, default=None)

    def __post_init__(self) -> None:
        rng = self.random
        self.mid_depth, self.step = rng.uniform(4.5, 7.5), rng.uniform(3.0, 4.5)
        self.slope = rng.choice((45.0, 55.0, 60.0))
        gauge, cutter = self.gauge_doubt, self.cutter_doubt
        self.height_offset, self.fence_offset = rng.gauss(0, gauge) + self.height_slip, rng.gauss(0, gauge)
        self.cutter = Cutter(
            "drawer-lock",
            mid_depth=Estimate(self.mid_depth + rng.gauss(0, cutter) + self.depth_slip, cutter),
            step=Estimate(self.step + rng.gauss(0, cutter), cutter),
            slope=Estimate(self.slope),
        )
        self.table = RouterTable(
            height_gauge=Estimate(0.0, gauge), fence_gauge=Estimate(0.0, gauge), repeatability=REPEAT
        )
        self.flat, self.upright = rng.uniform(14, 16), rng.uniform(14, 16)
        self.wanted = Wanted(
            Estimate(self.flat + rng.gauss(0, THICKNESS), THICKNESS),
            Estimate(self.upright + rng.gauss(0, THICKNESS), THICKNESS),
        )
        self.height = self.fence = math.nan
        self.cuts: list[TrialCut] = []

    def dial_first(self) -> None:
        """Set the machine as recommended before anything is learnt."""
        self._dial(first_cut(self.cutter, self.table, self.wanted), dial_height=True, dial_fence=True)

    def dial_next(self, *, always: bool = False) -> NextCut:
        """Set the machine as the evaluation of all cuts so far says; `always` dials even where it says leave."""
        following, _ = plan_next(self.cutter, self.table, self.cuts, self.wanted, self.left_out)
        if always and following.leaves_height:
            following = self._dialled_anyway(following)
        cut = replace(
            self.cuts[-1],
            height_shown=Estimate(following.height_shown),
            fence_flat_shown=following.fence_flat_shown,
            fence_upright_shown=following.fence_upright_shown,
            readings=(),
        )
        self._dial(
            cut,
            dial_height=always or not following.leaves_height,
            dial_fence=not following.leaves_fence,
        )
        return following

    def _dialled_anyway(self, following: NextCut) -> NextCut:
        learnt = self.learnt
        height = 2 * learnt.mid_depth.value - MOST_PLAY / 2
        # Gauge and cutter errors go together, so the step from the last cut is what is known best.
        last = learnt.setting(len(self.cuts) - 1).bit_height
        return replace(following, height_shown=self.cuts[-1].height_shown.value + height - last)

    def _dial(self, cut: TrialCut, *, dial_height: bool, dial_fence: bool) -> None:
        if dial_height:
            self.height = cut.height_shown.value - self.height_offset + self.random.gauss(0, REPEAT)
        if dial_fence:
            self.fence = cut.fence_flat_shown - self.fence_offset + self.random.gauss(0, REPEAT)
        self.cuts.append(cut)

    @property
    def play(self) -> float:
        """Signed: below zero the corner stands proud."""
        return 2 * self.mid_depth - self.height

    @property
    def fits(self) -> bool:
        return 0 <= self.play <= MOST_PLAY

    @property
    def left_out(self) -> frozenset[Item]:
        """What is set aside."""
        if not self.sets_aside:
            return frozenset()
        if self._judged is None or self._judged[0] != self.cuts:
            found = find_contradictions(self.cutter, self.table, self.cuts)
            self._judged = list(self.cuts), found.left_out
        return self._judged[1]

    @property
    def learnt(self) -> Learnt:
        return learn(self.cutter, self.table, self.cuts, leaving_out=self.left_out)

    def read(self) -> None:
        """Take the planned readings of the corner as it is, and note what is seen: play or standing proud."""
        loose = self.play > 0 and self.play + self.random.gauss(0, EYE) > 0
        proud = self.proud > 0 and self.proud + self.random.gauss(0, EYE) > 0
        readings = [
            TakenReading(ReadingKind.PLAY, None if loose else 0.0, EYE),
            TakenReading(ReadingKind.STANDS_PROUD, None if proud else 0.0, EYE),
        ]
        taken = [self._taken(name, proud) for name in self.plan]
        if len(self.cuts) == 1 and self.reading_slip:
            taken[0] = replace(taken[0], value=(taken[0].value or 0.0) + self.reading_slip)
        readings += taken
        self.cuts[-1] = replace(self.cuts[-1], readings=tuple(readings))

    @property
    def proud(self) -> float:
        return min(max(-self.play, 0.0) * math.tan(math.radians(self.slope)), self.step)

    def _taken(self, name: str, proud: bool) -> TakenReading:
        if name in ("seat", "shoulder"):
            kind = ReadingKind.PLAY if name == "seat" else ReadingKind.SHOULDER_GAP
            shown = self.proud if proud else max(self.play, 0.0)
            seen = shown + self.random.gauss(0, CALIPERS) if shown else 0.0
            return TakenReading(ReadingKind.STANDS_PROUD if proud else kind, max(seen, 0.0), CALIPERS)
        true = {
            "roof": self.flat - self.height,
            "deepest_cut": self.fence,
            "shallow_cut": self.fence - self.step,
            "neck": self.upright - self.fence,
            "head": self.upright - self.fence + self.step,
            "tip_to_slope": self.height - self.mid_depth,
            "lip": 2 * self.fence - self.upright - self.step - self.proud,
            "overlap": 2 * self.fence - self.step - self.proud,
            "cut_height": self.height,
            "top_to_slope": self.mid_depth,
            "cut_step": self.step,
        }[name]
        doubt = SCAN if self.plan is SCANNED else CALIPERS
        return TakenReading(ReadingKind(name), true + self.random.gauss(0, doubt), doubt)

    def truths(self, cut: int) -> dict[str, tuple[Estimate, float]]:
        """What the evaluation says, with what is true, after the last cut."""
        learnt = self.learnt
        return {
            "mid depth": (learnt.mid_depth, self.mid_depth),
            "step": (learnt.step, self.step),
            "height gauge": (learnt.height_gauge, self.height_offset),
            "fence gauge": (learnt.fence_gauge, self.fence_offset),
            "bit height": (learnt.estimate(cut, lambda s: s.bit_height), self.height),
            "fence": (learnt.estimate(cut, lambda s: s.fence_flat), self.fence),
            "misfit": (
                learnt.estimate(cut, lambda s: s.bit_height - 2 * s.cutter.mid_depth.value),
                -self.play,
            ),
        }


@dataclass
class Tally:
    """What a number of shops came to."""

    shops: int
    first: int = 0
    second: int = 0
    third: int = 0
    promised: float = 0.0
    covered: dict[str, int] = field(default_factory=dict)


def run_shops(
    shops: int,
    *,
    seed: int = 1,
    plan: Plan = THREE,
    always: bool = False,
    sets_aside: bool = False,
    **changes: float,
) -> Tally:
    """Three cuts in each of so many shops, which differ from the usual ones by `changes` (fields of `Shop`)."""
    tally = Tally(shops)
    for number in range(shops):
        shop = Shop(Random(seed * 1_000_003 + number), plan, sets_aside, **changes)
        shop.dial_first()
        tally.first += shop.fits
        shop.read()
        for name, (known, truth) in shop.truths(0).items():
            low, high = known.interval(0.95)
            tally.covered[name] = tally.covered.get(name, 0) + (low <= truth <= high)
        tally.promised += shop.dial_next(always=always).odds.fits
        tally.second += shop.fits
        shop.read()
        shop.dial_next(always=always)
        tally.third += shop.fits
    return tally
