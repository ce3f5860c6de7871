"""What parts take of sheets at the least, with a kerf beside and one above each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawerwright.sheets.solver.columns import Piece, Sizing
from drawerwright.sheets.solver.filling.families import Family


def least_rooms(
    families: Iterable[Family], pieces: Iterable[Piece], sizing: Sizing, counts: Sequence[int], longest: int
) -> dict[int, int]:
    """Square ticks by demand number for `counts` of the parts, of sheets one kerf longer and wider than they are.

    The first of a family's parts answers for all of them, with the sacrificial strips of as few bands, up to the
    `longest`, as can hold them.
    """
    kerf = sizing.kerf
    rooms: dict[int, int] = {}
    for piece in pieces:
        room = counts[piece.demand] * (piece.u + kerf) * (piece.v + kerf)
        rooms[piece.demand] = min(room, rooms.get(piece.demand, room))
    for family in families:
        strips = sum(counts[demand] * (sizing.heights[demand] + kerf) for demand in family.demands)
        if strips:
            bands = -(-strips // max(longest + kerf - sizing.overhead, 1))
            routed = max(strips + bands * sizing.overhead, sizing.shortest + kerf)
            rooms.update(dict.fromkeys(family.demands, 0))
            rooms[family.demands[0]] = (family.u + kerf) * routed
    return rooms
