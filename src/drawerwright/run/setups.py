"""Router set-ups: everything that is cut at one bit height and one fence position.

A set-up is visited once. The first is one that cuts both pieces of some corner, so that a test corner can be
tried before any fence is moved.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.parts import EndCut, Role
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry, CornerSetting
from drawerwright.joints.table import RouterTable
from drawerwright.sheets.from_parts import BandFamily
from drawerwright.sheets.patterns import PlacedBand

BOTH_EDGES = phrase("both edges")
SAME_POSITION: Mm = 0.005
"""Positions closer than this are one: no fence is set finer."""


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

    `edges` names what is routed: `both edges`, `front edge` or `back edge` (the marked ones). `bands` are
    the placed bands, one trip for each edge.
    """

    family: BandFamily
    edges: str
    bands: tuple[PlacedBand, ...]

    @property
    def role(self) -> Role:
        return self.family.role

    @property
    def trips(self) -> int:
        """How often a band goes past the cutter."""
        return len(self.bands) * (2 if self.edges == BOTH_EDGES else 1)

    @property
    def routed_length(self) -> Mm:
        """Length of edge that is routed (mm)."""
        return sum(band.width for band in self.bands) * (2 if self.edges == BOTH_EDGES else 1)


@dataclass(frozen=True, slots=True)
class SetUp:
    """One position of cutter and fence, and what is cut there.

    `corners` are the settings of all corners that have a piece cut here; `height_reading` and
    `fence_reading` are what the gauges have to show.
    """

    number: int
    bit_height: Mm
    fence: Mm
    height_reading: Mm
    fence_reading: Mm
    corners: tuple[CornerSetting, ...]
    passes: tuple[CutPass, ...]

    @property
    def trips(self) -> int:
        """Trips past the cutter in this set-up."""
        return sum(cut.trips for cut in self.passes)

    def roles(self, corner: CornerSetting) -> tuple[Role, ...]:
        """Which pieces of a corner are cut in this set-up, flat before upright."""
        return tuple(
            role
            for role, fence in ((Role.FLAT, corner.fence_flat), (Role.UPRIGHT, corner.fence_upright))
            if _ticks(fence) == _ticks(self.fence)
        )


def corner_settings(
    cutter: Cutter, fences: Mapping[CornerGeometry, FencePair]
) -> dict[CornerGeometry, CornerSetting]:
    """The complete setting of every corner, from the fence settings chosen for it."""
    return {
        corner: CornerSetting(
            cutter=cutter,
            corner=corner,
            bit_height=cutter.bit_height(corner.flat_thickness),
            fence_flat=pair.flat,
            fence_upright=pair.upright,
        )
        for corner, pair in fences.items()
    }


def plan_setups(
    families: Sequence[BandFamily],
    bands: Iterable[PlacedBand],
    settings: Mapping[CornerGeometry, CornerSetting],
    table: RouterTable,
) -> tuple[SetUp, ...]:
    """Group all routed edges into set-ups, each visited once.

    Args:
        families: all band families of the job.
        bands: all bands as placed on the sheets.
        settings: the setting of every corner.
        table: whose gauges are read.
    """
    by_family: dict[str, list[PlacedBand]] = defaultdict(list)
    for band in bands:
        by_family[band.family].append(band)

    spots: dict[tuple[int, int], list[CutPass]] = defaultdict(list)
    for family in families:
        placed = tuple(by_family[family.key])
        first, second = (_spot(settings[end.corner], end) for end in family.ends)
        if first == second:
            spots[first].append(CutPass(family, BOTH_EDGES, placed))
        else:
            spots[first].append(CutPass(family, phrase("front edge"), placed))
            spots[second].append(CutPass(family, phrase("back edge"), placed))

    def corners_at(spot: tuple[int, int]) -> tuple[CornerSetting, ...]:
        ends = [end for cut in spots[spot] for end in cut.family.ends]
        return tuple(
            dict.fromkeys(settings[end.corner] for end in ends if _spot(settings[end.corner], end) == spot)
        )

    def cuts_a_whole_corner(spot: tuple[int, int]) -> bool:
        return any(_ticks(c.fence_flat) == spot[1] == _ticks(c.fence_upright) for c in corners_at(spot))

    order = sorted(spots, key=lambda spot: (spot[0], not cuts_a_whole_corner(spot), spot[1]))
    setups = []
    for number, spot in enumerate(order, start=1):
        height, fence = (ticks * 2 * SAME_POSITION for ticks in spot)
        setups.append(
            SetUp(
                number=number,
                bit_height=height,
                fence=fence,
                height_reading=table.height_reading(height),
                fence_reading=table.fence_reading(fence),
                corners=corners_at(spot),
                passes=tuple(sorted(spots[spot], key=lambda cut: cut.role is Role.UPRIGHT)),
            )
        )
    return tuple(setups)


def _spot(setting: CornerSetting, end: EndCut) -> tuple[int, int]:
    fence = setting.fence_flat if end.role is Role.FLAT else setting.fence_upright
    return _ticks(setting.bit_height), _ticks(fence)


def _ticks(length: Mm) -> int:
    return round(length / (2 * SAME_POSITION))
