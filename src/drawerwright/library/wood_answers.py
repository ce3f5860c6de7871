"""The moisture of wood, how far it moves, and how far a bottom sags, for Python."""

from __future__ import annotations

from typing import Literal

from drawerwright.basics.declared import checked
from drawerwright.basics.lengths import Mm
from drawerwright.job.bearing_bottom import BottomAnswer, bear, sag_limit
from drawerwright.job.moving_wood import MovementAnswer, moisture_in_air, move


@checked
def moisture(temperature: float, humidity: float) -> float:
    """The moisture (% of dry mass) that wood comes to in air of a temperature (°C) and a relative humidity (%).

    Raises:
        DrawerwrightError: no air of this world is so.
    """
    return moisture_in_air(temperature, humidity).air.equilibrium


@checked
def movement(
    size: Mm,
    *,
    from_mc: float,
    to_mc: float,
    species: str | None = None,
    cut: Literal["tangential", "radial"] | None = None,
    panel: str | None = None,
) -> MovementAnswer:
    """How far a size (mm) across the grain moves between two moistures (%): `change`, `final`, `provenance`.

    Args:
        size: mm.
        from_mc: its moisture now.
        to_mc: the moisture that it comes to.
        species: of solid wood, by any of its names (docs/wood.md).
        cut: how the board lies in the log; tangential, that is flat-sawn, where it is not given.
        panel: instead of a species, a kind of plywood, which moves in its plane.

    Raises:
        DrawerwrightError: neither species nor plywood is given or known, or a figure cannot be.
    """
    return move(size, from_mc, to_mc, species=species, cut=cut, panel=panel)


@checked
def bottom(
    width: Mm,
    length: Mm,
    thickness: Mm,
    panel: str,
    *,
    load: float,
    point: float = 0.0,
    supports: Literal["three", "four"] | None = None,
    species: str | None = None,
    cut: Literal["tangential", "radial"] | None = None,
    lengthwise: bool = False,
    span_over: float | None = None,
    most: Mm | None = None,
) -> BottomAnswer:
    """How far a bottom sags, and whether it holds: `deflection`, `limit` (mm), `stress` (N/mm²), `ok`.

    Args:
        width: from side to side, between the edges that carry it (mm).
        length: from front to back (mm).
        thickness: mm.
        panel: what it is of, for instance `birch-plywood`.
        load: spread over it (kg).
        point: standing on the worst place as well (kg).
        supports: on how many edges it lies; on four where it is not given.
        species: of solid wood.
        cut: how its boards lie in the log.
        lengthwise: whether the grain of its face runs from front to back.
        span_over: it may sag its span over this; as usual where it is not given.
        most: and never more than this (mm).

    Raises:
        DrawerwrightError: a figure cannot be, or nothing is known of the board.
    """
    return bear(
        width,
        length,
        thickness,
        panel,
        load,
        point=point,
        supports=supports,
        species=species,
        cut=cut,
        lengthwise=lengthwise,
        limit=sag_limit(span_over, most),
    )
