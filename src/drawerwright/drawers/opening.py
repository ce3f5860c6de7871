"""An opening that drawers go into: its clear size, and where it is in a carcase that is divided."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.opening_readings import OpeningReadings


@dataclass(frozen=True, slots=True)
class Kept:
    """How much of the wood on each side fronts cover whatever meets them there (mm); None where they share it."""

    left: Mm | None = None
    right: Mm | None = None
    top: Mm | None = None
    bottom: Mm | None = None

    @property
    def edges(self) -> tuple[Mm | None, Mm | None, Mm | None, Mm | None]:
        """On the left and the right, above and below."""
        return self.left, self.right, self.top, self.bottom


SHARES_ALL = Kept()


@dataclass(frozen=True, slots=True)
class Beside:
    """The wood between an opening and the next one on each side (mm); None where the carcase ends, or where what is
    beyond has no fronts. `kept`: how much of it the fronts beyond keep for themselves."""

    left: Mm | None = None
    right: Mm | None = None
    top: Mm | None = None
    bottom: Mm | None = None
    kept: Kept = SHARES_ALL


BESIDE_NOTHING = Beside()
"""Of an opening that is a whole carcase."""


@dataclass(frozen=True, slots=True)
class CarcaseBoard:
    """A divider, a stile or a rail as it is seen from before: x and z of its lower left corner from the carcase's lower
    left corner inside, width, height (mm); whether its fibre stands."""

    x: Mm
    z: Mm
    width: Mm
    height: Mm
    is_upright: bool
    is_frame: bool = False
    """Whether it is part of a face frame, and stands before the carcase."""

    @property
    def edges(self) -> tuple[Mm, Mm, Mm, Mm]:
        """Left, low, right, top."""
        return self.x, self.z, self.x + self.width, self.z + self.height

    def moved(self, x: Mm, z: Mm) -> CarcaseBoard:
        """The same seen from another corner, from which the carcase begins at x and z."""
        return replace(self, x=self.x + x, z=self.z + z)


@dataclass(frozen=True, slots=True)
class Carcase:
    """A carcase that is divided: its clear size, and where its openings are: x and z of the lower left corner from the
    carcase's lower left corner inside, width, height (mm); an opening that is divided again counts as what it is
    divided into. `boards`: what is between and before them, that in front last."""

    name: str
    width: Mm
    height: Mm
    cells: tuple[tuple[Mm, Mm, Mm, Mm], ...]
    readings: OpeningReadings | None = None
    boards: tuple[CarcaseBoard, ...] = ()


@dataclass(frozen=True, slots=True)
class Opening:
    """The clear opening of a carcase (mm).

    carcase: the one that it is a part of, None where it is all of it. x, z: of its lower left corner, from that of the
    carcase. beside: what is between it and its neighbours. behind: how far the carcase stands back behind a face frame
    on the left and on the right: what spacers or brackets fill there.
    """

    width: Mm
    height: Mm
    depth: Mm
    carcase: Carcase | None = None
    x: Mm = 0.0
    z: Mm = 0.0
    beside: Beside = BESIDE_NOTHING
    behind: tuple[Mm, Mm] = (0.0, 0.0)
    readings: OpeningReadings | None = None
    planned: tuple[Mm, Mm] | None = None
    """Of an opening that was measured: its width and height as they were stated, or as the division leaves them."""

    def measured(self, readings: OpeningReadings) -> Opening:
        """The same as these readings leave it: the smallest rules the box."""
        width, height = readings.clear_width(self.width), readings.clear_height(self.height)
        planned = self.width, self.height
        return replace(self, width=width, height=height, readings=readings, planned=planned)
