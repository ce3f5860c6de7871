"""Why a long row of fingers binds: what a small error at each step comes to at the end of the row.

Each notch is placed by the one before it, which sits on the jig's pin. Two things go wrong on the way:

- the notch can move on the pin by its slack: each step of either piece is off by some of it, and the steps of both
  pieces add up at random, with the root of their number;
- the two pieces may be spaced a little differently (another jig, or one pushed against the left of the pin and the
  other against the right): that adds up step by step.

A pitch that is wrong for both pieces alike does not add up, since both rows are longer by as much; it makes fingers
and notches differ, which the first finger shows.

Off at the last of n steps, to the first order: ``u² = (n u_pitch)² + 2 n u_step²``. The row goes together where the
offsets of all its fingers lie within the clearance of each other. Derived for this project; the tests compare both
with plain draws of every step.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from drawerwright.basics.lengths import Mm

PIN_SLACK: Mm = 0.05
"""How far a notch can be moved on a pin that it slides over without force (common practice, no source)."""
PITCH_DOUBT: Mm = 0.005
"""How far the pitch of one piece differs from that of the other, a standard uncertainty (common practice, no
source)."""
SURE = 2.0
"""So many standard uncertainties are counted on."""
DRAWS = 20_000
SEED = 7


@dataclass(frozen=True, slots=True)
class RowDoubt:
    """What each step along a row may be off (mm): slack on the pin, and a difference of pitch between the pieces (a
    standard uncertainty)."""

    slack: Mm = PIN_SLACK
    pitch: Mm = PITCH_DOUBT

    @property
    def step(self) -> Mm:
        """Standard uncertainty of one step of one piece: anywhere within the slack."""
        return self.slack / math.sqrt(12)

    def off_at(self, steps: int) -> Mm:
        """Standard uncertainty of how far a finger is off its notch after so many steps, to the first order."""
        return math.hypot(steps * self.pitch, math.sqrt(2 * steps) * self.step)

    def longest(self, clearance: Mm) -> int | None:
        """The most steps after which a finger still finds its notch: twice `off_at` is within the clearance. None
        where nothing adds up."""
        slope, spread = (SURE * self.pitch) ** 2, 2 * (SURE * self.step) ** 2
        if slope == 0:
            return None if spread == 0 else math.floor(clearance**2 / spread + 1e-9)
        return math.floor((math.sqrt(spread**2 + 4 * slope * clearance**2) - spread) / (2 * slope) + 1e-9)

    def goes_together(self, steps: int, clearance: Mm) -> float:
        """Odds that a row with so many steps goes together, by draws (0 to 1)."""
        return _goes_together(self, steps, clearance)


@lru_cache(maxsize=256)
def _goes_together(doubt: RowDoubt, steps: int, clearance: Mm) -> float:
    import numpy as np

    if steps < 1:
        return 1.0
    random = np.random.default_rng(SEED)
    half = doubt.slack / 2
    walked = random.uniform(-half, half, (DRAWS, steps)) - random.uniform(-half, half, (DRAWS, steps))
    pitch = random.normal(0.0, doubt.pitch, (DRAWS, 1)) if doubt.pitch else 0.0
    off = np.concatenate([np.zeros((DRAWS, 1)), np.cumsum(walked + pitch, axis=1)], axis=1)
    return float(np.mean(np.ptp(off, axis=1) <= clearance + 1e-12))
