"""A value with the doubt that belongs to it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its standard uncertainty, both in the same unit. Zero means: taken as exact."""

    value: float
    uncertainty: float = 0.0

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise InvalidValueError(f"a value must be a finite number, not {self.value}")
        if not (math.isfinite(self.uncertainty) and self.uncertainty >= 0):
            raise InvalidValueError(f"an uncertainty must be zero or more, not {self.uncertainty}")

    def __float__(self) -> float:
        return self.value
