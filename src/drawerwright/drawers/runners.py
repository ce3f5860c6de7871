"""Runners as small tables of clearances, which the user may edit.

The standing figures are common practice and differ from maker to maker: the runner's own sheet governs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import MM_PER_INCH, Mm, Unit, millimetres
from drawerwright.basics.loads import Kg
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.runner_cuts import HookBore, Locking, RearNotch

ROUNDING: Mm = 1e-9
"""What reckoning may leave of a depth."""
SAME_LENGTH: Mm = 0.5
"""Runner lengths that differ by less are one nominal length."""
USUAL_RECESS_INCH: Mm = MM_PER_INCH / 2
"""What 13 mm of recess is in an inch shop (common practice, no source)."""


class RunnerKind(StrEnum):
    """How a drawer is carried."""

    SIDE = "side-mounted"
    UNDER = "under-mounted"
    WOODEN = "wooden"
    NONE = "none"

    @property
    def words(self) -> Phrase:
        """The kind in the reader's language."""
        return _KIND_WORDS[self]


_KIND_WORDS = {
    RunnerKind.SIDE: phrase("side-mounted runners"),
    RunnerKind.UNDER: phrase("under-mounted runners"),
    RunnerKind.WOODEN: phrase("wooden runners"),
    RunnerKind.NONE: phrase("no runners"),
}


@dataclass(frozen=True, slots=True)
class RunnerLength:
    """A nominal length that a runner is made in (mm), what a pair of that length carries and what it costs, where its
    sheet says."""

    length: Mm
    rating: Kg | None = None
    price: float | None = None


@dataclass(frozen=True, slots=True)
class Runner:
    """Clearances around a box (mm), and what the runner asks of it.

    name: what its sheet is called, where it has one.

    side: space on each side between box and opening.
    top, bottom: least space above the sides, and below them and what hangs under them, within the front's share of
        the opening.
    back: space behind the box.
    line: height of the runner's line (its screw holes or its groove) above the sides' lower edges.
    length: nominal length; the box is as deep. None where the box fills the opening, or takes the longest of `lengths`.
    lengths: those that it is made in, each with its rating.
    inside_deduction: opening width less inside width of the box, where the maker fixes that instead of `side`.
    bottom_recess: how far the bottom must lie above the lower edges of the sides.
    thickest_side: thickest side that the runner takes.
    play: how much wider than elsewhere an opening may be before its runners are shimmed.
    notch, bore: what its ends need in the back of the box. locking: the room for what holds the box in front.
    price: of a pair, where its length has none of its own.
    assumed: the entries that are taken from the standing table, not from the maker's sheet.
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
    play: Mm = 1.0
    name: str = ""
    lengths: tuple[RunnerLength, ...] = ()
    notch: RearNotch | None = None
    bore: HookBore | None = None
    locking: Locking | None = None
    price: float | None = None
    assumed: frozenset[str] = frozenset()

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

    def chosen(self, usable_depth: Mm) -> RunnerLength | None:
        """The length that is used where the carcase offers `usable_depth` (mm).

        It is the one that is stated, else the longest that fits; None where the box fills the opening.

        Raises:
            InvalidValueError: none fits.
        """
        if self.length is not None:
            known = (each for each in self.lengths if abs(each.length - self.length) < SAME_LENGTH)
            wanted = next(known, RunnerLength(self.length))
        elif self.lengths:
            fitting = [each for each in self.lengths if each.length + self.back <= usable_depth + ROUNDING]
            wanted = max(fitting or self.lengths, key=lambda each: each.length if fitting else -each.length)
        else:
            return None
        if wanted.length + self.back > usable_depth + ROUNDING:
            raise InvalidValueError(
                phrase(
                    "a runner of {length} with {back} behind it needs more than the "
                    "{usable_depth} of depth available: choose a shorter runner",
                    length=millimetres(wanted.length, "g"),
                    back=millimetres(self.back, "g"),
                    usable_depth=millimetres(usable_depth, ".1f"),
                )
            )
        return wanted

    def box_depth(self, usable_depth: Mm) -> Mm:
        """Outer depth of the box (mm) where `usable_depth` is what the carcase offers.

        Raises:
            InvalidValueError: no length of the runner fits.
        """
        chosen = self.chosen(usable_depth)
        return usable_depth - self.back if chosen is None else chosen.length


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
    RunnerKind.WOODEN: Runner(
        RunnerKind.WOODEN, side=0.5, top=2.0, bottom=1.0, back=10.0, line=40.0, play=0.5
    ),
    RunnerKind.NONE: Runner(RunnerKind.NONE, side=0.5, top=2.0, bottom=0.5, back=5.0, play=0.5),
}
"""Starting figures (common practice, no source, except the 13 mm of side space: a runner maker's help page)."""


def standing_runner(kind: RunnerKind, unit: Unit = "mm") -> Runner:
    """The standing table of a kind, as it is usual where lengths are counted in `unit`; all of it is assumed."""
    runner = STANDARD_RUNNERS[kind]
    if runner.bottom_recess is not None and unit != "mm":
        runner = replace(runner, bottom_recess=USUAL_RECESS_INCH)
    return replace(runner, assumed=frozenset(STANDING))


STANDING = (
    "side",
    "top",
    "bottom",
    "back",
    "line",
    "inside_deduction",
    "bottom_recess",
    "thickest_side",
    "play",
)
"""The entries that a standing table has."""
