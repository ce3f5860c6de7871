"""What is doubtful about an opening as it was measured: where it must be shimmed, and by how much."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.opening_readings import OpeningReadings, Shims

WHERE = {
    "front_above": phrase("at the front above"),
    "front_below": phrase("at the front below"),
    "back_above": phrase("at the back above"),
    "back_below": phrase("at the back below"),
}
LEAST_SHIM: Mm = 0.05
"""Thinner ones are not asked for."""


def reading_findings(
    where: str, readings: OpeningReadings, width: Mm, play: Mm, drawers: tuple[str, ...]
) -> Iterator[Finding]:
    """Findings about an opening.

    Args:
        where: what it is called.
        readings: what was measured.
        width: its clear width as used: what the boxes are made for (mm).
        play: what the runners take up (mm).
        drawers: those that it concerns.
    """
    shims = readings.shims(width)
    spare = readings.upright_width(width) - width  # the front may be wider than the back, upright as it is
    if shims is not None and spare > play:
        shims = shims.thicker(spare / 2)
    is_told = shims is not None and shims.thickest > play
    yield from _uneven(where, readings, width, play, drawers, is_told)
    if shims is not None and is_told:
        up, down = readings.diagonal_up, readings.diagonal_down
        assert up is not None
        assert down is not None
        yield Finding(
            "opening-out-of-square",
            Severity.WARNING,
            where,
            joined(
                (
                    phrase(
                        "its diagonals are {up} from the lower left and {down} from the upper left; the runners take "
                        "up {play}.",
                        up=millimetres(up, ".1f"),
                        down=millimetres(down, ".1f"),
                        play=millimetres(play, "g"),
                    ),
                    *width_less_lean(readings, width),
                ),
                " ",
            ),
            phrase("Shim the runners: {shims}; evenly less between.", shims=joined(_said(shims), ", ")),
            drawers,
        )


def width_less_lean(readings: OpeningReadings, width: Mm) -> tuple[Phrase, ...]:
    """Where the width used (mm) comes from, if it is none of those that were read; else nothing."""
    smallest = readings.smallest_width(width)
    if smallest - width <= LEAST_SHIM:
        return ()
    return (
        phrase(
            "Its smallest width, {smallest}, less {lean} for the lean of its sides leaves {width}: "
            "the boxes are made to that.",
            smallest=millimetres(smallest, ".1f"),
            lean=millimetres(smallest - width, ".1f"),
            width=millimetres(width, ".1f"),
        ),
    )


def _said(shims: Shims) -> list[Phrase]:
    left_below, left_above, right_below, right_above = (
        millimetres(size, ".1f")
        for size in (shims.left_below, shims.left_above, shims.right_below, shims.right_above)
    )
    words = (
        (shims.left_below, phrase("on the left {size} below", size=left_below)),
        (shims.left_above, phrase("on the left {size} above", size=left_above)),
        (shims.right_below, phrase("on the right {size} below", size=right_below)),
        (shims.right_above, phrase("on the right {size} above", size=right_above)),
    )
    return [said for size, said in words if size > LEAST_SHIM]


def _uneven(
    where: str,
    readings: OpeningReadings,
    used: Mm,
    play: Mm,
    drawers: tuple[str, ...],
    front_is_told: bool,
) -> Iterator[Finding]:
    """Widths that exceed the one used by more than the play, beyond what the diagonals already tell; heights that
    differ."""
    for name, width in readings.widths.items():
        more = width - used
        if more > play and not (front_is_told and name.startswith("front")):
            yield Finding(
                "opening-uneven",
                Severity.WARNING,
                where,
                phrase(
                    "{place} it is {more} wider than the {width} used; the runners take up {play}.",
                    place=WHERE[name],
                    more=millimetres(more, ".1f"),
                    width=millimetres(used, ".1f"),
                    play=millimetres(play, "g"),
                ),
                phrase(
                    "Shim the runners there by {half} on each side, or by {more} on the side that is out of line.",
                    half=millimetres(more / 2, ".1f"),
                    more=millimetres(more, ".1f"),
                ),
                drawers,
            )
    heights = readings.heights
    if len(heights) == 2 and abs(heights["left"] - heights["right"]) > play:
        yield Finding(
            "opening-not-level",
            Severity.NOTE,
            where,
            phrase(
                "it is {left} high on the left and {right} on the right; the smaller is used.",
                left=millimetres(heights["left"], ".1f"),
                right=millimetres(heights["right"], ".1f"),
            ),
            phrase("Carry the runner lines over from one side with a level, do not measure both from below."),
            drawers,
        )
