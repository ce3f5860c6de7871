"""Findings that begin at a limit, from both sides of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from drawerwright.basics.findings import Finding, Severity


@dataclass(frozen=True)
class Limit:
    """A finding, what makes it, and two sizes: the last that is in order and the first that is not."""

    code: str
    of: Callable[[float], Iterable[Finding]]
    good: float
    bad: float
    severity: Severity = Severity.WARNING
