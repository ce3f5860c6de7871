"""Front heights of a bank, from the top: given, equal, in arithmetic or in geometric progression.

Every rule fills the same height exactly: that of the front field less the reveals between the fronts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase

SUM_TOLERANCE: Mm = 0.05
"""Given heights may miss the field by this much before they are called wrong (half of what is shown)."""


@dataclass(frozen=True, slots=True)
class GivenHeights:
    """Heights from the top as the user wrote them (mm); one of them may be None: it takes the rest."""

    heights: tuple[Mm | None, ...]


@dataclass(frozen=True, slots=True)
class EqualHeights:
    """So many fronts, all alike."""

    count: int


@dataclass(frozen=True, slots=True)
class ArithmeticHeights:
    """Each front taller than the one above by the same step (mm)."""

    count: int
    step: Mm | None = None
    smallest: Mm | None = None


@dataclass(frozen=True, slots=True)
class GeometricHeights:
    """Each front taller than the one above by the same ratio."""

    count: int
    ratio: float | None = None
    smallest: Mm | None = None


HeightRule: TypeAlias = GivenHeights | EqualHeights | ArithmeticHeights | GeometricHeights


def front_count(rule: HeightRule) -> int:
    """How many fronts a rule asks for."""
    return len(rule.heights) if isinstance(rule, GivenHeights) else rule.count


def front_heights(
    rule: HeightRule, field_height: Mm, reveal: Mm, *, opening_height: Mm | None = None
) -> tuple[Mm, ...]:
    """Heights of the fronts from the top (mm).

    Args:
        rule: how they are shared.
        field_height: from the lowest front's lower edge to the highest front's upper edge.
        reveal: gap between neighbouring fronts.
        opening_height: of the opening that the field closes, which somebody measured; a message names it.

    Raises:
        InvalidValueError: the rule leaves a front without height or does not fill the field.

    >>> front_heights(ArithmeticHeights(3, step=20), 366, 3)
    (100.0, 120.0, 140.0)
    """
    count = front_count(rule)
    if count < 1:
        raise InvalidValueError(phrase("a bank needs at least one front, not {count}", count=count))
    total = field_height - (count - 1) * reveal
    if total <= 0:
        raise InvalidValueError(_no_room(count, field_height, reveal, opening_height))
    match rule:
        case GivenHeights(heights):
            found = _given(heights, total)
        case EqualHeights():
            found = (total / count,) * count
        case ArithmeticHeights(step=step, smallest=smallest):
            found = _arithmetic(count, total, step, smallest)
        case GeometricHeights(ratio=ratio, smallest=smallest):
            found = _geometric(count, total, ratio, smallest)
    if min(found) <= 0:
        raise InvalidValueError(
            phrase(
                "the smallest front would be {height} high: take a smaller step or ratio, or fewer fronts",
                height=millimetres(min(found), ".1f"),
            )
        )
    return found


def _no_room(count: int, field_height: Mm, reveal: Mm, opening_height: Mm | None) -> Phrase:
    words = {
        "count": count,
        "reveal": millimetres(reveal, "g"),
        "field_height": millimetres(field_height, "g"),
    }
    if opening_height is None or opening_height == field_height:
        return phrase(
            "{count} fronts with reveals of {reveal} do not fit a height of {field_height}", **words
        )
    return phrase(
        "{count} fronts with reveals of {reveal} do not fit an opening {opening_height} high, which leaves "
        "{field_height} for them: take fewer fronts, or check its height",
        **words,
        opening_height=millimetres(opening_height, "g"),
    )


def _given(heights: tuple[Mm | None, ...], total: Mm) -> tuple[Mm, ...]:
    known = math.fsum(height for height in heights if height is not None)
    rest = total - known
    open_places = heights.count(None)
    if open_places > 1:
        raise InvalidValueError(phrase("only one height may be 'rest', not {count}", count=open_places))
    if not open_places and abs(rest) > SUM_TOLERANCE:
        raise InvalidValueError(
            phrase(
                "the heights add up to {known}, but there is {total} to share out ({rest}): "
                "change a height, or write 'rest' for one",
                known=millimetres(known, ".1f"),
                total=millimetres(total, ".1f"),
                rest=millimetres(rest, "+.1f"),
            )
        )
    if open_places and rest <= 0:
        raise InvalidValueError(
            phrase(
                "the given heights add up to {known} and leave nothing of the {total} for the front without a height",
                known=millimetres(known, ".1f"),
                total=millimetres(total, ".1f"),
            )
        )
    return tuple(rest if height is None else height for height in heights)


def _arithmetic(count: int, total: Mm, step: Mm | None, smallest: Mm | None) -> tuple[Mm, ...]:
    if (step is None) == (smallest is None):
        raise InvalidValueError(
            phrase("an arithmetic progression needs either 'step' or 'smallest', not both")
        )
    if step is None:
        if count < 2:
            return (total,)
        assert smallest is not None
        step = 2 * (total / count - smallest) / (count - 1)
    first = total / count - step * (count - 1) / 2
    return tuple(first + index * step for index in range(count))


def _geometric(count: int, total: Mm, ratio: float | None, smallest: Mm | None) -> tuple[Mm, ...]:
    if (ratio is None) == (smallest is None):
        raise InvalidValueError(
            phrase("a geometric progression needs either 'ratio' or 'smallest', not both")
        )
    if ratio is None:
        assert smallest is not None
        ratio = _ratio_for(count, total, smallest)
    if ratio <= 0:
        raise InvalidValueError(phrase("the ratio must be more than 0, not {ratio:g}", ratio=ratio))
    # Counted from the tallest front, so that no power is larger than one.
    tallest = count - 1 if ratio > 1 else 0
    weights = [ratio ** (index - tallest) for index in range(count)]
    whole = math.fsum(weights)
    return tuple(total * weight / whole for weight in weights)


def _ratio_for(count: int, total: Mm, smallest: Mm) -> float:
    """The ratio whose sum over `count` fronts is total / smallest (the sum grows with it, so halving finds it)."""
    wanted = total / smallest
    if count < 2 or wanted < 1:
        if count == 1:
            return 1.0
        raise InvalidValueError(
            phrase(
                "a smallest front of {smallest} is more than the {total} available",
                smallest=millimetres(smallest, "g"),
                total=millimetres(total, ".1f"),
            )
        )
    low, high = 0.0, math.pow(wanted, 1 / (count - 1))  # its highest power alone is no more than the sum
    for _ in range(200):
        middle = (low + high) / 2
        if math.fsum(middle**index for index in range(count)) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2
