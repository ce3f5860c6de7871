"""How well a middle is found from readings, and how long mating and seating take.

    python benchmarks/mating.py [--trials N]

Hidden cutters (mid depth 4.5 to 6.5 mm, step 2.5 to 4 mm, or a lock-mitre of 18 mm) are read at 40 depths with
0.02 mm of noise: evenly spaced, at random depths, or placed as docs/joints.md advises. Printed for each kind: how
often the mid depth is within 0.02 mm and the step within 0.01 mm, and beside each in brackets how often that is
possible at all with these readings; how often the stated 95 % interval holds the truth; how often a perfect
cutter is called one that does not mate; and milliseconds per answer. Then the time of one
seating with all its gaps.

What is possible is the Cramer-Rao bound of a shape whose kind (one slope, one sine, a mitre with one lock) is
known but whose measures are not, averaged over the cutters. It does not exist where fewer than two readings lie on a
straight slope; there it is the share of the likeliest 0.04 mm among all middles that explain the readings, any
angle being as likely as any other.
"""

from __future__ import annotations

import argparse
import math
import time
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from drawerwright.joints.corner import Cuts
from drawerwright.joints.fit import seat
from drawerwright.joints.mate import Verdict, find_middle
from drawerwright.joints.profile import LOCK_WIDTH_SHARE, Profile, drawer_lock_profile, lock_mitre_profile

Row = NDArray[np.float64]
NOISE, POINTS = 0.02, 40
MITRE_STOCK = 18.0
MIDDLE, STEP = 5.65, 3.45
STOCK, FENCES = (14.7, 14.6), (9.0, 9.1)
HEIGHT = 2 * MIDDLE - 0.1


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


def placed(how: str, kind: str, m: float, d: float, rng: np.random.Generator) -> Row:
    """Depths of the readings. As advised: a third on the slope and a little beyond, four on the tooth, the rest
    below the slope."""
    bottom = 22.0 if kind == "lock-mitre" else 15.0
    if how == "even":
        return np.linspace(0, bottom, POINTS)
    if how == "random":
        return np.sort(rng.uniform(0, bottom, POINTS))
    reach = 2.5 if kind == "ogee" else 1.1 * half_rise(kind, d)
    near = np.linspace(max(m - reach, 0.3), m + reach, POINTS // 3)
    above = np.linspace(0, near[0], 4, endpoint=False)
    below = np.linspace(near[-1], bottom, POINTS - len(near) - len(above) + 1)[1:]
    return np.concatenate((above, near, below))


def half_rise(kind: str, d: float) -> float:
    return float(d / 2 / np.tan(np.radians(float(kind.split()[-1]))))


def bound(
    kind: str, m: float, d: float, edge: Callable[[Row], Row], z: Row, read: Row
) -> tuple[float, float]:
    """How often any estimate can be within 0.02 mm of m and within 0.01 mm of d."""
    if kind == "lock-mitre":
        z = z[np.abs(z - m) <= MITRE_STOCK / 2]
        knots = MITRE_STOCK * LOCK_WIDTH_SHARE * np.array([1.0, 3.0])
        levels = edge(m + knots) - d / 2
        truth = np.array([m, d, *knots, *levels, -1.0])

        def shape(x: Row) -> Row:
            away = np.abs(z - x[0])
            half = np.interp(away, [0, *x[2:4]], [0, *x[4:6]]) + x[6] * np.maximum(away - x[3], 0)
            return x[1] / 2 + np.sign(z - x[0]) * half

    elif kind == "ogee":
        reach = float((np.pi / 2) / (2 * (edge(np.array([m + 1e-4])) - d / 2)[0] / d / 1e-4))
        truth = np.array([m, d, reach])

        def shape(x: Row) -> Row:
            return ogee(x[0], x[1], x[2])(z)

    else:
        truth = np.array([m, d, half_rise(kind, d)])

        def shape(x: Row) -> Row:
            return x[1] / 2 + x[1] / 2 * np.clip((z - x[0]) / x[2], -1, 1)

    steps = np.eye(len(truth)) * 1e-7
    slopes = np.array([(shape(truth + e) - shape(truth - e)) / 2e-7 for e in steps])
    information = slopes @ slopes.T / NOISE**2
    if kind.startswith("slope") and (np.abs(z - m) < truth[2]).sum() < 2:
        step = 1 / np.sqrt(information[1, 1])
        return likeliest_window(z, read, m, d), within(0.01, step)
    if np.linalg.matrix_rank(information) < len(truth):
        return 0.0, 0.0  # the lock was not read on both of its sides
    errors = np.sqrt(np.diag(np.linalg.inv(information)))
    return within(0.02, errors[0]), within(0.01, errors[1])


def within(reach: float, error: float) -> float:
    return math.erf(reach / error / math.sqrt(2))


def likeliest_window(z: Row, read: Row, m: float, d: float) -> float:
    middles = np.arange(m - 0.4, m + 0.4, 0.002)
    rates = np.tan(np.radians(np.linspace(20, 89.9, 300)))
    misfits = np.zeros((len(middles), len(rates)))
    for depth, inset in zip(z, read, strict=True):
        if abs(depth - m) < 1.5:
            model = np.clip(d / 2 + np.outer(depth - middles, rates), 0, d)
            misfits += ((inset - model) / NOISE) ** 2
    chances = np.exp(-(misfits - misfits.min()) / 2).sum(axis=1)
    return float(np.convolve(chances / chances.sum(), np.ones(20), "valid").max())


def middles(kind: str, how: str, trials: int) -> str:
    rng = np.random.default_rng(list(f"{kind} {how}".encode()))
    counts = np.zeros(5)
    bounds = np.zeros(2)
    spent = 0.0
    for _ in range(trials):
        m, d, edge, thickness = hidden(kind, rng)
        depths = placed(how, kind, m, d, rng)
        read = edge(depths) + rng.normal(0, NOISE, POINTS)
        began = time.perf_counter()
        mate = find_middle(
            list(zip(depths.tolist(), read.tolist(), strict=True)), uncertainty=NOISE, thickness=thickness
        )
        spent += time.perf_counter() - began
        counts += [
            abs(mate.mid_depth.value - m) <= 0.02,
            abs(mate.step.value - d) <= 0.01,
            mate.mid_depth.interval()[0] <= m <= mate.mid_depth.interval()[1],
            mate.step.interval()[0] <= d <= mate.step.interval()[1],
            mate.verdict is Verdict.FAILS,
        ]
        bounds += bound(kind, m, d, edge, depths, read)
    m_hits, d_hits, m_held, d_held, alarms = 100 * counts / trials
    m_best, d_best = 100 * bounds / trials
    return (
        f"{kind:11} {how:8} {m_hits:6.1f} ({m_best:5.1f})  {d_hits:6.1f} ({d_best:5.1f})  {m_held:6.1f}  "
        f"{d_held:6.1f}  {alarms:6.1f}  {spent / trials * 1000:4.0f} ms"
    )


def seating() -> str:
    cases = {
        "drawer-lock": Cuts(drawer_lock_profile(MIDDLE, STEP, 55), *STOCK, HEIGHT, *FENCES),
        "lock-mitre": Cuts(lock_mitre_profile(11, 18), 15, 15, 18.6, 16.5, 16.5),
        "60 points": Cuts(_curve(60), *STOCK, HEIGHT, *FENCES),
        "500 points": Cuts(_curve(500), *STOCK, HEIGHT, *FENCES),
        "500 rough": Cuts(_curve(500, NOISE), *STOCK, HEIGHT, *FENCES),
    }
    lines = []
    for name, cuts in cases.items():
        times = []
        for _ in range(30):
            began = time.perf_counter()
            fit = seat(cuts, STEP)
            shown = (fit.touches_at, fit.pressed.gaps, fit.pulled.gaps)
            times.append((time.perf_counter() - began) * 1000)
            assert len(shown) == 3
        lines.append(f"seating, {name:12} median {np.median(times):6.2f} ms, longest {max(times):6.2f} ms")
    return "\n".join(lines)


def _curve(points: int, roughness: float = 0.0) -> Profile:
    depths = np.linspace(0, 20, points)
    edge = ogee(MIDDLE, STEP, 2.0)(depths) + np.random.default_rng(0).normal(0, 1, points) * roughness
    return Profile.measured(list(zip(depths.tolist(), edge.tolist(), strict=True)))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--trials", type=int, default=300)
    trials = parser.parse_args().trials
    print(
        f"{trials} hidden cutters of each kind, {POINTS} readings, noise {NOISE} mm; shares in %, possible in ()"
    )
    print("kind        placed    m in .02         d in .01         m held  d held  alarms  time")
    for kind in ("slope 30", "slope 45", "slope 60", "slope 70", "slope 80", "ogee", "lock-mitre"):
        for how in ("even", "random", "advised"):
            if (kind, how) != ("lock-mitre", "advised"):
                print(middles(kind, how, trials), flush=True)
    print(seating())


if __name__ == "__main__":
    main()
