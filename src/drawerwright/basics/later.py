"""Things that are made when they are asked for: a long packet is typeset while its last drawings are still to come."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from threading import RLock
from typing import TypeVar, overload

Thing = TypeVar("Thing")
Made = TypeVar("Made")


class MadeLater(Sequence[Thing]):
    """A sequence of which each thing is made anew whenever it is asked for.

    >>> squares = MadeLater([lambda: 1, lambda: 4, lambda: 1 / 0])
    >>> list(squares[:2]), len(squares), squares[:2].each(str)[1]
    ([1, 4], 3, '4')
    """

    def __init__(self, makers: Sequence[Callable[[], Thing]]) -> None:
        self._makers = makers

    @overload
    def __getitem__(self, place: int) -> Thing: ...
    @overload
    def __getitem__(self, place: slice) -> MadeLater[Thing]: ...
    def __getitem__(self, place: int | slice) -> Thing | MadeLater[Thing]:
        if isinstance(place, slice):
            return MadeLater(self._makers[place])
        return self._makers[place]()

    def __len__(self) -> int:
        return len(self._makers)

    def each(self, change: Callable[[Thing], Made]) -> MadeLater[Made]:
        """The same things changed, each when it is asked for."""

        def changed(make: Callable[[], Thing]) -> Made:
            return change(make())

        return MadeLater([partial(changed, make) for make in self._makers])


class MadeOnce(Mapping[str, Thing]):
    """Things by name, each made the first time it is asked for, in whatever thread, and kept.

    >>> MadeOnce({"one": lambda: 1, "never": lambda: 1 / 0})["one"]
    1
    """

    def __init__(self, makers: Mapping[str, Callable[[], Thing]]) -> None:
        self._makers = makers
        self._made: dict[str, Thing] = {}
        self._making = RLock()

    def __getitem__(self, name: str) -> Thing:
        if name not in self._made:
            with self._making:
                if name not in self._made:
                    self._made[name] = self._makers[name]()
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._makers)

    def __len__(self) -> int:
        return len(self._makers)
