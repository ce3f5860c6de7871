"""What test cuts with one cutter say of another: they share the gauges."""

from __future__ import annotations

import math
from dataclasses import replace

from drawerwright.basics.uncertain import Estimate


def carried_over(
    measure: Estimate, correlation: float, before: Estimate, now: Estimate
) -> tuple[Estimate, float]:
    """What is known of a cutter's measure, and its correlation with a gauge, once more is known of the gauge.

    What the cutter's own cuts know of both together stays: given the gauge the measure is what it was. (Conditional
    normal distributions: Gelman and others, Bayesian Data Analysis, 3rd edition, appendix A.)

    Args:
        measure: as it was known (mm).
        correlation: with the gauge, as it was.
        before: what was known of the gauge (mm).
        now: what is known of it since, from cuts with another cutter (mm).
    """
    if not correlation or not before.uncertainty or not measure.uncertainty:
        return measure, correlation
    slope = correlation * measure.uncertainty / before.uncertainty
    tied = slope * now.uncertainty
    spread = math.hypot(measure.uncertainty * math.sqrt(1 - correlation**2), tied)
    known = replace(measure, value=measure.value + slope * (now.value - before.value), uncertainty=spread)
    return known, tied / spread
