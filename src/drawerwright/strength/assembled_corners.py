"""The corners of an assembled drawer as far as strength goes: at its front and at its back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import PartKind
from drawerwright.joints.corner_key import CornerKey, Orientation
from drawerwright.joints.holding import PullOff
from drawerwright.joints.joint import MadeCorner, joint_named
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.corner_strength import CornerStrength, Parting, corner_strength
from drawerwright.strength.corner_wood import CornerWood, corner_wood
from drawerwright.strength.drawer_corners import DrawerEnd
from drawerwright.wood.sourced import Source
from drawerwright.wood.stock import Stock


@dataclass(frozen=True, slots=True)
class EndStrength:
    """What one end of a drawer bears at its two corners.

    piece: the front or the back. side: the left or the right one where its two corners differ, else None.
    key: of its corners. end: the figures, known even where they are not shown.
    sources: of the wood's figures. in_newtons: whether these are good enough to be shown as forces.
    """

    drawer: str
    piece: PartKind
    side: PartKind | None
    key: CornerKey
    made: MadeCorner
    end: DrawerEnd
    sources: tuple[Source, ...]
    in_newtons: bool

    @property
    def pull_off(self) -> Bounds | None:
        """Force along the sides that pulls this end off (N)."""
        return self.end.pull_off if self.in_newtons else None

    @property
    def pull_off_unglued(self) -> Bounds | None:
        """As `pull_off`, by a hook alone."""
        return self.end.pull_off_unglued if self.in_newtons else None

    @property
    def racking(self) -> Bounds | None:
        """Sideways force that opens its corners (N)."""
        return self.end.racking if self.in_newtons else None

    @property
    def drop(self) -> Bounds | None:
        """Energy of a load that it stops (J)."""
        return self.end.drop if self.in_newtons else None

    @property
    def corner(self) -> CornerStrength:
        """For each mm of height."""
        return self.end.corner

    @property
    def weakest(self) -> Parting:
        """Where it parts."""
        return self.corner.weakest

    def piece_of(self, parting: Parting) -> PartKind | None:
        """In which piece it parts; None in a glue line."""
        on_upright = parting.on_upright
        if on_upright is None:
            return None
        sides_stand = self.key.orientation is Orientation.FRONTS_FLAT
        return PartKind.LEFT if on_upright == sides_stand else self.piece


def end_strengths(drawer: AssembledDrawer, made: Mapping[CornerKey, MadeCorner]) -> tuple[EndStrength, ...]:
    """What front and back of a drawer bear; nothing where no strength of their boards is known."""
    box = drawer.box
    side = corner_wood(box.side.panel, box.side.species)
    found = []
    for piece, at, corner in box.different_corners:
        stock = box.front if piece is PartKind.FRONT else box.back
        wood = corner_wood(stock.panel, stock.species)
        if side is None or wood is None:
            continue
        found.append(_end(drawer, (piece, at), stock, made[corner.key], corner.key, wood, side))
    return tuple(found)


def _end(
    drawer: AssembledDrawer,
    place: tuple[PartKind, PartKind | None],
    stock: Stock,
    made: MadeCorner,
    key: CornerKey,
    wood: CornerWood,
    side: CornerWood,
) -> EndStrength:
    box = drawer.box
    usual = key.orientation is Orientation.FRONTS_FLAT
    pull = PullOff.ALONG_UPRIGHT if usual else PullOff.ALONG_FLAT
    flat, upright = (wood, side) if usual else (side, wood)
    end = DrawerEnd(
        width=box.width - box.side.thickness.value,
        depth=box.depth - (box.front.thickness.value + box.back.thickness.value) / 2,
        height=drawer.corner_height(place[0]),
        end_thickness=stock.thickness.value,
        side_thickness=box.side.thickness.value,
        end_modulus=wood.modulus,
        side_modulus=side.modulus,
        end_bending=wood.tension_along,
        corner=_corner(made, pull, flat, upright),
    )
    sources = tuple(dict.fromkeys((*wood.sources, *side.sources)))
    return EndStrength(box.name, *place, key, made, end, sources, wood.in_newtons and side.in_newtons)


@lru_cache
def _corner(made: MadeCorner, pull: PullOff, flat: CornerWood, upright: CornerWood) -> CornerStrength:
    """For each mm of height: known, since hundreds of drawers share a few corners."""
    return corner_strength(joint_named(made.kind).holding(made, pull), flat, upright, pull)
