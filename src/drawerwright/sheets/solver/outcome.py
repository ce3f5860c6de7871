"""What a search for the cheapest sheets answers, and what it watches while it runs."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import FilledSheet

MOST_BY_THE_CLOCK = 2.0
"""How many times its seconds, which are the processor's, a search may take by the clock on a busy machine."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """The best sheets found (None: none can be), their cost, and a cost that nothing can undercut."""

    sheets: tuple[FilledSheet, ...] | None
    cost: int
    bound: int

    @property
    def is_proven(self) -> bool:
        return self.sheets is not None and self.cost <= self.bound


@dataclass(frozen=True, slots=True)
class Watch:
    """When to stop, and whom to tell."""

    deadline: float
    """A reading of `clock.now`."""
    cancelled: Callable[[], bool] = lambda: False
    report: Callable[[int | None, int], None] = lambda cost, bound: None
    later: float = 0.0
    """When to stop looking after the later aims; `deadline` is for the cost alone."""

    @classmethod
    def lasting(
        cls,
        seconds: float,
        cancelled: Callable[[], bool],
        report: Callable[[int | None, int], None],
        share: float = 1.0,
    ) -> Watch:
        """From now on for so many seconds, of which a share is for the cost; by the clock not much longer."""
        last, began = time.monotonic() + MOST_BY_THE_CLOCK * seconds, now()
        return cls(
            began + share * seconds,
            lambda: time.monotonic() > last or cancelled(),
            report,
            began + seconds,
        )

    def is_over(self) -> bool:
        return now() > self.deadline or self.cancelled()

    @property
    def seconds(self) -> float:
        return max(0.0, self.deadline - now())

    def within(self, seconds: float) -> Watch:
        """The same, with at most `seconds` from now, reporting to nobody."""
        return Watch(min(self.deadline, now() + seconds), self.cancelled)

    def until(self, seconds: float, settles: Callable[[int | None, int], bool]) -> Watch:
        """As `within`, ended as well by a report that `settles` says is enough."""
        is_settled = False

        def report(cost: int | None, bound: int) -> None:
            nonlocal is_settled
            is_settled = is_settled or settles(cost, bound)

        return replace(self.within(seconds), cancelled=lambda: is_settled or self.cancelled(), report=report)
