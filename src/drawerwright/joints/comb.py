"""What is taken from a piece where it differs along its edge: layers, each with a section of its own.

A joint that is the same all along an edge has one layer. Heights are in mm above the lower edge of the piece itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.joints.corner import Outline


@dataclass(frozen=True, slots=True)
class JoinedEdge:
    """The edge of a piece: how wide it is, and from where to where the other piece of the corner stands (mm)."""

    width: Mm
    low: Mm
    high: Mm

    @property
    def joined(self) -> Mm:
        """As much as both pieces have (mm)."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class EdgeLayer:
    """A part of the edge and the section of the piece there (mm)."""

    low: Mm
    high: Mm
    outline: Outline


def layered(
    edge: JoinedEdge, notches: Sequence[tuple[Mm, Mm]], whole: Outline, notched: Outline
) -> tuple[EdgeLayer, ...]:
    """The layers of an edge with notches, which are told from where the other piece begins and do not overlap."""
    return tuple(_layers(edge, notches, whole, notched))


def _layers(
    edge: JoinedEdge, notches: Sequence[tuple[Mm, Mm]], whole: Outline, notched: Outline
) -> Iterator[EdgeLayer]:
    reached = 0.0
    for start, end in notches:
        low, high = edge.low + start, edge.low + end
        if low > reached:
            yield EdgeLayer(reached, low, whole)
        yield EdgeLayer(low, high, notched)
        reached = high
    if edge.width > reached:
        yield EdgeLayer(reached, edge.width, whole)
