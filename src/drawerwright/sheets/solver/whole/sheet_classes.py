"""Sheets that take the same columns: those of one height, seen in one direction of the first cuts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.sheets.solver.columns import Frame


@dataclass(frozen=True, slots=True)
class SheetClass:
    """Frames (by number) in which columns are `height` ticks long; `longest` is the longest of these frames."""

    transposed: bool
    height: int
    frames: tuple[int, ...]
    longest: int


def classes_of(frames: Sequence[Frame]) -> tuple[SheetClass, ...]:
    """The classes of all frames, offcuts among them."""
    members: dict[tuple[bool, int], list[int]] = {}
    for number, frame in enumerate(frames):
        members.setdefault((frame.transposed, frame.width), []).append(number)
    return tuple(
        SheetClass(way, height, tuple(numbers), max(frames[number].length for number in numbers))
        for (way, height), numbers in sorted(members.items())
    )
