"""How well a middle is found from readings, and how long mating and seating take.

    python benchmarks/mating.py [--trials N]

Hidden cutters (mid depth 4.5 to 6.5 mm, step 2.5 to 4 mm, or a lock-mitre of 18 mm) are read at 40 depths,
evenly spaced, with 0.02 mm of noise. Printed for each kind: how often the mid depth is within 0.02 mm and the
step within 0.01 mm, how often the stated 95 % interval holds the truth, how often a perfect cutter is called
one that does not mate, and milliseconds per answer. Then the time of one seating.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from drawerwright.joints.corner import Cuts
from drawerwright.joints.fit import seat
from drawerwright.joints.mate import Verdict, find_middle
from drawerwright.joints.profile import Profile, drawer_lock_profile, lock_mitre_profile

Row = NDArray[np.float64]
NOISE, POINTS = 0.02, 40
MITRE_STOCK = 18.0


def insets(profile: Profile) -> Callable[[Row], Row]:
    return lambda depths: np.array([profile.inset(float(z)) for z in depths])


def ogee(m: float, d: float, reach: float) -> Callable[[Row], Row]:
    return lambda z: d / 2 + d / 2 * np.sin(np.clip((z - m) / reach, -1, 1) * np.pi / 2)


def hidden(kind: str, rng: np.random.Generator) -> tuple[float, float, Callable[[Row], Row], float | None]:
    m, d = rng.uniform(4.5, 6.5), rng.uniform(2.5, 4)
    if kind == "ogee":
        return m, d, ogee(m, d, rng.uniform(1.5, 2.5)), None
    if kind == "lock-mitre":
        m, d = rng.uniform(10, 12), MITRE_STOCK
        return m, d, insets(lock_mitre_profile(m, d)), MITRE_STOCK
    return m, d, insets(drawer_lock_profile(m, d, float(kind.split()[-1]))), None


def middles(kind: str, trials: int) -> str:
    rng = np.random.default_rng(3)
    m_hits = d_hits = m_held = d_held = alarms = 0
    began = time.perf_counter()
    for _ in range(trials):
        m, d, edge, thickness = hidden(kind, rng)
        depths = np.linspace(0, 15 if thickness is None else 22, POINTS)
        read = edge(depths) + rng.normal(0, NOISE, POINTS)
        mate = find_middle(
            list(zip(depths.tolist(), read.tolist(), strict=True)), uncertainty=NOISE, thickness=thickness
        )
        m_hits += abs(mate.mid_depth.value - m) <= 0.02
        d_hits += abs(mate.step.value - d) <= 0.01
        m_held += mate.mid_depth.interval()[0] <= m <= mate.mid_depth.interval()[1]
        d_held += mate.step.interval()[0] <= d <= mate.step.interval()[1]
        alarms += mate.verdict is Verdict.FAILS
    spent = (time.perf_counter() - began) / trials * 1000
    shares = "  ".join(f"{100 * n / trials:5.1f} %" for n in (m_hits, d_hits, m_held, d_held, alarms))
    return f"{kind:14} {shares}  {spent:5.0f} ms"


def seating() -> str:
    cases = {
        "drawer-lock": Cuts(drawer_lock_profile(6, 3.2, 50), 18, 15, 11.9, 9.0, 9.2),
        "lock-mitre": Cuts(lock_mitre_profile(11, 18), 15, 15, 18.6, 16.5, 16.5),
        "60 points": Cuts(_curve(60), 18, 15, 11.9, 9.0, 9.2),
        "400 points": Cuts(_curve(400), 18, 15, 11.9, 9.0, 9.2),
    }
    lines = []
    for name, cuts in cases.items():
        times = []
        for _ in range(30):
            began = time.perf_counter()
            seat(cuts, 3.2)
            times.append((time.perf_counter() - began) * 1000)
        lines.append(f"seating, {name:12} median {np.median(times):6.2f} ms, longest {max(times):6.2f} ms")
    return "\n".join(lines)


def _curve(points: int) -> Profile:
    depths = np.linspace(0, 20, points)
    return Profile.measured(list(zip(depths.tolist(), ogee(6, 3.2, 2.0)(depths).tolist(), strict=True)))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--trials", type=int, default=300)
    trials = parser.parse_args().trials
    print(f"{trials} hidden cutters of each kind, {POINTS} readings, noise {NOISE} mm")
    print("kind           m in .02  d in .01  m held   d held   alarms   time")
    for kind in ("slope 30", "slope 45", "slope 60", "slope 70", "slope 80", "ogee", "lock-mitre"):
        print(middles(kind, trials), flush=True)
    print(seating())


if __name__ == "__main__":
    main()
