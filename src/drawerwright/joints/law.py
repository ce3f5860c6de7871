r"""The law of self-mating corner joints: the one place that holds its formulas.

One cutter stands upright in a router table and cuts both halves of a corner, the *flat* piece lying on the
table with its end to the fence, the *upright* piece standing on its end with its inside to the fence.

::

        x = 0    F_flat
    y    |________|________________
    ^    |   roof                  |  <- outer face of the flat piece, y = t_flat
    |    |        |                |
    h -->|........|                |  <- tip of the upright piece touches the roof
         |  head /                 |
         |      /    hook          |
         | neck |                  |
    0 -->|......|______________....|  <- inner face of the flat piece, the upright's shoulder bears here
         |          |
         |  upright |   lip o = 0: both outer faces flush
         |  piece   |
         0         t_upright               x ->

Symbols, in millimetres: `m` mid depth and `d` step of the cutter, `c(z)` its inset at the depth z below its
top, `h` bit height, `F` fence setting, `t` thickness, `o` lip, `Y` engagement. The two pieces close on each
other exactly when ``c(h - y) + c(h - Y + y) = F_flat + F_upright - o - t_upright`` for every y. A profile
that is point-symmetric about its mid depth (``c(m - u) + c(m + u) = d``) makes the left side constant when
``Y = 2 (h - m)``; then the right side has to be `d`.

Every formula also takes arrays and works element by element, so that many corners can be reckoned at once.

Source: derived for this project; checked against independent boolean operations on the finished solids
(tests/validation) and against figures of common practice in the trade.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING, TypeVar

from drawerwright.basics.lengths import Degrees, Mm

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

L = TypeVar("L", Mm, "NDArray[np.float64]")
"""A length, or an array of lengths (mm)."""


def engagement(bit_height: Mm, mid_depth: Mm) -> Mm:
    """How far the upright piece reaches into the flat piece when the profiles mate: ``Y = 2 (h - m)``."""
    return 2 * (bit_height - mid_depth)


def bit_height_for_roof(mid_depth: Mm) -> Mm:
    """Bit height at which the tip meets the roof of the flat piece (drawer-lock): ``Y = h``, so ``h = 2 m``.

    >>> bit_height_for_roof(5.65)
    11.3
    """
    return 2 * mid_depth


def bit_height_for_engagement(mid_depth: Mm, wanted_engagement: Mm) -> Mm:
    """Bit height that gives an engagement: ``h = m + Y / 2``.

    With the engagement equal to the flat piece's thickness the tip ends flush with its outer face
    (lock-mitre); with the boards' thickness it is the edge-to-edge joint.
    """
    return mid_depth + wanted_engagement / 2


def misfit(bit_height: Mm, mid_depth: Mm) -> Mm:
    """Misfit of a drawer-lock set-up, ``delta = h - 2 m``: negative is play, positive stands proud."""
    return bit_height - bit_height_for_roof(mid_depth)


def play(bit_height: Mm, mid_depth: Mm) -> Mm:
    """Play along the upright piece of a drawer-lock corner set too low; 0 at the right height and above."""
    return _above_zero(-misfit(bit_height, mid_depth))


def run_over_rise(slope: Degrees) -> float:
    """Run over rise of the slanted part; `slope` is the angle whose tangent it is."""
    if isinstance(slope, int | float):
        return math.tan(math.radians(slope))
    import numpy as np  # only whoever hands in an array needs it, and has it loaded

    tangents: float = np.tan(np.radians(slope))
    return tangents


def stands_proud(bit_height: Mm, mid_depth: Mm, step: Mm, slope: Degrees) -> Mm:
    """How far the upright of a drawer-lock corner set too high stays out of its seat: misfit x run / rise.

    `slope` is the angle whose tangent is run / rise. It is never more than the step.

    >>> round(stands_proud(11.4, 5.65, 3.45, 55), 3)
    0.143
    """
    out = _above_zero(misfit(bit_height, mid_depth)) * run_over_rise(slope)
    return out - _above_zero(out - step)


def _above_zero(length: Mm) -> Mm:
    """The length, or 0 where it is less."""
    return (length + abs(length)) / 2


def tip_step(bit_height: Mm, mid_depth: Mm, flat_thickness: Mm) -> Mm:
    """How far the upright's tip stands beyond the flat piece's outer face when the cutter goes through it
    (lock-mitre), or how far two boards' faces are off each other when one is turned over."""
    return engagement(bit_height, mid_depth) - flat_thickness


def fence_sum(lip: Mm, upright_thickness: Mm, step: Mm) -> Mm:
    """What both fence settings of a corner add up to: ``F_flat + F_upright = o + t_upright + d``."""
    return lip + upright_thickness + step


def cut(fence_setting: Mm, inset: Mm) -> Mm:
    """How deep the cutter cuts from an end, or into an inside face, where its edge has this inset: ``F - c``."""
    return fence_setting - inset


def thickest_through(mid_depth: Mm) -> Mm:
    """The thickest flat piece that a cutter goes right through with its middle in the middle of the stock: ``2 m``.

    The top of the cutter, ``h = m + t / 2`` above the table, has to come out of the stock, ``h >= t``.
    """
    return 2 * mid_depth


def one_setting(wanted_sum: L) -> L:
    """The fence setting that serves both pieces of a corner: half the sum.

    >>> round(one_setting(fence_sum(lip=0, upright_thickness=14.6, step=3.45)), 3)
    9.025
    """
    return wanted_sum / 2


def other_setting(wanted_sum: Mm, setting: Mm) -> Mm:
    """The fence setting of one piece when the other piece of the corner is cut at `setting`."""
    return wanted_sum - setting


def tooth_only_setting(step: Mm) -> Mm:
    """Fence setting with the smaller radius level with the fence, so that only the tooth cuts: ``F = d``."""
    return step


def lip(fence_flat: Mm, fence_upright: Mm, upright_thickness: Mm, step: Mm) -> Mm:
    """How far the flat piece's end stands beyond the upright's outer face at two fence settings."""
    return fence_flat + fence_upright - upright_thickness - step


def overlap(fence_one: Mm, fence_other: Mm, step: Mm) -> Mm:
    """How far two boards reach into each other edge to edge, one of them turned over: ``F_1 + F_2 - d``.

    So much each joint takes off the width of a panel.

    >>> round(overlap(3.45, 3.45, 3.45), 3)
    3.45
    """
    return lip(fence_one, fence_other, 0.0, step)


def board_width(wanted_panel: Mm, boards: int, overlap_of_each: Mm) -> Mm:
    """Width of each board of a panel made of equal boards.

    >>> round(board_width(wanted_panel=300, boards=3, overlap_of_each=3.45), 2)
    102.3
    """
    return (wanted_panel + (boards - 1) * overlap_of_each) / boards


def neck(upright_thickness: L, fence_upright: L) -> L:
    """The upright piece's thinnest part: ``t_upright - F_upright``."""
    return upright_thickness - fence_upright


def upright_for_neck(upright_thickness: Mm, wanted_neck: Mm) -> Mm:
    """The upright piece's fence setting that leaves a neck: ``F_upright = t_upright - neck``."""
    return upright_thickness - wanted_neck


def head(upright_thickness: Mm, fence_upright: Mm, step: Mm) -> Mm:
    """The upright piece's thickness at its tip (drawer-lock): the neck and the step."""
    return neck(upright_thickness, fence_upright) + step


def roof(flat_thickness: Mm, bit_height: Mm) -> Mm:
    """What is left of the flat piece over the cut; zero or less when the cutter goes through."""
    return flat_thickness - bit_height


def upright_length(outer_size: Mm, ends: Iterable[tuple[Mm, Mm]]) -> Mm:
    """Length of an upright piece.

    Args:
        outer_size: finished size over the outer faces of the flat pieces at both ends.
        ends: for each end, the flat piece's thickness and the engagement there.

    >>> round(upright_length(408.6, [(14.6, 11.3), (14.7, 11.3)]), 1)
    401.9
    """
    return outer_size - sum(flat_thickness - reach for flat_thickness, reach in ends)


def flat_length(outer_over_uprights: Mm, lips: Iterable[Mm]) -> Mm:
    """Length of a flat piece: the finished size over the upright pieces and the lips at its ends."""
    return outer_over_uprights + sum(lips)


def outer_size(upright_piece_length: Mm, ends: Iterable[tuple[Mm, Mm]]) -> Mm:
    """Finished size over the flat pieces that an upright piece of this length gives."""
    return upright_piece_length + sum(flat_thickness - reach for flat_thickness, reach in ends)
