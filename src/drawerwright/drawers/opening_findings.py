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
        width: its clear width as used (mm).
        play: what the runners take up (mm).
        drawers: those that it concerns.
    """
    yield from _uneven(where, readings, play, drawers)
    shims = readings.shims(width)
    if shims is not None and shims.thickest > play:
        up, down = readings.diagonal_up, readings.diagonal_down
        assert up is not None
        assert down is not None
        yield Finding(
            "opening-out-of-square",
            Severity.WARNING,
            where,
            phrase(
                "its diagonals are {up} from the lower left and {down} from the upper left; the runners take up "
                "{play}.",
                up=millimetres(up, ".1f"),
                down=millimetres(down, ".1f"),
                play=millimetres(play, "g"),
            ),
            phrase("Shim the runners: {shims}; evenly less between.", shims=joined(_said(shims), ", ")),
            drawers,
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


def _uneven(where: str, readings: OpeningReadings, play: Mm, drawers: tuple[str, ...]) -> Iterator[Finding]:
    """Widths that differ by more than the play, beyond what the diagonals already tell; heights that differ."""
    widths = readings.widths
    smallest = min(widths.values(), default=0.0)
    for name, width in widths.items():
        is_told = readings.shims(smallest) is not None and name.startswith("front")
        if width - smallest > play and not is_told:
            more = width - smallest
            yield Finding(
                "opening-uneven",
                Severity.WARNING,
                where,
                phrase(
                    "{place} it is {more} wider than where it is narrowest; the runners take up {play}.",
                    place=WHERE[name],
                    more=millimetres(more, ".1f"),
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
