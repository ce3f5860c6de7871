"""A scanner's own scale: how far its dots are off what its files say."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.uncertain import Estimate


@dataclass(frozen=True, slots=True)
class ScannerScale:
    """By which share of what its file says a scanner has more dots per inch, across the glass and along its
    carriage, each with its standard uncertainty; None for a direction that was not measured."""

    across: Estimate | None
    along: Estimate | None

    @property
    def share(self) -> float:
        """Standard uncertainty of the scale, as a share."""
        return max(one.uncertainty for one in (self.across, self.along) if one is not None)

    def dots(self, dpi: tuple[float, float]) -> tuple[float, float]:
        """Dots to an inch across and along, of a scan whose file says `dpi`. A direction that was not measured is
        taken to be as the other."""
        across, along = (
            one or other for one, other in ((self.across, self.along), (self.along, self.across))
        )
        assert across is not None
        assert along is not None
        return dpi[0] * (1 + across.value), dpi[1] * (1 + along.value)
