"""What somebody who looks at the picture knows better: stretches of a face that do not count, or lie elsewhere."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from drawerwright.joints.scan.edge_points import EdgePoints

STRETCHES = 6
"""Each face is told in so many stretches of one length, from its start to its end."""
FACES = "ADLSHGO"
"""The letters of `drawerwright.joints.scan.notch`."""
_WRITTEN = re.compile(rf"([{FACES}])([1-{STRETCHES}])(?:(-)|([+~]\d+(?:\.\d+)?))")


@dataclass(frozen=True, slots=True)
class HandEdit:
    """A stretch (from 1) of a face that is left out, or moved outwards by so many pixels of the picture."""

    face: str
    stretch: int
    moved: float | None = None

    def __str__(self) -> str:
        if self.moved is None:
            return f"{self.face}{self.stretch}-"
        return f"{self.face}{self.stretch}{'+' if self.moved >= 0 else '~'}{abs(self.moved):g}"


def edits_in(text: str) -> tuple[HandEdit, ...]:
    """Edits as they are written: `A2-` leaves out the second stretch of A, `D3+0.5` moves the third of D outwards by
    half a pixel, `D3~0.5` inwards. Of two of one stretch the last counts; what is none is passed over."""
    found: dict[tuple[str, int], HandEdit] = {}
    for match in _WRITTEN.finditer(text):
        face, stretch, is_out, move = match.groups()
        moved = None if is_out else float(move[1:]) * (1 if move[0] == "+" else -1)
        found[face, int(stretch)] = HandEdit(face, int(stretch), moved)
    return tuple(found.values())


def by_hand(seen: EdgePoints, edits: Iterable[HandEdit]) -> EdgePoints:
    """The points of a face as they are with what was changed by hand."""
    points, lost = seen.points, seen.lost
    for edit in edits:
        if edit.face != seen.face.name or not len(points):
            continue
        here = stretch_of(seen, points) == edit.stretch
        if edit.moved is None:
            lost = np.concatenate([lost, points[here]])
            points = points[~here]
        else:
            points = points + edit.moved * here[:, None] * seen.face.outward
    return replace(seen, points=points, lost=lost)


def stretch_of(seen: EdgePoints, points: np.ndarray) -> np.ndarray:
    """In which stretch (from 1) of a face each point lies."""
    run = seen.face.end - seen.face.start
    share = (points - seen.face.start) @ run / float(run @ run)
    return np.asarray(np.clip((share * STRETCHES).astype(int), 0, STRETCHES - 1) + 1)
