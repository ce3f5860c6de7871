"""A cost that no plan undercuts, where a search could not try every width of column."""

from __future__ import annotations

from drawerwright.sheets.solver.mix.number_proofs import NumberProofs
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.task import Task, area_bound


def sure_bound(task: Task, outcome: Outcome, watch: Watch) -> int:
    """The bound of a search of `task` that ended in `outcome`.

    Where it had too many widths of column to try, that of columns in classes of widths, as wide on a sheet as the
    narrowest of their class and within as the widest; never less than what the area of the parts asks for.
    """
    if task.is_complete:
        return outcome.bound
    bound = area_bound(task)
    if outcome.sheets is None or outcome.cost <= bound:
        return bound
    master = Master(task.bounding)
    master.generate(watch.deadline, cancelled=watch.cancelled, known=outcome.cost)
    bound = max(bound, task.round_up(master.bound))
    if bound < outcome.cost and len({frame.size for frame in task.frames if frame.cost}) > 1:
        bound = NumberProofs(master.task, master).least_cost(bound, outcome.cost, watch.is_over)
    return bound
