"""The corners of a job: each once, with a name that no other has and the drawers that have it."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Generic, TypeAlias, TypeVar

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase, plain
from drawerwright.drawers.box import CORNER_PIECES
from drawerwright.job.job import Job
from drawerwright.joints.corner_key import (
    CornerKey,
    JoinedStocks,
    KeyedCorner,
    Orientation,
    PlainKeyedCorner,
)
from drawerwright.joints.joint import joint_named

_WHERE = {
    ("front",): phrase("front corner"),
    ("back",): phrase("back corner"),
    ("front", "back"): phrase("front and back corner"),
}
_ENDS = ("front", "back")
"""In this order, whichever end a drawer's corner is met at first."""
_LIP_DIGITS: tuple[tuple[Mm, str], ...] = ((0.03, ".3f"), (0.4, ".2f"))
"""How lips are written that are nearer to each other than this (mm), in millimetres and in inches; others are
written coarsely."""


K = TypeVar("K", bound=JoinedStocks)


@dataclass(frozen=True, slots=True)
class NamedCorner(Generic[K]):
    """A corner of a job: what it is called, its key with the stock of its pieces, and the drawers that have it.

    `short` says only where it stands and its lip, and may be other corners' as well.
    """

    name: str
    short: str
    keyed: K
    drawers: tuple[str, ...]

    @property
    def key(self) -> CornerKey:
        return self.keyed.key


JobCorner: TypeAlias = NamedCorner[KeyedCorner]
PlainJobCorner: TypeAlias = NamedCorner[PlainKeyedCorner]
"""One that no cutter makes."""


def corners_of(job: Job) -> tuple[JobCorner, ...]:
    """Every corner of a job that a cutter makes, in the order in which its drawers have them.

    A name says where the corner stands and its lip; where two would read alike, also what tells them apart; and the
    cutter, where the job uses several.
    """
    corners = _named((box.name, box.routed_corners) for box in job.all_boxes)
    if len(job.cutters_in_use) < 2:
        return corners
    return tuple(
        replace(corner, name=joined((corner.name, corner.keyed.cutter.name), ", ")) for corner in corners
    )


def plain_corners_of(job: Job) -> tuple[PlainJobCorner, ...]:
    """Every corner of a job that no cutter makes, named in the same way, and by its joint."""
    corners = _named((box.name, box.plain_corners) for box in job.all_boxes)
    return tuple(
        corner
        if plain(corner.name).endswith(plain(words))
        else replace(corner, name=joined((corner.name, words), ", "))
        for corner in corners
        for words in (joint_named(corner.key.joint).words,)
    )


def _named(drawers: Iterable[tuple[str, Iterable[K]]]) -> tuple[NamedCorner[K], ...]:
    """The different corners of some drawers; each drawer has two at the front and two at the back, or none."""
    places: dict[K, dict[str, list[str]]] = defaultdict(dict)
    for drawer, corners in drawers:
        for piece, corner in dict.fromkeys(zip(CORNER_PIECES, corners, strict=False)):
            places[corner].setdefault(piece.value, []).append(drawer)
    by_place: dict[tuple[str, ...], list[K]] = defaultdict(list)
    for corner, ends in places.items():
        by_place[tuple(where for where in _ENDS if where in ends)].append(corner)
    names = {
        corner: parts
        for ends, alike in by_place.items()
        for corner, parts in zip(alike, _names(_WHERE[ends], alike), strict=True)
    }
    return tuple(
        NamedCorner(
            joined(names[corner], ", "),
            joined(names[corner][:2], ", "),
            corner,
            tuple(dict.fromkeys(drawer for drawers in ends.values() for drawer in drawers)),
        )
        for corner, ends in places.items()
    )


def _names(where: str, corners: Sequence[JoinedStocks]) -> list[list[str]]:
    """Names of corners that stand in the same place, each with what it takes to tell it from the others: the place,
    the lip, and what is further needed."""
    lips = {corner.key.lip for corner in corners}
    names = [[where, _lip_words(corner.key.lip, _lip_digits(corner.key.lip, lips))] for corner in corners]
    for differing, words in _FURTHER:
        for alike in _alike(names):
            if len({differing(corners[number].key) for number in alike}) > 1:
                for number in alike:
                    names[number].append(words(corners[number]))
    return names


def _alike(names: Iterable[Sequence[str]]) -> list[list[int]]:
    """Which of them read alike, by their numbers."""
    found: dict[tuple[str, ...], list[int]] = defaultdict(list)
    for number, parts in enumerate(names):
        found[tuple(plain(part) for part in parts)].append(number)
    return [alike for alike in found.values() if len(alike) > 1]


def _lip_digits(lip: Mm, lips: Iterable[Mm]) -> str:
    nearest = min((abs(lip - other) for other in lips if other != lip), default=lip)
    return next((digits for near, digits in _LIP_DIGITS if nearest < near), ".1f")


def _lip_words(lip: Mm, digits: str) -> str:
    return phrase("lip {lip}", lip=millimetres(lip, digits)) if lip else phrase("flush")


def stock_words(corner: JoinedStocks) -> str:
    """The stock of both pieces, the flat one first."""
    flat, upright = corner.flat.name, corner.upright.name
    return flat if corner.key.flat == corner.key.upright else joined((flat, upright), " + ")


def way_words(orientation: Orientation) -> str:
    """Which pieces lie flat."""
    return phrase("fronts flat") if orientation is Orientation.FRONTS_FLAT else phrase("sides flat")


_FURTHER: tuple[tuple[Callable[[CornerKey], Hashable], Callable[[JoinedStocks], str]], ...] = (
    (lambda key: (key.flat, key.upright), stock_words),
    (lambda key: key.orientation, lambda corner: way_words(corner.key.orientation)),
    (lambda key: key.joint, lambda corner: joint_named(corner.key.joint).words),
)
"""What tells corners apart that stand in the same place and have the same lip, and the words for it."""


def corner_called(name: str) -> str:
    """A corner's name that a file keeps in English, as a phrase again; what is no such name stays as it is."""
    words, _comma, rest = name.partition(", ")
    lip, comma, further = rest.partition(", ")
    where = next((known for known in _WHERE.values() if plain(known) == words), None)
    kept = re.fullmatch(r"lip (-?[0-9]+\.([0-9]+)) mm", lip)
    if where is None or (kept is None and lip != "flush"):
        return name
    lip_words = _lip_words(float(kept[1]), f".{len(kept[2])}f") if kept else _lip_words(0.0, ".1f")
    return joined((where, lip_words, *([further] if comma else ())), ", ")
