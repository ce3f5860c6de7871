"""Strips of one family shared out among bands that the router table carries."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from drawerwright.sheets.solver.columns import Band, Sizing
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.fill_table import parted


@dataclass(frozen=True, slots=True)
class RoutedBands:
    """Bands up to the `longest` that the router table carries."""

    sizing: Sizing
    longest: int

    def carried(self, family: Family, strips: dict[int, int]) -> list[Band]:
        """Bands that the router table carries; without the lowest strips where no way to share them out was found."""
        sizing = self.sizing
        left = Counter(strips)
        while left:
            net = sum((sizing.heights[demand] + sizing.kerf) * count for demand, count in left.items())
            bands = self.shared_out(family, left, -(-net // (self.longest + sizing.kerf - sizing.overhead)))
            if all(band.v <= self.longest for band in bands):
                return bands
            left -= Counter({min(left, key=lambda demand: sizing.heights[demand]): 1})
        return []

    def shared_out(self, family: Family, strips: Mapping[int, int], count: int) -> list[Band]:
        """Strips of one family in `count` bands about as long as each other; in one where that is short enough."""
        sizing = self.sizing
        whole = sizing.band(family.number, family.u, strips.items())
        if count < 2 or whole.v <= self.longest:
            return [whole]
        sizes = [sizing.heights[demand] + sizing.kerf for demand in strips]
        first, rest = parted(dict(enumerate(strips.values())), sizes, count)
        wanted = list(strips)
        bands = [sizing.band(family.number, family.u, [(wanted[n], copies) for n, copies in first.items()])]
        return bands + self.shared_out(family, {wanted[n]: copies for n, copies in rest.items()}, count - 1)
