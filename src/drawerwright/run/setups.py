"""Router set-ups: everything that is cut with one cutter at one bit height and one fence position.

A set-up is visited once, in an order that completes whole corners early, so that a test corner is cut before much
else is (`drawerwright.run.visits`).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.parts import PartEnd, Role
from drawerwright.joints.bit_heights import BY_LAW, BitHeights
from drawerwright.joints.corner_key import CornerKey, KeyedCorner
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import SelfMating, self_mating
from drawerwright.joints.setting import (
    CornerSetting,
    is_one_setting,
)
from drawerwright.joints.table import RouterTable
from drawerwright.run.spots import Spot, Spots
from drawerwright.run.visits import order_of_visits
from drawerwright.sheets.from_parts import BandFamily
from drawerwright.sheets.patterns import PlacedBand


class Edges(StrEnum):
    """Which of a band's two routed edges: the marked one, the other one, or both alike. Marked is the front edge of a
    band of sides, the left one of a band of fronts."""

    BOTH = "both edges"
    FRONT = "front edge"
    BACK = "back edge"
    LEFT = "left edge"
    RIGHT = "right edge"

    @classmethod
    def of(cls, family: BandFamily) -> tuple[Edges, Edges]:
        """The marked edge of a band and the other one."""
        return (cls.LEFT, cls.RIGHT) if family.marked is PartEnd.LEFT else (cls.FRONT, cls.BACK)

    @property
    def words(self) -> Phrase:
        """The edges in the reader's language."""
        return _EDGE_WORDS[self]

    @property
    def is_marked(self) -> bool:
        """Whether it is the marked one of the two."""
        return self in (Edges.FRONT, Edges.LEFT)

    @property
    def how_many(self) -> int:
        """One or two."""
        return 2 if self is Edges.BOTH else 1


_EDGE_WORDS = {
    Edges.BOTH: phrase("both edges"),
    Edges.FRONT: PartEnd.FRONT.edge_words,
    Edges.BACK: PartEnd.BACK.edge_words,
    Edges.LEFT: PartEnd.LEFT.edge_words,
    Edges.RIGHT: PartEnd.RIGHT.edge_words,
}


@dataclass(frozen=True, slots=True)
class FencePair:
    """The fence settings of one corner: for its flat and for its upright piece (mm)."""

    flat: Mm
    upright: Mm

    def of(self, role: Role) -> Mm:
        """The setting for a piece held this way."""
        return self.flat if role is Role.FLAT else self.upright


@dataclass(frozen=True, slots=True)
class CutPass:
    """The bands of one family, one or both edges, past the cutter.

    `bands` are the placed bands, for each edge as many trips as the joint takes passes to be cut as deep as the fence
    is set (mm).
    """

    family: BandFamily
    edges: Edges
    bands: tuple[PlacedBand, ...]
    depth: Mm

    @property
    def role(self) -> Role:
        return self.family.role

    @property
    def joint(self) -> SelfMating:
        """The kind of joint that is cut."""
        return self_mating(self.family.joint)

    @property
    def times(self) -> int:
        """How often an edge goes past the cutter."""
        return self.joint.passes_at(self.depth)

    @property
    def trips(self) -> int:
        """How often a band goes past the cutter."""
        return len(self.bands) * self.edges.how_many * self.times

    @property
    def routed_length(self) -> Mm:
        """Length of edge that goes past the cutter (mm)."""
        return sum(band.width for band in self.bands) * self.edges.how_many * self.times


@dataclass(frozen=True, slots=True)
class SetUp:
    """One position of cutter and fence, and what is cut there.

    `corners` are all corners that have a piece cut here, with their settings; `height_reading` and
    `fence_reading` are what the gauges have to show.
    """

    number: int
    bit_height: Mm
    fence: Mm
    height_reading: Mm
    fence_reading: Mm
    corners: Mapping[CornerKey, CornerSetting]
    passes: tuple[CutPass, ...]

    @property
    def cutter(self) -> Cutter:
        """The one that is in."""
        return next(iter(self.corners.values())).cutter

    def has_height_of(self, other: SetUp) -> bool:
        """Whether the cutter of another set-up is in, and stays where it is."""
        return self.cutter.key == other.cutter.key and abs(self.bit_height - other.bit_height) < 1e-9

    @property
    def trips(self) -> int:
        """Trips past the cutter in this set-up."""
        return sum(cut.trips for cut in self.passes)

    def roles(self, corner: CornerSetting) -> tuple[Role, ...]:
        """Which pieces of a corner are cut in this set-up, flat before upright."""
        return tuple(
            role
            for role, fence in ((Role.FLAT, corner.fence_flat), (Role.UPRIGHT, corner.fence_upright))
            if is_one_setting(fence, self.fence)
        )

    @property
    def pictured(self) -> dict[Role, CornerSetting]:
        """The corner whose piece is drawn for each way of holding it, flat before upright; where pieces of several
        corners are cut here, the first of them stands for the others."""
        return {
            role: next(corner for corner in self.corners.values() if role in self.roles(corner))
            for role in Role
            if any(role in self.roles(corner) for corner in self.corners.values())
        }


def corner_settings(
    corners: Iterable[KeyedCorner],
    fences: Mapping[CornerKey, FencePair],
    heights: BitHeights = BY_LAW,
) -> dict[CornerKey, CornerSetting]:
    """The complete setting of every corner, from the rule for heights and the fence settings chosen for it.

    Settings that no gauge tells apart are one number from here on.
    """
    settings = {}
    for corner in corners:
        geometry, pair = corner.geometry, fences[corner.key]
        settings[corner.key] = CornerSetting(
            cutter=corner.cutter,
            corner=geometry,
            bit_height=heights.of(corner.cutter, geometry.flat_thickness),
            fence_flat=pair.flat,
            fence_upright=pair.upright,
        )
    return Spots(settings).told_apart


def plan_setups(
    families: Sequence[BandFamily],
    bands: Iterable[PlacedBand],
    settings: Mapping[CornerKey, CornerSetting],
    table: RouterTable,
) -> tuple[SetUp, ...]:
    """Group all routed edges into set-ups, each visited once, and all of a cutter before the next is put in.

    Args:
        families: all band families of the job.
        bands: all bands as placed on the sheets.
        settings: the setting of every corner.
        table: whose gauges are read.
    """
    by_family: dict[str, list[PlacedBand]] = defaultdict(list)
    for band in bands:
        by_family[band.family].append(band)

    place_of = Spots(settings)
    spots: dict[Spot, list[tuple[BandFamily, Edges, tuple[PlacedBand, ...]]]] = defaultdict(list)
    corners: dict[Spot, dict[CornerKey, CornerSetting]] = defaultdict(dict)
    cut_at: dict[CornerKey, list[Spot]] = defaultdict(list)
    for family in families:
        if not family.cutter:
            continue
        placed = tuple(by_family[family.key])
        first, second = (place_of.of(edge[0]) for edge in family.edges)
        if first == second:
            spots[first].append((family, Edges.BOTH, placed))
        else:
            marked, other = Edges.of(family)
            spots[first].append((family, marked, placed))
            spots[second].append((family, other, placed))
        for end in (end for edge in family.edges for end in edge):
            corners[place_of.of(end)][end.corner] = settings[end.corner]
            cut_at[end.corner].append(place_of.of(end))

    whole = [(min(places), max(places)) for places in cut_at.values()]
    by_height: dict[tuple[int, int], list[tuple[Spot, Spot]]] = defaultdict(list)
    for corner in whole:
        by_height[corner[0].cutter, corner[0].height].append(corner)
    order = [place for height in sorted(by_height) for place in order_of_visits(by_height[height])]
    settings_at = {place: place_of.settings_at(place) for place in order}
    return tuple(
        SetUp(
            number=number,
            bit_height=settings_at[place][0],
            fence=settings_at[place][1],
            height_reading=table.height_reading(settings_at[place][0]),
            fence_reading=table.fence_reading(settings_at[place][1]),
            corners=corners[place],
            passes=tuple(
                CutPass(family, edges, placed, settings_at[place][1])
                for family, edges, placed in sorted(spots[place], key=lambda cut: cut[0].role is Role.UPRIGHT)
            ),
        )
        for number, place in enumerate(order, start=1)
    )
