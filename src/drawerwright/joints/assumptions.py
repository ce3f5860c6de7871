"""What is known of cutter, gauges and calipers only because the usual stands in, and what is stated as exact."""

from __future__ import annotations

from collections.abc import Iterable

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import assumed_doubt
from drawerwright.basics.phrases import joined, phrase
from drawerwright.basics.told_lengths import DOUBT_EXAMPLE, RoughLength
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.statements import Statement
from drawerwright.joints.table import RouterTable

Measure = tuple[str, Estimate]
"""A measure in the words of the shop, and what is known of it (mm)."""


def cutter_measures(cutter: Cutter) -> tuple[Measure, ...]:
    """Those of a cutter."""
    return (Statement.MID_DEPTH.what, cutter.mid_depth), (Statement.STEP.what, cutter.step)


def gauge_measures(table: RouterTable) -> tuple[Measure, ...]:
    """Those of a router table, whatever cutter is in it."""
    return (
        (Statement.HEIGHT_GAUGE.what, table.height_gauge),
        (Statement.FENCE_GAUGE.what, table.fence_gauge),
        (phrase("dialling in"), table.dialling),
    )


def assumption_words(measures: Iterable[Measure]) -> str:
    """Those of the measures that nobody has stated, with what is assumed; empty where there are none.

    >>> assumption_words([("the step", Estimate.given(3.4, None, usual=0.08)), ("the gauge", Estimate(0.0, 0.1))])
    'the step ± 0.08 mm'
    """
    assumed = [
        phrase("{what} ± {uncertainty}", what=what, uncertainty=assumed_doubt(known.uncertainty))
        for what, known in measures
        if known.is_assumed
    ]
    return joined(assumed, ", ") if assumed else ""


def assumption_findings(
    measures: Iterable[Measure], where: str, example: RoughLength = DOUBT_EXAMPLE
) -> tuple[Finding, ...]:
    """A note about everything that is only assumed, with an example of one such measure."""
    words = assumption_words(measures)
    if not words:
        return ()
    return (
        Finding(
            "uncertainty-assumed",
            Severity.NOTE,
            where,
            phrase(
                "no uncertainty given for these; the usual is assumed: {assumed}.",
                assumed=words,
            ),
            phrase("Add how well you know each, for instance {example}; ± 0 means exact.", example=example),
        ),
    )


def exact_findings(
    measures: Iterable[Measure], where: str, example: RoughLength = DOUBT_EXAMPLE
) -> tuple[Finding, ...]:
    """A note about everything that is stated as exact, which no test cut can change; the same example."""
    exact = [what for what, known in measures if known.uncertainty == 0]
    if not exact:
        return ()
    return (
        Finding(
            "stated-as-exact",
            Severity.NOTE,
            where,
            phrase(
                "stated as exact (± 0), so no test cut can change it: {exact}.",
                exact=joined(exact, ", "),
            ),
            phrase("If it is not exact, add how well you know it, for instance {example}.", example=example),
        ),
    )
