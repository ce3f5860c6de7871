"""How far a bottom may sag."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm


@dataclass(frozen=True, slots=True)
class SagLimit:
    """How far a bottom may sag: its span over so much, and never more than `most` (mm). Common practice, no source."""

    span_over: float = 200.0
    most: Mm = 3.0

    def of(self, span: Mm) -> Mm:
        """The limit of a span (mm)."""
        return min(span / self.span_over, self.most)


USUAL_SAG = SagLimit()
"""Where nothing is said."""
