"""What is different from one kind of self-mating joint to the next, in figures.

The law (`drawerwright.joints.law`) is one; a kind says which of its formulas sets the bit, what a wrong height does,
and what its fence sum is made of. Whatever reckons with a corner asks these figures and no kind by its name. Words,
readings, findings and drawings of a kind are in `drawerwright.joints.joint`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol, TypeVar, cast

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.joints.profile import Profile
from drawerwright.joints.registry import all_kinds, kind_named

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

L = TypeVar("L", Mm, "NDArray[np.float64]")
"""A length, or an array of lengths (mm)."""


class Mating(Protocol):
    """How two pieces that one cutter has cut close on each other. Lengths in mm; what takes arrays of them says so."""

    @property
    def name(self) -> str:
        """As job files say it."""

    @property
    def has_play(self) -> bool:
        """Whether the tip meets a roof, so that a bit too low leaves play and one too high keeps the corner open. Else
        a wrong height shows as a step between faces, either way."""

    @property
    def shares_freely(self) -> bool:
        """Whether the fence sum may be shared between the pieces at will; else both have one setting."""

    @property
    def has_lip(self) -> bool:
        """Whether the fence decides how far one piece stands beyond the other, so that it has to be right."""

    @property
    def makes_corners(self) -> bool:
        """Whether drawers can be made with it: one piece stands at the end of the other."""

    def bit_height(self, mid_depth: Mm, flat_thickness: Mm) -> Mm:
        """At which the pieces close on each other."""

    def engagement(self, bit_height: Mm, mid_depth: Mm) -> Mm:
        """How far one piece reaches into the thickness of the other, pressed home, when both are cut at a height."""

    def misfit(self, bit_height: Mm, mid_depth: Mm, flat_thickness: Mm) -> Mm:
        """How far off closing exactly: below zero too low, above it too high. Takes arrays."""

    def play(self, bit_height: Mm, mid_depth: Mm) -> Mm:
        """What is left to move, 0 where there is none to choose. Takes arrays."""

    def stands_proud(self, bit_height: Mm, mid_depth: Mm, step: Mm, slope: Degrees) -> Mm:
        """How far one piece stays out of its seat. Takes arrays."""

    def span(self, upright_thickness: L, step: L) -> L:
        """What the second piece takes up along the first, apart from the lip: the fence sum is lip, span and step.
        Takes arrays."""

    def least_fence(self, step: L) -> L:
        """The least fence setting of either piece: below it a part of the edge that is needed would cut nothing. Takes
        arrays."""

    def fitting(self, least_play: Mm, most_play: Mm, flushness: Mm) -> tuple[Mm, Mm]:
        """Lowest and highest misfit that fits, where this much play and no more is wanted, and faces may stand off
        flush by so much."""

    def lips(self, wanted: Mm, flushness: Mm) -> tuple[Mm, Mm]:
        """Least and greatest lip that is right."""

    def profile(self, mid_depth: Mm, step: Mm, slope: Degrees, depth: Mm | None) -> Profile:
        """The ideal edge of a cutter with these measures, drawn down to a depth."""

    def through(self, thickness: Mm | None) -> Mm | None:
        """How much of the cutter's edge about its middle has to mate in stock of this thickness; None: all above twice
        the mid depth."""


def mating(name: str) -> Mating:
    """The figures of the self-mating joint with this name.

    Raises:
        InvalidValueError: there is no such joint, or no cutter of a router table makes it.
    """
    kind: Any = kind_named(name, self_mating_names)
    if not kind.is_self_mating:
        raise InvalidValueError(
            phrase(
                "no self-mating cutter makes a {name} joint; cutters make {known}",
                name=name,
                known=", ".join(self_mating_names()),
            )
        )
    return cast(Mating, kind)


def self_mating_names() -> tuple[str, ...]:
    """The names of the joints that one cutter makes."""
    return tuple(kind.name for kind in all_kinds() if kind.is_self_mating)
