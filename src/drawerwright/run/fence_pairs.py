"""Every way to serve the corners of a job with so many fence positions, searched without gaps.

A search tree hands each corner a pair of positions: two that are there, one that is there and a new one, or new
ones. What a partial hand-out says about the positions is an octagon (`drawerwright.run.octagons`), so an
impossible one is dropped as soon as it is impossible. The next corner is always the one with the fewest pairs
of positions left that could serve it. Nodes are worked off in blocks, the deepest first.
"""

from __future__ import annotations

import math
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from drawerwright.basics.lengths import Mm
from drawerwright.joints import law
from drawerwright.run.fence_joints import FenceJoint
from drawerwright.run.octagons import ROUNDING, Indices, Mask, Numbers, Octagons

BLOCK_NUMBERS = 2**17
"""Bounds that one block of nodes holds; about what a processor's cache takes."""
SERVED = 2**30
"""More choices than any corner has: the count of one that is served already."""


class OutOfTimeError(Exception):
    """The search met its deadline."""


@dataclass(frozen=True, slots=True)
class Demands:
    """What the corners ask of the fence as arrays, one entry per corner (mm)."""

    sums: Numbers
    thickness: Numbers
    least: Numbers
    most_flat: Numbers
    most_upright: Numbers
    is_split_free: Mask

    @classmethod
    def of(cls, joints: Sequence[FenceJoint]) -> Demands:
        """The demands of these joints, in their order."""
        return cls(
            np.array([joint.wanted_sum for joint in joints]),
            np.array([joint.upright_thickness for joint in joints]),
            np.array([joint.least_setting for joint in joints]),
            np.array([joint.most_flat for joint in joints]),
            np.array([joint.most_upright for joint in joints]),
            np.array([joint.is_split_free for joint in joints]),
        )

    def __len__(self) -> int:
        return len(self.sums)

    def uprights_within(self, neck: Mm) -> Numbers:
        """Largest settings of the upright pieces that keep their limits and leave this much neck."""
        free = np.minimum(self.most_upright, [law.upright_for_neck(t, neck) for t in self.thickness])
        return np.where(self.is_split_free, free, math.inf)


class Solutions(NamedTuple):
    """Complete hand-outs: an octagon for each, and in `pairs[row, corner]` the flat's and the upright's position.

    For a corner in `either_way` it is open which of the two is the upright's: the smaller one keeps the limits,
    because even half the sum does, and the larger one keeps those of the flat piece.
    """

    octagons: Octagons
    pairs: Indices
    either_way: Mask


class _Nodes(NamedTuple):
    """Partial hand-outs, one per row. Unserved corners have pairs of -1."""

    octagons: Octagons
    used: Indices
    is_open: Mask
    pairs: Indices


class _Branches(NamedTuple):
    """Hand-outs still to be tried: the row of the node they start from, the corner, and the pair it gets."""

    nodes: _Nodes
    row: Indices
    corner: Indices
    flat: Indices
    upright: Indices

    def kept(self, keep: Mask) -> _Branches:
        """Those of them that are to be kept."""
        return _Branches(self.nodes, *(array[keep] for array in self[1:]))

    def split(self, size: int) -> tuple[_Branches | None, _Branches]:
        """All but the last `size` of them, and those."""
        cut = max(len(self.row) - size, 0)
        parts = [(array[:cut], array[cut:]) for array in self[1:]]
        head = _Branches(self.nodes, *(first for first, _ in parts)) if cut else None
        return head, _Branches(self.nodes, *(last for _, last in parts))


@dataclass(slots=True)
class PairingTree:
    """The search with at most `count` positions.

    Sums may be missed by `tolerance`, and uprights keep a neck of `least_neck` beside their own limits (mm).
    `deadline` is a time of `time.perf_counter`.
    """

    demands: Demands
    count: int
    tolerance: Mm
    deadline: float
    least_neck: Mm = -math.inf
    _limits: Numbers = field(init=False)
    _either_way: Mask = field(init=False)
    _pending: list[_Branches] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._limits = self.demands.uprights_within(self.least_neck)
        highest_half = law.one_setting(self.demands.sums + self.tolerance)
        self._either_way = self.demands.is_split_free & (highest_half <= self._limits)

    def solutions(self) -> Iterator[Solutions]:
        """Blocks of all ways to serve every corner.

        Raises:
            OutOfTimeError: at the deadline.
        """
        demands = self.demands
        size = max(16, BLOCK_NUMBERS // (2 * self.count) ** 2)
        octagons = Octagons.within(1, self.count, float(demands.least.min()), float(demands.most_flat.max()))
        none = np.zeros(1, np.intp)
        self._branch(
            _Nodes(octagons, none, np.ones((1, len(demands)), np.bool_), np.full((1, len(demands), 2), -1))
        )
        while self._pending:
            if time.perf_counter() > self.deadline:
                raise OutOfTimeError
            rest, branches = self._pending.pop().split(size)
            if rest is not None:
                self._pending.append(rest)
            nodes = self._grown(branches)
            if not len(nodes.used):
                continue
            if nodes.is_open.any():
                self._branch(nodes)
            else:
                yield Solutions(nodes.octagons, nodes.pairs, self._either_way)

    def _grown(self, branches: _Branches) -> _Nodes:
        """The nodes that branches lead to, less the impossible ones."""
        demands, before = self.demands, branches.nodes
        row, corner, flat, upright = branches[1:]
        octagons = before.octagons.taken(row)
        sums = demands.sums[corner]
        holds = octagons.keep_sum(flat, upright, sums - self.tolerance, sums + self.tolerance)
        either = self._either_way[corner]
        limit = np.where(either, demands.most_flat[corner], self._limits[corner])
        holds &= octagons.keep_range(upright, demands.least[corner], limit)
        holds &= octagons.keep_range(flat, demands.least[corner], demands.most_flat[corner])
        is_both_new = (flat > upright) & (upright >= before.used[row])
        holds &= octagons.keep_order(upright, flat, np.where(is_both_new, 0.0, math.inf))
        kept = np.flatnonzero(holds)
        if len(kept) < len(row):
            octagons = octagons.taken(kept)
            row, corner, flat, upright = row[kept], corner[kept], flat[kept], upright[kept]
        rows = np.arange(len(row))
        is_open, pairs = before.is_open[row], before.pairs[row]
        is_open[rows, corner] = False
        pairs[rows, corner, 0], pairs[rows, corner, 1] = flat, upright
        used = np.maximum(before.used[row], np.maximum(flat, upright) + 1)
        return _Nodes(octagons, used, is_open, pairs)

    def _branch(self, nodes: _Nodes) -> None:
        """Put the branches of nodes on the pile, pairs that are there on top."""
        first, second = np.triu_indices(self.count)
        fits = self._fits(nodes, first, second)
        choices = np.where(nodes.is_open, fits.sum(axis=2), SERVED)
        corner = choices.argmin(axis=1)
        roomy = np.flatnonzero(nodes.used < self.count)
        branches = self._with_new_positions(nodes, roomy, corner)
        self._push(branches.kept(self._may_be_completed(branches, choices == 0)))
        alive = np.flatnonzero((nodes.used < self.count) | (choices.min(axis=1) > 0))
        at, pair = np.nonzero(fits[alive, corner[alive]])
        row = alive[at]
        turned = ~self._either_way[corner[row]] & (first[pair] != second[pair])
        row = np.concatenate([row[turned], row])
        flat = np.concatenate([first[pair[turned]], second[pair]])
        upright = np.concatenate([second[pair[turned]], first[pair]])
        self._push(_Branches(nodes, row, corner[row], flat, upright))

    def _push(self, branches: _Branches) -> None:
        if len(branches.row):
            self._pending.append(branches)

    def _with_new_positions(self, nodes: _Nodes, roomy: Indices, corner: Indices) -> _Branches:
        """The branches of nodes with room that give their next corner a new position, or two."""
        sharing = roomy[self.demands.is_split_free[corner[roomy]]]
        two_new = sharing[nodes.used[sharing] + 1 < self.count]
        rows = [two_new, roomy]
        flats = [nodes.used[two_new] + 1, nodes.used[roomy]]
        uprights = [nodes.used[two_new], nodes.used[roomy]]
        for a in range(self.count - 1):
            beside = sharing[nodes.used[sharing] > a]
            turned = beside[~self._either_way[corner[beside]]]
            rows += [beside, turned]
            flats += [nodes.used[beside], np.full(len(turned), a)]
            uprights += [np.full(len(beside), a), nodes.used[turned]]
        row = np.concatenate(rows)
        return _Branches(nodes, row, corner[row], np.concatenate(flats), np.concatenate(uprights))

    def _may_be_completed(self, branches: _Branches, is_stranded: Mask) -> Mask:
        """Whether a branch that takes the last position might serve every corner which no present pair can.

        A first look at ranges alone, so that most of such branches need no octagon of their own.
        """
        nodes, row, corner, flat, upright = branches
        low, high = (bound[row] for bound in nodes.octagons.ranges())
        last = self.count - 1
        rows, other = np.arange(len(row)), np.minimum(flat, upright)
        wanted = self.demands.sums[corner]
        is_twice = other == last
        least = np.where(
            is_twice, law.one_setting(wanted - self.tolerance), wanted - self.tolerance - high[rows, other]
        )
        most = np.where(
            is_twice, law.one_setting(wanted + self.tolerance), wanted + self.tolerance - low[rows, other]
        )
        low[:, last], high[:, last] = np.maximum(least, low[:, last]), np.minimum(most, high[:, last])
        sums = self.demands.sums[None, :, None]
        served = (low + low[:, last:])[:, None] <= sums + self.tolerance + ROUNDING
        served &= (high + high[:, last:])[:, None] >= sums - self.tolerance - ROUNDING
        takes_last = np.maximum(flat, upright) == last
        may: Mask = (
            ~takes_last | (nodes.used[row] < last) | (served.any(axis=2) | ~is_stranded[row]).all(axis=1)
        )
        return may

    def _fits(self, nodes: _Nodes, first: Indices, second: Indices) -> Mask:
        """Which pairs of used positions might serve which corner, (rows, corners, pairs)."""
        demands = self.demands
        least, most = (bound[:, None, first, second] for bound in nodes.octagons.sums())
        low, _ = nodes.octagons.ranges()
        smaller = np.minimum(low[:, first], low[:, second])[:, None, :]
        sums = demands.sums[None, :, None]
        limit = self._limits[None, :, None]
        fits: Mask = (most >= sums - self.tolerance - ROUNDING) & (least <= sums + self.tolerance + ROUNDING)
        fits &= smaller <= limit + ROUNDING
        fits &= (second < nodes.used[:, None])[:, None, :]
        fits &= demands.is_split_free[None, :, None] | (first == second)
        return fits
