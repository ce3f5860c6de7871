"""What a job file says of the fronts that close an opening."""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BeforeValidator, ConfigDict, Field

from drawerwright.drawers.bank import FrontStyle
from drawerwright.job.file.entry_types import Clearance, Entries, Length, PositiveLength, Price


class ArithmeticTerms(Entries):
    count: int = Field(ge=1, le=60)
    """Number of fronts."""
    step: Length | None = None
    """How much taller each front is than the one above; or give `smallest`."""
    smallest: PositiveLength | None = None
    """Height of the top front; or give `step`."""


class GeometricTerms(Entries):
    count: int = Field(ge=1, le=60)
    """Number of fronts."""
    ratio: float | None = Field(default=None, gt=0)
    """How many times as tall each front is as the one above; or give `smallest`."""
    smallest: PositiveLength | None = None
    """Height of the top front; or give `ratio`."""


class HeightsEntry(Entries):
    """Exactly one of the four rules."""

    model_config = ConfigDict(
        json_schema_extra={
            "oneOf": [
                {"required": [rule], "properties": {rule: {"not": {"type": "null"}}}}
                for rule in ("given", "equal", "arithmetic", "geometric")
            ]
        }
    )

    given: tuple[Length | Literal["rest"], ...] | None = Field(default=None, min_length=1, max_length=60)
    """Every height from the top down; one may be `rest`."""
    equal: int | None = Field(default=None, ge=1, le=60)
    """Number of fronts, all of one height."""
    arithmetic: ArithmeticTerms | None = None
    """Heights that grow by a step."""
    geometric: GeometricTerms | None = None
    """Heights that grow by a factor."""


class OverlayEntry(Entries):
    sides: Length | None = None
    """How much of the carcase the front covers on each side; minus: how far inside it stops."""
    left: Length | None = None
    """The same on the left, if it differs there."""
    right: Length | None = None
    """The same on the right, if it differs there."""
    top: Length | None = None
    """The same at the top."""
    bottom: Length | None = None
    """The same at the bottom."""
    shared: bool = True
    """Whether fronts that meet those of the next opening share the wood between them: each covers half of it, less half
    a reveal, whatever is said of that edge. `left` and `right` always stay as given, and fronts beside them take what
    that leaves, up to their own overlay.
    """


class PullEntry(Entries):
    spacing: Clearance = 0.0
    """Hole spacing; 0 for a single hole."""
    below_top: PositiveLength | None = None
    """From the front's upper edge to the holes; by default the middle of the front."""
    hole: PositiveLength = 5.0
    """Hole diameter."""
    price: Price | None = None
    """Price of one pull with its screws."""


SideHeights: TypeAlias = (
    PositiveLength
    | Annotated[tuple[PositiveLength | Literal["rest"], ...], Field(min_length=1, max_length=60)]
)
"""One height for all drawers of a bank, or one for each."""


class ScoopEntry(Entries):
    width: PositiveLength
    """Its width at the upper edge."""
    depth: PositiveLength
    """From the upper edge to its lowest point."""
    radius: Clearance = 20.0
    """Radius of its lower corners."""


MatchDirection: TypeAlias = Literal["down", "across"]


def _match(value: Any) -> Any:
    """A field that knows only texts says yes."""
    return value.strip().casefold() in ("yes", "true") or value if isinstance(value, str) else value


class FrontsEntry(Entries):
    style: FrontStyle
    """`applied` on a flush box, `lipped` as part of the box with a lip on both sides, `inset` in the opening."""
    heights: HeightsEntry
    """From the top down; exactly one of the four rules."""
    false_fronts: tuple[Annotated[int, Field(ge=1, le=60)], ...] = Field(default=(), max_length=60)
    """Fronts without a drawer behind them, by their numbers from the top: they are fixed in the opening."""
    reveal: Clearance = 3.0
    """Between fronts."""
    overlay: OverlayEntry = OverlayEntry()
    """An edge left out sits inside the opening with the reveal around it. A front that covers the carcase on
    any edge stands in front of it; an inset one covers none.
    """
    stock: str | None = None
    """Stock of applied fronts; other fronts are part of the box."""
    oversize: Clearance = 0.0
    """How much longer and wider applied fronts are cut, to be trimmed after the dry fit."""
    grain_upright: bool = False
    """Whether the grain of applied fronts runs upright."""
    match: Annotated[bool | str, BeforeValidator(_match)] = False
    """`true`: cut the bank's applied fronts side by side so the figure runs through; a name: together with those of
    every bank that has the same.
    """
    match_direction: MatchDirection = "down"
    """How the figure runs: `down` from front to front, or `across` from bank to bank, for fronts whose grain
    runs upright."""
    pull: PullEntry | None = None
    """Holes for a pull."""
    scoop: ScoopEntry | None = None
    """Cut out of the middle of the upper edge, to pull the drawer by hand."""

    @property
    def covers_carcase(self) -> bool:
        """Whether they stand over the wood around the opening on any edge."""
        edges = self.overlay.model_dump(exclude={"shared"}).values()
        return self.style is not FrontStyle.INSET and any(edge is not None and edge > 0 for edge in edges)
