"""The only door to HiGHS: linear programmes that grow by columns, and whole-number programmes.

Every status is checked; only those named by the caller's need are accepted, anything else is a SolverError.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import SolverError
from drawerwright.sheets.solver import outcome
from drawerwright.sheets.solver.clock import now

INFINITY = highspy.kHighsInf
MOST_OFF = 1e-4
"""How far an answer may miss a whole number; HiGHS itself keeps to 1e-6."""
BUSY = 5
"""Times what a search may take by the clock that one programme may, where the machine has other work to do."""
DUAL, PRIMAL = 1, 4
"""HiGHS's simplex strategies: the primal one goes on from where it was when only columns came in."""

Column = tuple[float, Sequence[int], Sequence[float]]
"""Cost, row numbers, coefficients."""


class NothingFitsError(SolverError):
    """A programme has no answer at all."""


class _QuietHighs(highspy.Highs):  # type: ignore[misc]
    """HiGHS writes a line about itself when its callbacks are switched on, before options can be set: not here."""

    def enableCallbacks(self) -> None:  # noqa: N802
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()


def _fresh() -> _QuietHighs:
    highs = _QuietHighs()
    _ok(highs.setOptionValue("output_flag", False))
    _ok(highs.setOptionValue("threads", 1))
    return highs


def _ok(status: highspy.HighsStatus) -> None:
    if status == highspy.HighsStatus.kError:
        raise SolverError(
            "the solver refused an instruction: this is a fault of the program, please report it"
        )


class GrowingProgram:
    """A linear programme (least cost) whose columns are found as it goes. All columns lie in [lower, inf)."""

    def __init__(self, lower: Sequence[float], upper: Sequence[float]) -> None:
        """Start with rows `lower <= row <= upper` and no column."""
        self._highs = _fresh()
        _ok(self._highs.setOptionValue("presolve", "off"))
        for low, high in zip(lower, upper, strict=True):
            _ok(self._highs.addRow(low, high, 0, np.empty(0, np.int32), np.empty(0)))
        self.column_count = 0
        self._bounds_changed = False

    def add_column(self, column: Column) -> int:
        """Add a column and return its number."""
        cost, rows, coefficients = column
        _ok(
            self._highs.addCol(
                cost,
                0.0,
                INFINITY,
                len(rows),
                np.asarray(rows, np.int32),
                np.asarray(coefficients, np.float64),
            )
        )
        self.column_count += 1
        return self.column_count - 1

    def allow(self, column: int, allowed: bool) -> None:
        """Let a column be used, or not."""
        _ok(self._highs.changeColBounds(column, 0.0, INFINITY if allowed else 0.0))
        self._bounds_changed = True

    def set_row(self, row: int, low: float, high: float = INFINITY) -> None:
        """Change the bounds of a row."""
        _ok(self._highs.changeRowBounds(row, low, high))
        self._bounds_changed = True

    def solve(self) -> tuple[float, NDArray[np.float64], NDArray[np.float64]]:
        """Least cost, row duals, column values.

        Raises:
            NothingFitsError: no values keep all rows; a caller that has fixed some of them may have fixed too much.
            SolverError: any other status but optimal.
        """
        _ok(self._highs.setOptionValue("simplex_strategy", DUAL if self._bounds_changed else PRIMAL))
        self._bounds_changed = False
        self._highs.run()
        status = self._highs.getModelStatus()
        if status != highspy.HighsModelStatus.kOptimal:
            kind = NothingFitsError if status == highspy.HighsModelStatus.kInfeasible else SolverError
            raise kind(f"a linear programme ended as {self._highs.modelStatusToString(status)!r}")
        solution = self._highs.getSolution()
        return (
            float(self._highs.getInfo().objective_function_value),
            np.asarray(solution.row_dual, np.float64),
            np.asarray(solution.col_value, np.float64),
        )


@dataclass(frozen=True, slots=True)
class WholeAnswer:
    """Answer of a whole-number programme: the best values found (None: none), and whether they are the best."""

    values: tuple[int, ...] | None
    cost: float
    finished: bool
    """True when no better values exist (with `values` None: none exist at all)."""
    bound: float = -INFINITY
    """What no values undercut, as far as the solver's arithmetic tells."""


def relaxed(
    columns: Sequence[Column], lower: Sequence[float], upper: Sequence[float]
) -> tuple[float, NDArray[np.float64]]:
    """Least cost and values of non-negative `columns` that may be divided, with `lower <= rows <= upper`.

    Raises:
        NothingFitsError: no values keep all rows.
        SolverError: any other status but optimal.
    """
    highs = _fresh()
    _ok(highs.passModel(_model(columns, lower, upper)))
    highs.run()
    status = highs.getModelStatus()
    if status != highspy.HighsModelStatus.kOptimal:
        kind = NothingFitsError if status == highspy.HighsModelStatus.kInfeasible else SolverError
        raise kind(f"a linear programme ended as {highs.modelStatusToString(status)!r}")
    values = np.asarray(highs.getSolution().col_value, np.float64)
    return float(highs.getInfo().objective_function_value), values


def _model(columns: Sequence[Column], lower: Sequence[float], upper: Sequence[float]) -> highspy.HighsLp:
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(columns), len(lower)
    model.col_cost_ = np.array([column[0] for column in columns], np.float64)
    model.col_lower_ = np.zeros(len(columns))
    model.col_upper_ = np.full(len(columns), INFINITY)
    model.row_lower_ = np.asarray(lower, np.float64)
    model.row_upper_ = np.asarray(upper, np.float64)
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.cumsum([0, *(len(column[1]) for column in columns)]).astype(np.int32)
    model.a_matrix_.index_ = np.array([row for column in columns for row in column[1]], np.int32)
    model.a_matrix_.value_ = np.array([value for column in columns for value in column[2]], np.float64)
    return model


def solve_whole(
    columns: Sequence[Column],
    lower: Sequence[float],
    upper: Sequence[float],
    *,
    seconds: float,
    start: Sequence[int] | None = None,
    stop: Callable[[], bool] | None = None,
    presolve: bool = True,
) -> WholeAnswer:
    """Least cost of whole, non-negative `columns` with `lower <= rows <= upper`.

    Args:
        columns: cost, rows and coefficients of each.
        lower, upper: of the rows.
        seconds: time limit by `clock.now`; HiGHS itself counts those of the clock, and is allowed more of them.
        start: values to begin from.
        stop: asked now and then; True ends the search with the best so far.
        presolve: let the solver simplify first. HiGHS 1.16 now and then fails to carry an answer back from its
            simplified programme (it says so with "Solve error"); that programme is then solved as it stands.

    Raises:
        SolverError: a status other than optimal, infeasible, time limit or interrupted.
    """
    if not columns:
        fits = all(low <= 0 <= high for low, high in zip(lower, upper, strict=True))
        return WholeAnswer((), 0.0, True, 0.0) if fits else WholeAnswer(None, INFINITY, True, INFINITY)
    began = now()
    highs = _fresh()
    model = _model(columns, lower, upper)
    model.integrality_ = [highspy.HighsVarType.kInteger] * len(columns)
    _ok(highs.passModel(model))
    _ok(highs.setOptionValue("mip_rel_gap", 0.0))
    _ok(highs.setOptionValue("mip_abs_gap", 1e-4))
    if start is not None:
        guess = highspy.HighsSolution()
        guess.col_value = [float(value) for value in start]
        _ok(highs.setSolution(guess))

    def ask(event: highspy.HighsCallbackEvent) -> None:
        if now() - began > seconds or (stop is not None and stop()):
            event.interrupt()

    highs.cbMipInterrupt += ask
    if not presolve:
        _ok(highs.setOptionValue("presolve", "off"))
    _ok(
        highs.setOptionValue(
            "time_limit", max(BUSY * outcome.MOST_BY_THE_CLOCK * (seconds - (now() - began)), 0.01)
        )
    )
    highs.run()
    status = highs.getModelStatus()
    if status == highspy.HighsModelStatus.kSolveError and presolve:
        left = max(0.05, seconds - (now() - began))
        return solve_whole(
            columns,
            lower,
            upper,
            seconds=left,
            start=start,
            stop=stop,
            presolve=False,
        )
    if status == highspy.HighsModelStatus.kInfeasible:
        return WholeAnswer(None, INFINITY, True, INFINITY)
    allowed = {
        highspy.HighsModelStatus.kOptimal,
        highspy.HighsModelStatus.kTimeLimit,
        highspy.HighsModelStatus.kInterrupt,
    }
    if status not in allowed:
        raise SolverError(
            f"a whole-number programme ended as {highs.modelStatusToString(status)!r} "
            f"after {now() - began:.1f} s"
        )
    info = highs.getInfo()
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return WholeAnswer(None, INFINITY, False, float(info.mip_dual_bound))
    found = highs.getSolution().col_value
    values = tuple(round(value) for value in found)
    if any(abs(value - whole) > MOST_OFF for value, whole in zip(found, values, strict=True)):
        raise SolverError("the solver returned values that are not whole numbers")
    finished = status == highspy.HighsModelStatus.kOptimal
    return WholeAnswer(values, float(info.objective_function_value), finished, float(info.mip_dual_bound))
