"""Runners as small tables of clearances, which the user may edit.

The standing figures are common practice and differ from maker to maker: the runner's own sheet governs.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase


class RunnerKind(StrEnum):
    """How a drawer is carried."""

    SIDE = "side-mounted"
    UNDER = "under-mounted"
    WOODEN = "wooden"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Runner:
    """Clearances around a box (mm).

    side: space on each side between box and opening.
    top, bottom: least space above the sides, and below them and what hangs under them, within the front's share of
        the opening.
    back: space behind the box.
    line: height of the runner's line (its screw holes or its groove) above the sides' lower edges.
    length: nominal length; the box is as deep. None where the box fills the opening.
    inside_deduction: opening width less inside width of the box, where the maker fixes that instead of `side`.
    bottom_recess: how far the bottom must lie above the lower edges of the sides.
    thickest_side: thickest side that the runner takes.
    """

    kind: RunnerKind
    side: Mm = 0.0
    top: Mm = 0.0
    bottom: Mm = 0.0
    back: Mm = 0.0
    line: Mm | None = None
    length: Mm | None = None
    inside_deduction: Mm | None = None
    bottom_recess: Mm | None = None
    thickest_side: Mm | None = None

    def box_width(self, opening_width: Mm, side_thickness: Mm) -> Mm:
        """Outer width of the box (mm) in an opening of this width."""
        if self.inside_deduction is not None:
            width = opening_width - self.inside_deduction + 2 * side_thickness
        else:
            width = opening_width - 2 * self.side
        if width <= 2 * side_thickness:
            raise InvalidValueError(
                phrase(
                    "an opening {opening_width} wide leaves {width} for the box between the "
                    "runners: give less side clearance or a wider opening",
                    opening_width=millimetres(opening_width, "g"),
                    width=millimetres(width, ".1f"),
                ),
                entry=("opening", "width"),
            )
        return width

    def side_space(self, opening_width: Mm, side_thickness: Mm) -> Mm:
        """Space between the box and the opening on each side (mm)."""
        return (opening_width - self.box_width(opening_width, side_thickness)) / 2

    def box_depth(self, usable_depth: Mm) -> Mm:
        """Outer depth of the box (mm) where `usable_depth` is what the carcase offers."""
        if self.length is None:
            return usable_depth - self.back
        if self.length + self.back > usable_depth + 1e-9:
            raise InvalidValueError(
                phrase(
                    "a runner of {length} with {back} behind it needs more than the "
                    "{usable_depth} of depth available: choose a shorter runner",
                    length=millimetres(self.length, "g"),
                    back=millimetres(self.back, "g"),
                    usable_depth=millimetres(usable_depth, ".1f"),
                )
            )
        return self.length


STANDARD_RUNNERS = {
    RunnerKind.SIDE: Runner(RunnerKind.SIDE, side=13.0, top=8.0, bottom=4.0, back=3.0, line=35.0),
    RunnerKind.UNDER: Runner(
        RunnerKind.UNDER,
        top=8.0,
        bottom=14.0,
        back=10.0,
        line=0.0,
        inside_deduction=42.0,
        bottom_recess=13.0,
        thickest_side=16.0,
    ),
    RunnerKind.WOODEN: Runner(RunnerKind.WOODEN, side=0.5, top=2.0, bottom=1.0, back=10.0, line=40.0),
    RunnerKind.NONE: Runner(RunnerKind.NONE, side=0.5, top=2.0, bottom=0.5, back=5.0),
}
"""Starting figures (common practice, no source, except the 13 mm of side space: a runner maker's help page)."""
