"""How long the fewest fence positions take to find and to prove.

    python benchmarks/fences.py [--trials N] [--time-limit S]

Random jobs of 2 to 14 corners with distinct fence sums: uprights of 12 to 19 mm, lips of 0 to 8 mm, step 3.45 mm,
flushness 0.05 mm, least neck a third of the thickness. Printed for each size: jobs whose count is proven the
fewest, jobs whose neck and lips are proven the best with as few, the slowest and the mean time (both proofs
included), mean positions found, and the mean of the routine that cuts uprights with the tooth alone.
"""

from __future__ import annotations

import argparse
import random

from drawerwright.run.fence_joints import FenceJoint
from drawerwright.run.fence_plans import FencePlan
from drawerwright.run.fences import plan_fences

STEP, FLUSHNESS = 3.45, 0.05


def random_joints(count: int, rng: random.Random) -> list[FenceJoint]:
    """Corners whose fence sums stay apart by more than the flushness lets them share."""
    joints: list[FenceJoint] = []
    while len(joints) < count:
        upright = rng.uniform(12.0, 19.0)
        total = rng.choice([0.0, rng.uniform(0.0, 8.0)]) + upright + STEP
        if all(abs(total - joint.wanted_sum) > 2 * FLUSHNESS for joint in joints):
            joints.append(FenceJoint(str(len(joints)), total, upright, STEP, least_neck=upright / 3))
    return joints


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--trials", type=int, default=5)
    parser.add_argument("--time-limit", type=float, default=5.0)
    options = parser.parse_args()
    print("sums  fewest  best  slowest s  mean s  positions  tooth alone")
    for count in range(2, 15):
        rng = random.Random(count)
        plans: list[FencePlan] = []
        tooth = 0
        for _ in range(options.trials):
            found = plan_fences(random_joints(count, rng), FLUSHNESS, time_limit=options.time_limit)
            plans.append(found.fewest)
            tooth += found.tooth.moves if found.tooth else 0
        seconds = [plan.seconds for plan in plans]
        print(
            f"{count:4}  {sum(plan.is_proven for plan in plans):3}/{len(plans):<2}"
            f"  {sum(not plan.ties_open for plan in plans):2}/{len(plans):<2} {max(seconds):9.2f}"
            f"  {sum(seconds) / len(seconds):6.2f}  {sum(plan.moves for plan in plans) / len(plans):9.1f}"
            f"  {tooth / len(plans):11.1f}",
            flush=True,
        )


if __name__ == "__main__":
    main()
