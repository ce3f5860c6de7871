"""Which issue of its papers a plan makes."""

from __future__ import annotations

from hashlib import sha256

from drawerwright.drawings.title_block import Issue
from drawerwright.job.planning.job_plan import JobPlan

MARK = 6
"""Letters of the mark: two plans of one shop that share it by chance are one in sixteen million."""


def plan_issue(plan: JobPlan) -> Issue:
    """Papers with one mark belong together: they cut the same parts from the same sheets at the same settings."""
    cut = (
        [(part.label, part.stock.name, part.cut_length, part.cut_width, part.groove) for part in plan.parts],
        [stock.sheets.layouts for stock in plan.stocks],
        [(setup.number, setup.height_reading, setup.fence_reading) for setup in plan.run.setups],
    )
    return Issue(sha256(repr(cut).encode()).hexdigest()[:MARK])
