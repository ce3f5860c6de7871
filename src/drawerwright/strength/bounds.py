"""A cautious and a likely value: what an estimate from published figures can honestly say."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Bounds:
    """From the cautious end to the likely one, in whatever unit."""

    low: float
    high: float

    def __mul__(self, factor: float) -> Bounds:
        return Bounds(self.low * factor, self.high * factor)

    @property
    def middle(self) -> float:
        """Between both ends by their ratio."""
        return math.sqrt(self.low * self.high)

    @classmethod
    def least(cls, ranges: Iterable[Bounds]) -> Bounds:
        """What the weakest of several carries, at either end."""
        known = tuple(ranges)
        return cls(min(bounds.low for bounds in known), min(bounds.high for bounds in known))

    @classmethod
    def of(cls, reckon: Callable[[bool], float]) -> Bounds:
        """Both ends of what is reckoned alike, told whether it is the cautious one."""
        low, high = reckon(True), reckon(False)
        return cls(min(low, high), max(low, high))

    def at(self, cautious: bool) -> float:
        """One of its ends."""
        return self.low if cautious else self.high
