"""What a corner asks of the fence: its sum, and the settings that keep its pieces whole."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.corner_key import CornerKey, KeyedCorner
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.reach import Reach, least_neck
from drawerwright.joints.setting import SAME_SETTING, CornerGeometry


@dataclass(frozen=True, slots=True)
class FenceJoint:
    """What one kind of corner asks of the fence (mm).

    `key` names it in the caller's words. `least_neck` and `least_head` are limits on the upright piece;
    `largest_setting` is as far as the cutter can stand out of the fence, for either piece. A limit that stock
    and cutter do not allow is kept as far as they do: where even the tooth alone leaves less than the least
    neck, the tooth alone is what the upright piece gets. A corner whose split is not free needs
    one setting for both pieces.
    """

    key: str
    wanted_sum: Mm
    upright_thickness: Mm
    step: Mm
    least_neck: Mm = 0.0
    least_head: Mm = 0.0
    largest_setting: Mm = math.inf
    is_split_free: bool = True

    def __post_init__(self) -> None:
        if not self.wanted_sum > 0:
            raise InvalidValueError(
                phrase(
                    "{key}: a fence sum must be more than 0, not {wanted_sum:g}",
                    key=self.key,
                    wanted_sum=self.wanted_sum,
                )
            )

    @classmethod
    def of(
        cls,
        key: str,
        cutter: Cutter,
        corner: CornerGeometry,
        *,
        least_neck: Mm = 0.0,
        largest_setting: Mm = math.inf,
    ) -> FenceJoint:
        """What a corner cut with a cutter asks of the fence; the cutter's radius limits every setting."""
        return cls(
            key=key,
            wanted_sum=corner.fence_sum(cutter),
            upright_thickness=corner.upright_thickness,
            step=cutter.step.value,
            least_neck=least_neck,
            largest_setting=Reach.of(cutter, largest_setting).largest,
            is_split_free=cutter.mating.shares_freely,
        )

    @property
    def can_be_cut(self) -> bool:
        """Whether any two settings within the cutter's reach make this corner and leave the upright piece a neck."""
        if not self.is_split_free:
            return law.one_setting(self.wanted_sum) <= self.largest_setting + SAME_SETTING
        most_upright = min(
            law.upright_for_neck(self.upright_thickness, SAME_SETTING), self.largest_setting + SAME_SETTING
        )
        least = law.tooth_only_setting(self.step) - SAME_SETTING
        return 2 * least <= self.wanted_sum <= self.largest_setting + SAME_SETTING + most_upright

    @property
    def least_setting(self) -> Mm:
        """Below this the cutter's smaller radius would no longer reach the wood."""
        if not self.is_split_free:
            return 0.0
        return min(law.tooth_only_setting(self.step), law.one_setting(self.wanted_sum))

    @property
    def most_flat(self) -> Mm:
        """Largest setting of the flat piece; half the sum where not even that is within reach."""
        if not self.is_split_free:
            return math.inf
        return max(self.largest_setting, law.one_setting(self.wanted_sum))

    @property
    def most_upright(self) -> Mm:
        """Largest setting of the upright piece that keeps its limits, as far as they can be kept."""
        if not self.is_split_free:
            return math.inf
        by_neck = law.upright_for_neck(self.upright_thickness, self.least_neck)
        by_head = law.upright_for_neck(self.upright_thickness, self.least_head - self.step)
        most = min(max(min(by_neck, by_head), self.least_setting), self.most_flat)
        return max(most, law.other_setting(self.wanted_sum, self.most_flat))


@dataclass(frozen=True, slots=True)
class FenceSplit:
    """The two positions of one kind of corner (mm)."""

    joint: FenceJoint
    flat: Mm
    upright: Mm

    @property
    def lip_error(self) -> Mm:
        """How much further than wanted the flat piece's end stands out."""
        return self.flat + self.upright - self.joint.wanted_sum

    @property
    def neck(self) -> Mm:
        """The upright piece's neck."""
        return law.neck(self.joint.upright_thickness, self.upright)

    @property
    def keeps_limits(self) -> bool:
        """Whether both settings are within what the corner bears."""
        return self.joint.can_be_cut and not self.broken_limit

    @property
    def broken_limit(self) -> str:
        """The first limit that the settings break, in words; empty when they keep all that can be kept."""
        joint = self.joint
        if min(self.flat, self.upright) < joint.least_setting - SAME_SETTING:
            return phrase(
                "a fence setting of {fence} for the {corner} is less than the step of {step}, "
                "so part of the profile would cut nothing",
                fence=millimetres(min(self.flat, self.upright)),
                corner=joint.key,
                step=millimetres(joint.step),
            )
        if max(self.flat, self.upright) > joint.most_flat + SAME_SETTING:
            return phrase(
                "a fence setting of {fence} for the {corner} is more than the {most} that the cutter can stand out of "
                "the fence",
                fence=millimetres(max(self.flat, self.upright)),
                corner=joint.key,
                most=millimetres(joint.largest_setting),
            )
        if self.upright > joint.most_upright + SAME_SETTING:
            return phrase(
                "a fence setting of {fence} for the upright piece leaves a neck of {neck} at "
                "the {corner}, less than the {least} it must keep",
                fence=millimetres(self.upright),
                neck=millimetres(self.neck),
                corner=joint.key,
                least=millimetres(law.neck(joint.upright_thickness, joint.most_upright)),
            )
        return ""


def fence_joints(
    corners: Iterable[KeyedCorner], largest_setting: Mm | None = None
) -> dict[CornerKey, FenceJoint]:
    """What the corners of a job ask of the fence, with the usual limit on the neck; those that ask the same of it
    have one and the same joint.

    Args:
        corners: the different corners.
        largest_setting: as far as the table lets the cutter stand out of the fence (mm); None when unknown.
    """
    joints = {}
    for corner in corners:
        geometry = corner.geometry
        joints[corner.key] = FenceJoint.of(
            _name(geometry),
            corner.cutter,
            geometry,
            least_neck=least_neck(geometry.upright_thickness),
            largest_setting=math.inf if largest_setting is None else largest_setting,
        )
    return joints


def _name(corner: CornerGeometry) -> str:
    pieces = {
        "flat": millimetres(corner.flat_thickness),
        "upright": millimetres(corner.upright_thickness),
    }
    if corner.lip:
        return phrase(
            "corner with a lip of {lip} between flat pieces of {flat} and upright ones of {upright}",
            lip=millimetres(corner.lip),
            **pieces,
        )
    return phrase("flush corner between flat pieces of {flat} and upright ones of {upright}", **pieces)
