"""The planner's own picture of a sheet, in ticks of its grid.

A frame is the usable rectangle of a sheet seen in the direction of its first cuts: `length` is divided first,
into columns; a column is divided across into a stack of elements.

      v ^ +-----------+------+---------+
        | | element   |      |         |   columns side by side along u,
        | |-----------|      |         |   elements piled up along v
        | | element   |      |         |
        | +-----------+------+---------+--> u
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class Frame:
    """A way to use sheets of size number `size`: their usable rectangle in the direction of the first cuts."""

    size: int
    length: int
    width: int
    cost: int
    transposed: bool = False
    apart: bool = False
    """Few of a kind (offcuts): their columns are not exchanged with those of other frames."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A single part: which demand it meets, and its sizes along u and v. `turned` against the sheet."""

    demand: int
    u: int
    v: int
    turned: bool = False

    @property
    def takes(self) -> tuple[tuple[int, int], ...]:
        return ((self.demand, 1),)


@dataclass(frozen=True, slots=True)
class Band:
    """A band with its strips: (demand, count) each; `v` is its routed length."""

    family: int
    u: int
    v: int
    strips: tuple[tuple[int, int], ...]

    @property
    def takes(self) -> tuple[tuple[int, int], ...]:
        return self.strips


@dataclass(frozen=True, slots=True)
class RowOfPieces:
    """Pieces beside each other along u, cut from an element `v` high."""

    u: int
    v: int
    pieces: tuple[Piece, ...]
    takes: tuple[tuple[int, int], ...] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "takes", _all_takes(self.pieces))


Element: TypeAlias = Piece | Band | RowOfPieces


@dataclass(frozen=True, slots=True)
class Stack:
    """What fills one column: `kind` numbers the column's width `u`; `v` is what the elements and kerfs take."""

    kind: int
    u: int
    v: int
    elements: tuple[Element, ...]
    takes: tuple[tuple[int, int], ...] = field(init=False, compare=False, repr=False)
    """Demand number and count, sorted."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "takes", _all_takes(self.elements))

    def __hash__(self) -> int:
        return hash((self.kind, self.v, self.takes))  # sooner known than that of all elements


def _all_takes(elements: Iterable[Element]) -> tuple[tuple[int, int], ...]:
    total: dict[int, int] = {}
    for element in elements:
        for demand, count in element.takes:
            total[demand] = total.get(demand, 0) + count
    return tuple(sorted(total.items()))


@dataclass(frozen=True, slots=True)
class FilledSheet:
    """A sheet that is used: its frame and the columns on it, in order.

    Where a first cut along the whole frame takes the leftover off, `height` is what it leaves to the columns.
    """

    frame: int
    stacks: tuple[Stack, ...]
    height: int | None = None

    def left_over(self, frame: Frame, kerf: int) -> Iterator[tuple[int, int]]:
        """Sizes along u and v of what is left of the sheet beside and above its columns."""
        height = frame.width if self.height is None else self.height
        yield frame.length, frame.width - height - kerf
        yield frame.length - sum(stack.u + kerf for stack in self.stacks), height
        for stack in self.stacks:
            yield stack.u, height - stack.v - kerf


@dataclass(frozen=True, slots=True)
class Sizing:
    """What kerf and band rules make of a list of elements, in ticks.

    `heights` are the strips' heights by demand number (0 for a demand that is no strip); `sacrificial` is the
    width of a sacrificial strip, of which a band has `ends`.
    """

    kerf: int
    heights: tuple[int, ...] = ()
    sacrificial: int = 0
    ends: int = 0
    shortest: int = 0

    @property
    def overhead(self) -> int:
        """What the sacrificial strips and their kerfs take from a band."""
        return self.ends * (self.sacrificial + self.kerf) if self.sacrificial else 0

    def band(self, family: int, u: int, strips: Iterable[tuple[int, int]]) -> Band:
        """The band that holds `strips`, padded where it would be too short to rout."""
        strips = tuple(sorted((demand, count) for demand, count in strips if count))
        net = sum(self.heights[demand] * count for demand, count in strips)
        kerfs = self.kerf * (sum(count for _, count in strips) - 1)
        return Band(family, u, max(net + kerfs + self.overhead, self.shortest), strips)

    def merged(self, elements: Iterable[Element], longest: int) -> list[Element]:
        """Bands of one family next to each other become one band, where that is no longer than `longest`."""
        merged: list[Element] = []
        for element in elements:
            before = merged[-1] if merged else None
            if isinstance(element, Band) and isinstance(before, Band) and before.family == element.family:
                counts = dict(before.strips)
                for demand, count in element.strips:
                    counts[demand] = counts.get(demand, 0) + count
                both = self.band(element.family, element.u, counts.items())
                if both.v <= longest:
                    merged[-1] = both
                    continue
            merged.append(element)
        return merged

    def row(self, v: int, pieces: Iterable[Piece]) -> Element:
        """Pieces beside each other; a single one of full height needs no row."""
        pieces = tuple(sorted(pieces, key=lambda piece: (-piece.v, -piece.u, piece.demand)))
        if len(pieces) == 1 and pieces[0].v == v:
            return pieces[0]
        return RowOfPieces(sum(piece.u for piece in pieces) + self.kerf * (len(pieces) - 1), v, pieces)

    def stack(self, kind: int, u: int, elements: Iterable[Element]) -> Stack:
        """Elements above each other, with kerfs between."""
        elements = tuple(elements)
        height = sum(element.v for element in elements) + self.kerf * max(len(elements) - 1, 0)
        return Stack(kind, u, height, elements)

    def without(self, stack: Stack, surplus: Counter[int]) -> Stack | None:
        """`stack` less as much of `surplus` as it holds (which is taken off `surplus`); None when nothing is left."""
        if not any(surplus[demand] > 0 for demand, _ in stack.takes):
            return stack
        kept: list[Element] = []
        for element in stack.elements:
            left = self._element_without(element, surplus)
            if left is not None:
                kept.append(left)
        return self.stack(stack.kind, stack.u, kept) if kept else None

    def _element_without(self, element: Element, surplus: Counter[int]) -> Element | None:
        if isinstance(element, Band):
            strips = []
            for demand, count in element.strips:
                off = max(0, min(count, surplus[demand]))
                surplus[demand] -= off
                strips.append((demand, count - off))
            return self.band(element.family, element.u, strips) if any(n for _, n in strips) else None
        if isinstance(element, Piece):
            if surplus[element.demand] > 0:
                surplus[element.demand] -= 1
                return None
            return element
        pieces = [piece for piece in element.pieces if self._element_without(piece, surplus) is not None]
        if not pieces:
            return None
        return self.row(max(piece.v for piece in pieces), pieces)
