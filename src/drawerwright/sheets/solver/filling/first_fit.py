"""Things of some length in rooms of one length: the longest first, each into the first room that takes it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

Thing = TypeVar("Thing")


def first_fit(things: Iterable[tuple[int, Thing]], capacity: int) -> list[list[Thing]]:
    """Things with their lengths in as many rooms as they need, none longer than `capacity`.

    >>> first_fit([(3, "a"), (6, "b"), (4, "c"), (5, "d")], 10)
    [['b', 'c'], ['d', 'a']]
    """
    rooms: list[list[Thing]] = []
    left: list[int] = []
    for length, thing in sorted(things, key=lambda each: -each[0]):
        place = next((place for place, room in enumerate(left) if room >= length), len(rooms))
        if place == len(rooms):
            rooms.append([])
            left.append(capacity)
        rooms[place].append(thing)
        left[place] -= length
    return rooms
