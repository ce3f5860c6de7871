"""Whether a bottom holds what lies on it: how far it sags, and how near its wood comes to breaking."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.strength.plate import BentPlate, Patch, Rigidity, Supports, bend
from drawerwright.strength.sag_limit import USUAL_SAG, SagLimit
from drawerwright.wood.board import BoardBending

GRAVITY = 9.80665
"""What a kilogram weighs (N; exact by definition)."""
FOOT: Mm = 50.0
"""A load at a point stands on a foot so long and so wide: a heavy thing has an edge, not a needle (assumed)."""
LASTING = 0.5
"""Of its strength in a test, what wood may be asked to bear for years: 0.6 for a lasting load, over 1.2 for safety (EN
1995-1-1, plywood indoors; from memory)."""
CREEP = 1.8
"""A load that stays for years makes the sag so many times as large (EN 1995-1-1, plywood indoors: 1 + 0.8; from
memory)."""

THINNEST_SPAN = 4.0
"""In thicknesses: over a shorter span a board is a block, and bending is the least of what gives way (common
practice, no source; textbooks call a plate thin from about ten on, from memory)."""
FAR_PAST = 5.0
"""Times its limit: a sag so far past it is told without figures of years (our own choice)."""


@dataclass(frozen=True, slots=True)
class LoadedBottom:
    """A bottom under its load.

    `width` from side to side and `length` from front to back, between the edges that carry it (mm). `load` lies spread
    evenly, `point` stands where it bends most (kg): in the middle, or in the middle of the free back. The grain of the
    face runs from side to side, or from front to back where it is `lengthwise`.
    """

    width: Mm
    length: Mm
    thickness: Mm
    board: BoardBending
    load: float
    point: float = 0.0
    supports: Supports = Supports.FOUR
    lengthwise: bool = False
    limit: SagLimit = USUAL_SAG

    def __post_init__(self) -> None:
        for name in ("width", "length", "thickness"):
            value = getattr(self, name)
            if not value > 0:
                raise InvalidValueError(
                    phrase(
                        "the {name} of a bottom must be more than 0 mm, not {value}",
                        name=_MEASURES[name],
                        value=millimetres(value, "g"),
                    ),
                    entry=(name,),
                )
        for name in ("load", "point"):
            value = getattr(self, name)
            if not value >= 0:
                raise InvalidValueError(
                    phrase("a load must be 0 kg or more, not {value:g} kg", value=value), entry=(name,)
                )

    @property
    def span(self) -> Mm:
        """What the limit of the sag is measured by: the shorter way from a carried edge to the one across (mm)."""
        return self.width if self.supports is Supports.THREE else min(self.width, self.length)

    @property
    def bent(self) -> BentPlate:
        """What the load does to it."""
        across, along = self.width, self.length
        loads = [Patch(GRAVITY * self.load, across / 2, along / 2, across, along)]
        if self.point:
            foot = min(FOOT, across / 2, along / 2)
            y = along / 2 if self.supports is Supports.FOUR else along - foot / 2
            loads.append(Patch(GRAVITY * self.point, across / 2, y, foot, foot))
        return bend(across, along, self._rigidity, self.supports, tuple(loads))

    @property
    def _rigidity(self) -> Rigidity:
        board = self.board
        along = Rigidity.of(self.thickness, board.along, board.across, board.shear, board.poisson)
        return replace(along, along=along.across, across=along.along) if self.lengthwise else along

    @property
    def deflection(self) -> Mm:
        """How far it sags at once (mm)."""
        return self.bent.sag

    @property
    def deflection_in_years(self) -> Mm:
        """How far it sags in years under a load that stays (mm)."""
        return CREEP * self.deflection

    @property
    def sag_limit(self) -> Mm:
        """How far it may sag (mm)."""
        return self.limit.of(self.span)

    @property
    def stresses(self) -> tuple[float, float]:
        """Greatest bending stress along the grain of the face and across it (N/mm²)."""
        bent = self.bent
        moments = (bent.moment_along, bent.moment_across)
        along, across = reversed(moments) if self.lengthwise else moments
        return 6 * along / self.thickness**2, 6 * across / self.thickness**2

    @property
    def stress_share(self) -> float:
        """The greater stress as a share of what the wood may bear for years."""
        strengths = (self.board.strength_along, self.board.strength_across)
        return max(
            stress / (LASTING * strength) for stress, strength in zip(self.stresses, strengths, strict=True)
        )

    @property
    def is_bowl(self) -> bool:
        """Whether it sags so far that it stiffens like a bowl, which is not reckoned with: the true sag is less."""
        return self.deflection > self.thickness / 2

    @property
    def is_far_past(self) -> bool:
        """Whether it sags so far that figures of thin plates say no more than that it does not hold."""
        return self.deflection > min(self.thickness, FAR_PAST * self.sag_limit)

    @property
    def edge_force(self) -> float:
        """The greatest force on a millimetre of an edge that carries it (N/mm)."""
        return self.bent.reaction

    @property
    def sags(self) -> bool:
        """Whether it sags further than it may."""
        return self.deflection > self.sag_limit

    @property
    def holds(self) -> bool:
        """Whether it keeps both limits."""
        return not self.sags and self.stress_share <= 1


_MEASURES = {"width": phrase("width"), "length": phrase("length"), "thickness": phrase("thickness")}
