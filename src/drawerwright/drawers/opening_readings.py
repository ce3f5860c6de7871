"""An opening as it was measured: several widths and heights, both diagonals, and what they leave for a box.

::

        upper left --- front_above --- upper right      seen from before. The left side leans by `left_lean`: so far
            |  \\                     /  |                (mm) its upper end stands to the right of its lower one.
          left    diagonal_down         right             With Wb and Wt the widths below and above, and H the height:
            |    /      diagonal_up  \\  |                  diagonal_up²   = (lean + Wt)² + H²
        lower left --- front_below --- lower right         diagonal_down² = (Wb - lean)² + H²
                                                         so their difference gives the lean without H.
"""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm


@dataclass(frozen=True, slots=True)
class Shims:
    """What makes both sides upright (mm): on the left and on the right, below and above; evenly less between."""

    left_below: Mm
    left_above: Mm
    right_below: Mm
    right_above: Mm

    @property
    def thickest(self) -> Mm:
        return max(self.left_below, self.left_above, self.right_below, self.right_above)

    def thicker(self, by: Mm) -> Shims:
        """The same with so much more everywhere (mm)."""
        return Shims(self.left_below + by, self.left_above + by, self.right_below + by, self.right_above + by)


@dataclass(frozen=True, slots=True)
class OpeningReadings:
    """Readings of an opening (mm), None where none was taken.

    Widths at the front and at the back, above and below; heights on the left and on the right; `diagonal_up` from the
    lower left corner to the upper right one, `diagonal_down` from the upper left to the lower right, at the front.
    """

    front_above: Mm | None = None
    front_below: Mm | None = None
    back_above: Mm | None = None
    back_below: Mm | None = None
    left: Mm | None = None
    right: Mm | None = None
    diagonal_up: Mm | None = None
    diagonal_down: Mm | None = None

    @property
    def widths(self) -> dict[str, Mm]:
        """Those that were taken, by their names."""
        names = "front_above", "front_below", "back_above", "back_below"
        return {name: value for name in names if (value := getattr(self, name)) is not None}

    @property
    def heights(self) -> dict[str, Mm]:
        """Those that were taken, by their names."""
        return {name: value for name in ("left", "right") if (value := getattr(self, name)) is not None}

    def shims(self, width: Mm) -> Shims | None:
        """What the diagonals ask for; None where they were not both taken. `width` stands in for one at the front that
        was not."""
        if self.diagonal_up is None or self.diagonal_down is None:
            return None
        above = width if self.front_above is None else self.front_above
        below = width if self.front_below is None else self.front_below
        squares = self.diagonal_up**2 - self.diagonal_down**2
        lean = (squares - above**2 + below**2) / (2 * (above + below))
        left, right = max(0.0, lean), min(below, lean + above)
        return Shims(left, left - lean, below - right, lean + above - right)

    def clear_width(self, nominal: Mm) -> Mm:
        """The widest upright box without clearance: the smallest width, less what the diagonals take (mm)."""
        return min(self.smallest_width(nominal), self.upright_width(nominal))

    def smallest_width(self, nominal: Mm) -> Mm:
        """The smallest width that was read (mm)."""
        return min(self.widths.values(), default=nominal)

    def upright_width(self, nominal: Mm) -> Mm:
        """What the front leaves between upright sides (mm); without both diagonals the smallest width."""
        shims = self.shims(nominal)
        if shims is None:
            return self.smallest_width(nominal)
        below = nominal if self.front_below is None else self.front_below
        return below - shims.left_below - shims.right_below

    def clear_height(self, nominal: Mm) -> Mm:
        """The smallest height (mm)."""
        return min(self.heights.values(), default=nominal)
