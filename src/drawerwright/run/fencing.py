"""Which fence settings a job's corners get."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry, set_corner
from drawerwright.run.setups import FencePair


@dataclass(frozen=True, slots=True)
class FenceChoice:
    """The fence settings of every corner."""

    pairs: dict[CornerGeometry, FencePair]


def choose_fences(
    corners: Sequence[CornerGeometry], cutter: Cutter, *, plan: str, flushness: Mm
) -> FenceChoice:
    pairs = {}
    for corner in corners:
        s = set_corner(cutter, corner)
        pairs[corner] = FencePair(s.fence_flat, s.fence_upright)
    return FenceChoice(pairs)
