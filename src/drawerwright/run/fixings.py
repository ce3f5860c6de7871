"""Screws that a job takes: how many, and how long."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import MM_PER_INCH, LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.seasons import slid_bottom_movement

WIDE: Mm = 600.0
"""An applied front wider than this has six screws, any other four."""
APART: Mm = 150.0
"""From screw to screw along the edge of a bottom."""
LENGTHS: tuple[Mm, ...] = (12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0)
INCH_LENGTHS: tuple[Mm, ...] = tuple(
    MM_PER_INCH * inches for inches in (0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0)
)
HELD = 0.7
"""A screw goes through the first piece and so far into the second."""
TIMES = 3
"""The second piece counts no thicker than so many times the first: what holds a thin one need not be longer."""
GIVEN: Mm = 0.5
"""So much a screw gives in an ordinary hole."""
# All of these: common practice, no source.


@dataclass(frozen=True, slots=True)
class Screws:
    """Screws of one length (mm), which are one thing to buy, and all that they are for."""

    purposes: tuple[Phrase, ...]
    length: Mm
    count: int


def screws_of(drawers: Iterable[AssembledDrawer], style: LengthStyle) -> tuple[Screws, ...]:
    """The screws for applied fronts and bottoms, in lengths as they are sold where the reader's unit is usual; those of
    runners and pulls come with them."""
    sold = LENGTHS if style.typed_unit == "mm" else INCH_LENGTHS
    counts: Counter[Mm] = Counter()
    purposes: dict[Mm, dict[Phrase, None]] = {}

    def add(purpose: Phrase, length: Mm, count: int) -> None:
        counts[length] += count
        purposes.setdefault(length, {})[purpose] = None

    for drawer in drawers:
        box = drawer.box
        if box.applied is not None:
            through, into = box.front.thickness.value, box.applied.stock.thickness.value
            count = 6 if box.applied.width > WIDE else 4
            add(phrase("applied fronts"), _length(through, into, sold), count)
        bottom = box.bottom
        if bottom is None or bottom.style is BottomStyle.CAPTURED:
            continue
        thin = bottom.stock.thickness.value
        if bottom.style is BottomStyle.SLID:
            length = _length(thin, box.back_height - bottom.level, sold)
            add(phrase("slid bottoms"), length, _along(box.inside_width))
        else:
            around = 2 * (_along(box.width) + _along(box.depth)) - 4
            add(phrase("fixed bottoms"), _length(thin, TIMES * thin, sold), around)
    return tuple(Screws(tuple(purposes[length]), length, count) for length, count in counts.items())


def screw_slots(drawers: Iterable[AssembledDrawer]) -> tuple[Mm, Mm] | None:
    """The room that the screws of slid bottoms need before and behind them over the year (mm), None where holes do."""
    moves = [moved for drawer in drawers if (moved := slid_bottom_movement(drawer)) is not None]
    before = max((moved.at_damp for moved in moves), default=0.0)
    behind = max((-moved.at_dry for moved in moves), default=0.0)
    return (max(before, 0.0), max(behind, 0.0)) if max(before, behind) > GIVEN else None


def _along(length: Mm) -> int:
    """Screws along an edge, one at each end."""
    return max(2, round(length / APART) + 1)


def _length(through: Mm, into: Mm, sold: Sequence[Mm]) -> Mm:
    """The longest usual length that does not come out."""
    most = through + HELD * min(into, TIMES * through)
    return max((length for length in sold if length <= most), default=sold[0])
