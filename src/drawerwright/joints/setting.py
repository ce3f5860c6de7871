"""Machine settings of one corner: from cutter, measured thicknesses and lip to bit height and fence."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.joints import law
from drawerwright.joints.cutter import Cutter

SAME_SETTING: Mm = 0.005
"""Settings of a machine closer than this are one: no height and no fence is set finer."""

ROUNDING: Mm = 1e-6
"""Settings are sums of lengths; differences below this are arithmetic."""

CLOSED: Mm = 0.01
"""A corner that stands proud by no more than this closes: nobody can set a bit or a fence truer."""
FLUSH_WITHIN: Mm = 0.03
"""A lip of no more is none: half of a fence's last digit, 0.01 mm or 0.001 in, is left at either piece."""


def is_one_setting(one: Mm, other: Mm) -> bool:
    """Whether two settings cannot be told apart on the machine, for instance those of a corner's two pieces."""
    return abs(one - other) < SAME_SETTING


class FenceRule(StrEnum):
    """How the fence sum of a corner is shared between its two pieces."""

    ONE = "one"
    """The same fence setting for both pieces."""
    TOOTH = "tooth"
    """Only the tooth cuts the upright piece: its neck stays as thick as it can be."""


@dataclass(frozen=True, slots=True)
class CornerGeometry:
    """What a corner has to be, before any machine is set.

    Thicknesses as measured; `lip` is how far the flat piece's end stands beyond the upright's outer face.
    """

    flat_thickness: Mm
    upright_thickness: Mm
    lip: Mm = 0.0

    def fence_sum(self, cutter: Cutter) -> Mm:
        """What both fence settings have to add up to (mm)."""
        step = cutter.step.value
        return law.fence_sum(self.lip, cutter.mating.span(self.upright_thickness, step), step)


@dataclass(frozen=True, slots=True)
class CornerSetting:
    """A corner with its machine settings; everything derived comes from `drawerwright.joints.law`.

    `bit_height` is the one that is dialled in (true, not what a gauge shows). All that is cut follows from it.
    """

    cutter: Cutter
    corner: CornerGeometry
    bit_height: Mm
    fence_flat: Mm
    fence_upright: Mm

    @property
    def kind(self) -> str:
        """The name of its joint."""
        return self.cutter.kind

    @property
    def tight_bit_height(self) -> Mm:
        """The bit height of the law, at which the corner closes without any play."""
        return self.cutter.bit_height(self.corner.flat_thickness)

    @property
    def play(self) -> Mm | None:
        """How far the upright piece can move; None where the bit height leaves none to choose."""
        mating = self.cutter.mating
        return mating.play(self.bit_height, self.cutter.mid_depth.value) if mating.has_play else None

    @property
    def has_one_fence(self) -> bool:
        """Whether both pieces are cut at one position of the fence."""
        return is_one_setting(self.fence_flat, self.fence_upright)

    @property
    def fence_rule(self) -> FenceRule | Mm:
        """How the fence sum is shared, as `set_corner` takes it."""
        return FenceRule.ONE if self.has_one_fence else self.fence_upright

    @property
    def engagement(self) -> Mm:
        """How far the upright reaches into the flat piece from its inner face, pressed home."""
        return self.cutter.engagement(self.bit_height)

    @property
    def stands_proud(self) -> Mm:
        """How far the upright piece stays out of its seat; 0 when it closes."""
        cutter = self.cutter
        return cutter.mating.stands_proud(
            self.bit_height, cutter.mid_depth.value, cutter.step.value, cutter.slope_angle
        )

    @property
    def closes(self) -> bool:
        """Whether the upright piece reaches its seat."""
        return self.stands_proud <= CLOSED

    @property
    def seated_lip(self) -> Mm:
        """The lip of the corner as it seats: less where the upright stands proud."""
        return self.lip - self.stands_proud

    @property
    def neck(self) -> Mm:
        """Thinnest part of the upright piece."""
        return law.neck(self.corner.upright_thickness, self.fence_upright)

    @property
    def head(self) -> Mm:
        """Thickness of the upright piece at its tip."""
        return law.head(self.corner.upright_thickness, self.fence_upright, self.cutter.step.value)

    @property
    def roof(self) -> Mm:
        """What is left of the flat piece over the cut."""
        return law.roof(self.corner.flat_thickness, self.bit_height)

    @property
    def lip(self) -> Mm:
        """The lip that these fence settings give."""
        step = self.cutter.step.value
        span = self.cutter.mating.span(self.corner.upright_thickness, step)
        return law.lip(self.fence_flat, self.fence_upright, span, step)

    @property
    def shown_lip(self) -> Mm:
        """The same as papers say it: none at a corner that is flush but for what the fence's marks leave."""
        return self.lip if abs(self.lip) > FLUSH_WITHIN else 0.0

    def upright_length(self, outer_size: Mm, other_flat_thickness: Mm | None = None) -> Mm:
        """Length of an upright piece with this joint at both ends.

        Args:
            outer_size: finished size over both flat pieces.
            other_flat_thickness: of the flat piece at the far end, when it differs.
        """
        here = self.corner.flat_thickness
        there = here if other_flat_thickness is None else other_flat_thickness
        far_height = self.bit_height if self.cutter.mating.has_play else self.cutter.bit_height(there)
        far_reach = self.cutter.engagement(far_height)
        return law.upright_length(outer_size, [(here, self.engagement), (there, far_reach)])


def set_corner(cutter: Cutter, corner: CornerGeometry, rule: FenceRule | Mm = FenceRule.ONE) -> CornerSetting:
    """Bit height and fence settings that make a corner close and its lip come out right.

    Args:
        cutter: the cutter.
        corner: measured thicknesses and lip.
        rule: how to share the fence sum, or the fence setting of the upright piece (mm).
    """
    wanted = corner.fence_sum(cutter)
    if rule is FenceRule.ONE:
        upright = law.one_setting(wanted)
    elif rule is FenceRule.TOOTH:
        upright = law.tooth_only_setting(cutter.step.value)
    else:
        upright = float(rule)
    return CornerSetting(
        cutter=cutter,
        corner=corner,
        bit_height=cutter.bit_height(corner.flat_thickness),
        fence_flat=law.other_setting(wanted, upright),
        fence_upright=upright,
    )
