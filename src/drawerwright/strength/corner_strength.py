"""What a corner bears for each mm of its height, from the planes and glued faces that its joint names.

A plane parts when `(tension / strength across)² + (shear / shear strength)² = 1`, both averaged over it (C. Norris
1962, without the fibre's term; from memory). The averages are a factor of the table over a length. Cautious is the
average over the part of the plane next to its root, and wood a standard deviation below its mean; likely is the average
over all of the plane, and the mean.

Where a joint names only glued faces, each holds its area times what its bond holds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.holding import Bond, GluedFace, Holding, Hook, PlaneName, PullOff, WoodPlane
from drawerwright.joints.profile import Point
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.corner_factors import Factors, factors_of
from drawerwright.strength.corner_wood import CornerWood

UNEVEN = Bounds(1.4, 1.0)
"""Stress at the edge of a glued face over its mean, where no table has it: cautious as finite elements gave at a
shoulder, likely even."""
SELF_HOLDING = 0.35
"""A slope steeper than this, rise over run, slides off under a pull without glue: the friction of wood on wood (Wood
Handbook, ch. 5; from memory)."""


@dataclass(frozen=True, slots=True)
class Parting:
    """One way in which a corner comes apart: what it is called, where it is drawn, and what it takes (N for each mm of
    height). `on_upright` is None for a glue line, which lies between the pieces."""

    where: Phrase
    line: tuple[Point, ...]
    on_upright: bool | None
    bears: Bounds


@dataclass(frozen=True, slots=True)
class CornerStrength:
    """What a corner bears, for each mm of its height.

    pull: N, along the pieces' pull, on the centre line of the piece that is pulled on; the corner free to turn. Glued;
        of a hooked corner once the glue line at its shoulder has opened.
    turn: Nmm that opens it.
    give: how far it stretches (mm for each N), where that is known.
    partings: every way in which it comes apart under the pull, the one that decides first: the weakest of several
        planes, the best of several glued faces.
    bare: the same of its planes where no glue helps; none of a corner that only glue holds.
    slips: whether its hook needs the side to be kept from sliding out once no glue helps.
    outside: its section lies beyond the table of factors.
    """

    pull: Bounds
    turn: Bounds
    give: float
    partings: tuple[Parting, ...]
    bare: tuple[Parting, ...] = ()
    slips: bool = False
    outside: bool = False

    @property
    def weakest(self) -> Parting:
        """What decides: the weakest plane, or the glue line where nothing else holds."""
        return self.partings[0]

    @property
    def unglued(self) -> Bounds | None:
        """As `pull`, by the hook alone; None where nothing holds without glue."""
        return Bounds.least(parting.bears for parting in self.bare) if self.bare else None


@lru_cache(maxsize=64)
def corner_strength(holding: Holding, flat: CornerWood, upright: CornerWood, pull: PullOff) -> CornerStrength:
    """What a corner bears.

    Args:
        holding: what holds it when it is pulled this way (`Joint.holding`).
        flat, upright: the wood of its pieces.
        pull: which way.
    """
    if holding.hook is None:
        return _glued(holding.faces, flat, upright)
    hooked = _hooked(holding.hook, flat, upright)
    if pull is PullOff.ALONG_UPRIGHT:
        return hooked
    layered = flat.is_layered or upright.is_layered
    sets = factors_of(holding.hook, layered)
    uneven = Bounds(*(max(each[f"all pull-flat glue {part}"] for each in sets) for part in ("near", "whole")))
    glued = _glued(holding.faces, flat, upright, uneven)
    return replace(glued, turn=hooked.turn, outside=hooked.outside)


def _glued(
    faces: Sequence[GluedFace], flat: CornerWood, upright: CornerWood, uneven: Bounds = UNEVEN
) -> CornerStrength:
    def bond(face: GluedFace) -> Bounds:
        if face.bond is Bond.CROSSED:
            return Bounds.least((flat.rolling, upright.rolling))
        return Bounds.least((flat.end_glue, upright.end_glue))

    partings = [
        Parting(
            phrase("glue line: {face}", face=face.where),
            face.line,
            None,
            Bounds(bond(face).low * face.area / uneven.low, bond(face).high * face.area / uneven.high),
        )
        for face in faces
    ]
    partings.sort(key=lambda parting: parting.bears.low, reverse=True)
    turns = [bond(face) * face.turn for face in faces]
    # Brittle faces do not wait for each other: for certain only the best of them holds, at most all do.
    pull = Bounds(max(each.bears.low for each in partings), sum(each.bears.high for each in partings))
    turn = Bounds(max(each.low for each in turns), sum(each.high for each in turns))
    return CornerStrength(pull, turn, 0.0, tuple(partings))


@dataclass(frozen=True, slots=True)
class _HookedCorner:
    """A hooked corner with its wood and the factors of one place of the plies."""

    hook: Hook
    flat: CornerWood
    upright: CornerWood
    factors: Factors

    def wood(self, plane: WoodPlane) -> CornerWood:
        return self.upright if plane.on_upright else self.flat

    def through(self, plane: WoodPlane, state: str, load: str, size: float) -> Bounds:
        """What a plane takes along the fibres, of a pull (`size` its length) or a turn (`size` a sixth of thickness
        squared)."""
        wood = self.wood(plane)

        def ends(cautious: bool) -> float:
            words = "near" if cautious else "whole"
            key = f"{state} {load} {plane.name.value}"
            normal = max(self.factors[f"{key} normal {words}"], 0.0)
            shear = self.factors[f"{key} shear {words}"]
            # A cross ply may lie at the plane or not: the cautious end takes it that one does.
            along = wood.rolling if wood.is_layered and cautious else wood.shear_along
            use = math.hypot(normal / wood.tension_across.at(cautious), shear / along.at(cautious))
            return size / use if use > 0 else math.inf

        return Bounds.of(ends)

    def shoulder(self, plane: WoodPlane, load: str, size: float) -> Bounds:
        """When the glue line at the shoulder opens, or the flat piece's face peels."""
        bears = Bounds.least((self.flat.tension_across, self.upright.end_glue))

        def ends(cautious: bool) -> float:
            words = "near" if cautious else "whole"
            return size * bears.at(cautious) / self.factors[f"all {load} shoulder normal {words}"]

        return Bounds.of(ends)

    def neck(self, plane: WoodPlane, state: str) -> Bounds:
        """When the neck tears across, pulled off its middle: by half of what it is thinner than the piece, and further
        where a slope without glue pushes it aside."""
        arm = (self.hook.thickness - plane.length) / 2
        if state == "none":
            arm *= max(self.factors["none pull neck eccentricity"], 1.0)
        return self.upright.tension_along * (plane.length / (1 + 6 * arm / plane.length))


def _hooked(hook: Hook, flat: CornerWood, upright: CornerWood) -> CornerStrength:
    layered = flat.is_layered or upright.is_layered
    corners = [_HookedCorner(hook, flat, upright, factors) for factors in factors_of(hook, layered)]
    planes = {plane.name: plane for plane in hook.planes}
    turned = hook.thickness**2 / 6

    def over_plies(ranges: Sequence[Bounds]) -> Bounds:
        return Bounds(min(bounds.low for bounds in ranges), max(bounds.high for bounds in ranges))

    def state(name: str) -> list[Parting]:
        found = []
        for plane in (PlaneName.NECK_ROOT, PlaneName.HEAD, PlaneName.HOOK):
            where = planes[plane]
            ranges = [corner.through(where, name, "pull", where.length) for corner in corners]
            found.append(Parting(plane.words, (where.start, where.end), where.on_upright, over_plies(ranges)))
        neck = planes[PlaneName.NECK]
        ranges = [corner.neck(neck, name) for corner in corners]
        found.append(Parting(neck.name.words, (neck.start, neck.end), True, over_plies(ranges)))
        return sorted(found, key=lambda parting: parting.bears.low)

    glued = state("shoulder-open")
    shoulder = planes[PlaneName.SHOULDER]
    root = planes[PlaneName.NECK_ROOT], planes[PlaneName.HOOK]
    after = Bounds.least(
        over_plies([corner.through(plane, "shoulder-open", "turn", turned) for corner in corners])
        for plane in root
    )
    before = over_plies([corner.shoulder(shoulder, "turn", turned) for corner in corners])
    return CornerStrength(
        pull=Bounds.least(parting.bears for parting in glued),
        turn=Bounds(min(after.low, before.low), max(after.high, before.high)),
        give=max(corner.factors["shoulder-open pull give"] for corner in corners) / upright.modulus,
        partings=tuple(glued),
        bare=tuple(state("none")),
        slips=hook.flank > SELF_HOLDING,
        outside=any(corner.factors.outside for corner in corners),
    )
