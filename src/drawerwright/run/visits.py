"""The order in which places are visited, so that whole corners are cut as early as can be."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from drawerwright.run.spots import Spot

P = TypeVar("P", float, Spot)
"""A fence setting (mm), or a place."""


def order_of_visits(corners: Sequence[tuple[P, P]]) -> list[P]:
    """Every place once, the two of one corner together.

    Args:
        corners: the places where the pieces of each corner are cut, flat and upright; may be one and the same.

    The first corner is one that needs a single place if there is one. Each further visit goes where it takes the
    fewest new places to complete a corner, and among those where it completes most of them.

    >>> order_of_visits([(10.5, 9.0), (9.0, 9.0)])
    [9.0, 10.5]
    >>> order_of_visits([(3.0, 14.0), (5.0, 16.0), (3.0, 16.0)])
    [3.0, 14.0, 16.0, 5.0]
    """
    order: list[P] = []
    open_corners = [frozenset(corner) for corner in corners]
    while open_corners:
        missing = [corner - set(order) for corner in open_corners]
        chosen = min(
            missing,
            key=lambda new: (len(new), -sum(other <= new for other in missing), sorted(new)),
        )
        order += sorted(chosen)
        open_corners = [
            corner for corner, new in zip(open_corners, missing, strict=True) if not new <= chosen
        ]
    return order
