r"""What the wood does at any setting: how the upright piece seats in the flat piece.

::

          flat piece    |  x of its cut face: f(y)
      ------------------+
       upright ->   |   |     the upright slides in along +x until the first level y at which
       g(Y - y)     |   |     lip + g(Y - y) meets f(y); how deep that is depends on Y
      --------------+---+

The upright may lie at any engagement Y that keeps its tip below the roof and its shoulder below the flat
piece's inner face (both say Y <= h). Among these it takes those that let it go deepest. Falling out is not
going deep: a corner without a hook is held at its target by hand, and one with a hook keeps to the near side
of the ridge that the hook makes.

No formula of an ideal joint is used here; how deep the faces let it go is in `drawerwright.joints.clash`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.clash import LEVEL, clash_curve, cut_faces, deepest_seat
from drawerwright.joints.corner import SEEN, Cuts, Gap, Place, corner_gaps, place_on_face
from drawerwright.joints.profile import GIVE, LEDGE_RISE
from drawerwright.joints.setting import CLOSED, CornerSetting


@dataclass(frozen=True)
class SeatedState:
    """One end of the play: where the upright lies, and the gaps that show (mm).

    `roof_gap` and `shoulder_gap` are None for a cutter that goes right through the flat piece; then
    `tip_step` says how far the upright's tip stands beyond the flat piece's outer face (negative: short of
    it). `hook_gap` is measured along the upright piece: how far it still moves before the hook bears.
    """

    cuts: Cuts
    engagement: Mm
    lip: Mm
    hook_gap: Mm

    @property
    def roof_gap(self) -> Mm | None:
        """Daylight between tip and roof."""
        return self._opening

    @property
    def shoulder_gap(self) -> Mm | None:
        """Daylight between the upright's ledge and the flat piece's inner face."""
        return self._opening

    @property
    def tip_step(self) -> Mm | None:
        """How far the tip stands beyond the flat piece's outer face, where there is no roof."""
        return None if self.cuts.has_roof else self.engagement - self.cuts.flat_thickness

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        """All gaps by place, with width, area and outline."""
        return corner_gaps(self.cuts, self.lip, self.engagement)

    @cached_property
    def touches_at(self) -> tuple[str, ...]:
        """Where the pieces touch: roof, shoulder, neck, slope, head."""
        return _touches(self)

    @property
    def _opening(self) -> Mm | None:
        return max(self.cuts.bit_height - self.engagement, 0.0) if self.cuts.has_roof else None


@dataclass(frozen=True, slots=True)
class Fit:
    """How a corner seats. All lengths in mm.

    `stands_proud` is how far the upright stays out of its seat along the flat piece; `lip` is where its outer
    face really ends up (the lip the fence meant, less what stands proud); `is_held` is False when no hook
    keeps the upright from being pulled out along its length.
    """

    stands_proud: Mm
    lip: Mm
    is_held: bool
    pressed: SeatedState
    pulled: SeatedState

    @property
    def closes(self) -> bool:
        """Whether the upright reaches its seat."""
        return self.stands_proud <= CLOSED

    @property
    def play(self) -> Mm:
        """How far the seated upright can still move along its length."""
        return self.pressed.engagement - self.pulled.engagement

    @property
    def touches_at(self) -> tuple[str, ...]:
        """Where the pieces touch when pressed home."""
        return self.pressed.touches_at


def seat(cuts: Cuts, step: Mm, *, give: Mm = GIVE) -> Fit:
    """Slide the upright piece in and see what happens.

    Args:
        cuts: profile, thicknesses and settings of the corner, whatever they are.
        step: the cutter's step, which its seat is measured from (`drawerwright.joints.mate` finds it for a
            measured profile).
        give: how far the depths of two engagements may differ that are equally deep (mm): what readings of a
            measured profile leave in doubt (`drawerwright.joints.edge`); by default what figures in a file do.

    Raises:
        InvalidValueError: a thickness is none, the cutter does not reach the wood, or it cuts the end of the
            upright piece off.
    """
    _check(cuts)
    cuts = replace(cuts, profile=cuts.profile.plain)
    flat, upright = cut_faces(cuts)
    target = _target(cuts)
    found = deepest_seat(*clash_curve(flat, upright, cuts, target, give), target, give)
    meant = law.lip(cuts.fence_flat, cuts.fence_upright, cuts.upright_thickness, step)
    proud = found.clash - step
    lip = meant - proud
    return Fit(
        stands_proud=max(proud, 0.0) if proud > LEVEL else 0.0,
        lip=lip,
        is_held=found.is_held,
        pressed=SeatedState(cuts, found.pressed, lip, found.pressed - found.pulled),
        pulled=SeatedState(cuts, found.pulled, lip, 0.0),
    )


def _check(cuts: Cuts) -> None:
    """Refuse what leaves no two pieces to put together."""
    for piece, thickness in (
        (phrase("flat piece"), cuts.flat_thickness),
        (phrase("upright piece"), cuts.upright_thickness),
    ):
        if not thickness > 0:
            raise InvalidValueError(
                phrase(
                    "the {piece} must be thicker than 0, not {thickness}",
                    piece=piece,
                    thickness=millimetres(thickness, "g"),
                )
            )
    if not cuts.bit_height > 0:
        raise InvalidValueError(
            phrase(
                "bit height {bit_height} leaves nothing above the table: raise the bit",
                bit_height=millimetres(cuts.bit_height, "g"),
            )
        )
    for piece, fence in (
        (phrase("flat piece"), cuts.fence_flat),
        (phrase("upright piece"), cuts.fence_upright),
    ):
        if not fence > 0:
            raise InvalidValueError(
                phrase(
                    "a fence setting of {fence} for the {piece} keeps the cutter behind the "
                    "fence, so it cuts nothing: set it to more than 0",
                    fence=millimetres(fence, "g"),
                    piece=piece,
                )
            )
    through = cuts.fence_upright - cuts.upright_thickness
    cut = cuts.profile.between(0.0, cuts.bit_height)
    gone = next((z for z, c in cut if c <= through), None)
    if gone is not None and (gone == 0 or any(c > through for z, c in cut if z > gone)):
        raise InvalidValueError(
            phrase(
                "a fence setting of {fence} cuts the end off an upright piece {thickness} "
                "thick: set it below {thickness} to leave a neck",
                fence=millimetres(cuts.fence_upright, "g"),
                thickness=millimetres(cuts.upright_thickness, "g"),
            )
        )


def seat_setting(setting: CornerSetting) -> Fit:
    """How the ideal corner of a setting seats, at whatever height and fence it asks for."""
    return seat(Cuts.of(setting), setting.cutter.seated_step, give=setting.cutter.give)


def _target(cuts: Cuts) -> Mm:
    """Engagement that the woodworker presses for: tip on the roof, or flush with the outer face."""
    return cuts.bit_height if cuts.has_roof else min(cuts.flat_thickness, cuts.bit_height)


def _touches(state: SeatedState) -> tuple[str, ...]:
    """Names of the places in contact, from the inside of the corner outwards."""
    cuts = state.cuts
    places: list[str] = []
    opening = state.roof_gap
    if opening is not None and opening <= SEEN:
        places.append(Place.SHOULDER.words)
    places += _profile_touches(cuts, state.lip, state.engagement)
    if opening is not None and opening <= SEEN:
        places.append(Place.ROOF.words)
    return tuple(dict.fromkeys(places))


def _profile_touches(cuts: Cuts, lip: Mm, engagement: Mm) -> list[str]:
    flat, upright = cut_faces(cuts)
    height = cuts.bit_height
    sum_of_depths = 2 * height - engagement
    deepest = cuts.fence_flat + cuts.fence_upright - cuts.upright_thickness - lip
    low = max(height - engagement, float(flat.depths[0]))
    own = np.unique(np.concatenate((upright.depths, sum_of_depths - flat.depths)))
    inside = own[(own >= sum_of_depths - height - LEDGE_RISE) & (own <= sum_of_depths - low + LEDGE_RISE)]
    near = deepest - (upright.at(inside) + flat.at(sum_of_depths - inside)) <= SEEN
    middle = float(upright.insets.max() + max(upright.insets.min(), 0.0)) / 2
    names: list[str] = []
    for here, there, closed in zip(inside, inside[1:], near[:-1] & near[1:], strict=False):
        if closed and there - here > 2 * LEDGE_RISE:
            c0, c1 = (float(c) for c in upright.at(np.array([here, there])))
            names.append(place_on_face((c0, float(here)), (c1, float(there)), middle).words)
    if not names and near.any():
        names.append(Place.SLOPE.words)  # corners meet, nothing lies flat
    return names
