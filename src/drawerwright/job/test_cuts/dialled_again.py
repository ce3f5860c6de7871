"""What to expect of a corner's cuts once what its test cuts taught is accepted and everything is dialled in again."""

from __future__ import annotations

from dataclasses import replace

from drawerwright.job.file.entry_types import as_written
from drawerwright.job.file.settled import settled_by
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import Corner
from drawerwright.job.planning.first_cut_odds import cut_corner
from drawerwright.job.test_cuts.trial_reading import Trial
from drawerwright.joints.chances import Odds
from drawerwright.joints.correction import Correction
from drawerwright.joints.odds import exact_odds
from drawerwright.joints.statements import Statement


def odds_dialled_in_again(job: Job, corner: Corner, trial: Trial, correction: Correction) -> Odds:
    """The odds that the job will give for a corner once its test cuts are accepted.

    Those of the next cut differ: what stands on the machine is known from the test pieces, what is dialled in again is
    off by the gauge's repeatability once more. And the stock of the job varies within the sheet.
    """
    learnt = {one: as_written(correction.learnt.stated(one)) for one in Statement}
    cutter = replace(trial.cutter, mid_depth=learnt[Statement.MID_DEPTH], step=learnt[Statement.STEP])
    table = replace(
        trial.table,
        height_gauge=learnt[Statement.HEIGHT_GAUGE],
        fence_gauge=learnt[Statement.FENCE_GAUGE],
        settled=settled_by(correction, trial.table),
    )
    used = job.cutter_of(corner.key.cutter)
    taught = replace(used, cutter=cutter, heights=replace(used.heights, table=table))
    setting = trial.wanted.recommended(cutter, table)
    return exact_odds(job.first_cut(taught), cut_corner(corner.keyed, setting))
