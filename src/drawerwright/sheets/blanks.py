"""What has to leave the saw: strips that are taken from bands, and loose parts."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

from drawerwright.basics.lengths import Mm


@dataclass(frozen=True, slots=True)
class StripDemand:
    """Parts to be ripped from bands.

    `key` names the parts, `family` the bands they may share (same length, same cuts at both ends). `length`
    is the part's length, which is the band's width between its two routed edges; `height` is what is ripped.
    `length` lies along the sheet's length unless `can_turn`. `name` is what people call the parts (`key` where
    it is empty).
    """

    key: str
    family: str
    length: Mm
    height: Mm
    count: int
    can_turn: bool = False
    name: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class LooseDemand:
    """Rectangles that are cut to size and not routed on their ends (bottoms, applied fronts).

    `name` as in `StripDemand`.
    """

    key: str
    length: Mm
    width: Mm
    count: int
    can_turn: bool = False
    name: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class MatchedSet:
    """Loose parts cut side by side from one panel, so that the figure runs through them.

    `keys` repeat a key for every copy; all members have the same `length` (along the grain); `widths` follow
    the order in which they hang, top first.
    """

    label: str
    keys: tuple[str, ...]
    length: Mm
    widths: tuple[Mm, ...]

    @property
    def count(self) -> int:
        """The set is one block."""
        return 1


PartDemand: TypeAlias = StripDemand | LooseDemand | MatchedSet
"""Whatever is wanted from a sheet as one piece."""


def name_of(part: PartDemand) -> str:
    """What people call these parts."""
    return part.label if isinstance(part, MatchedSet) else part.name or part.key
