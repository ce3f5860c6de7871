"""In which order cuts are made so that fence and stop are set as seldom as can be.

A cut can be made once the piece that it parts is free. A setting of which no cut is still waiting for another setting
is made at once: it has to be made some time, and frees what can be cut next. Where every setting that could be made
has cuts that wait, some setting must come twice; which one, is tried on several ways side by side. To find the fewest
is the task of the shortest common supersequence, which is hard (Maier, J. ACM 25, 1978, pp. 322-336).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass, field
from typing import TypeAlias

CutKind: TypeAlias = tuple[bool, bool, int]
"""What is cut together: ripped after routing or not, rip or crosscut, setting in whole steps."""
MOST_WAYS = 16
"""So many ways are followed side by side; 64 find nothing better on the real jobs of the benchmark."""
MOST_COPIED = 200_000
"""Cuts times ways: where there are many cuts, fewer ways are followed."""


@dataclass(slots=True)
class OrderedCut:
    """A cut in its task: what it is cut together with, its stage, and the places of the cuts that can be made after
    it."""

    kind: CutKind
    stage: int
    frees: list[int] = field(default_factory=list)


Groups: TypeAlias = list[tuple[CutKind, list[int]]]
"""What is cut together, in its order, by the places of the cuts in their task."""


def fewest_settings(cuts: Sequence[OrderedCut], free: Sequence[int]) -> Groups:
    """All cuts in groups of one setting each; `free` are the places of those that wait for no other."""
    start = _Way(_Cuts(cuts))
    for place in free:
        start.free_at(place)
    start.make_what_waits_for_nothing()
    ways, best = [start], start
    most = max(1, min(MOST_WAYS, MOST_COPIED // max(len(cuts), 1)))
    while ways and not (best := ways[0]).is_done:
        following: dict[object, _Way] = {}
        for way in ways:
            for kind in way.next_kinds():
                further = way.branch()
                further.make(kind)
                further.make_what_waits_for_nothing()
                following.setdefault(further.made, further)
        ways = sorted(following.values(), key=_Way.promise)[:most]
    return best.groups


class _Cuts:
    """What is the same on every way: of each cut what is made with it, and what that frees for other settings."""

    def __init__(self, cuts: Sequence[OrderedCut]) -> None:
        self.kinds = [cut.kind for cut in cuts]
        self.stages = [cut.stage for cut in cuts]
        self.others = [tuple(n for n in cut.frees if cuts[n].kind != cut.kind) for cut in cuts]
        self._same = [[n for n in cut.frees if cuts[n].kind == cut.kind] for cut in cuts]
        self._together: dict[int, tuple[int, ...]] = {}

    def together(self, place: int) -> tuple[int, ...]:
        """A cut, what it frees for the same setting, and so on."""
        if place not in self._together:
            found = [place]
            for each in found:  # grows as it is gone through
                found += self._same[each]
            self._together[place] = tuple(found)
        return self._together[place]


class _Way:
    """What has been cut so far, and what lies ready."""

    def __init__(self, cuts: _Cuts) -> None:
        self.cuts = cuts
        self.made = 0
        """The same for two ways that have made the same cuts: of a setting they can only have made more or fewer. A bit
        stands for each cut."""
        self.ready: dict[CutKind, tuple[int, ...]] = {}
        self.stages: dict[CutKind, int] = {}
        self.waiting = Counter(cuts.kinds)
        self.groups: Groups = []

    def branch(self) -> _Way:
        """The same once more, to go on otherwise."""
        other = copy(self)
        other.ready = dict(self.ready)
        other.stages = dict(self.stages)
        other.waiting = self.waiting.copy()
        other.groups = list(self.groups)
        return other

    @property
    def is_done(self) -> bool:
        return not self.ready

    def promise(self) -> tuple[int, int]:
        """How many settings there will be at the least, and how many cuts still wait."""
        needed = {kind for kind, count in self.waiting.items() if count} | self.ready.keys()
        return len(self.groups) + len(needed), self.waiting.total()

    def free_at(self, place: int) -> None:
        """A piece is free: ready is its cut, and what that frees for the same setting."""
        kind, stage = self.cuts.kinds[place], self.cuts.stages[place]
        at_hand = self.cuts.together(place)
        if kind in self.ready:
            self.stages[kind] = min(self.stages[kind], stage)
            self.ready[kind] += at_hand
        else:
            self.stages[kind], self.ready[kind] = stage, at_hand
        self.waiting[kind] -= len(at_hand)

    def make(self, kind: CutKind) -> None:
        """Make all cuts of a setting that lie ready."""
        together = sorted(self.ready.pop(kind))
        self.groups.append((kind, together))
        for place in together:
            self.made |= 1 << place
            for after in self.cuts.others[place]:
                self.free_at(after)

    def make_what_waits_for_nothing(self) -> None:
        """The lowest stage first, then crosscuts, then the longest; what is ripped after routing last."""
        while self.ready:
            kind = min(self.ready, key=self._rank)
            if self.waiting[kind]:
                return
            self.make(kind)

    def _rank(self, kind: CutKind) -> tuple[bool, bool, int, bool, int]:
        is_ripping, is_rip, setting = kind
        stage = 0 if is_ripping else self.stages[kind]
        return is_ripping, self.waiting[kind] > 0, stage, is_rip, -setting

    def next_kinds(self) -> list[CutKind]:
        """What could be made next: nothing is ripped before all else is cut."""
        is_ripping = min(kind[0] for kind in self.ready)
        return sorted((kind for kind in self.ready if kind[0] == is_ripping), key=self._rank)
