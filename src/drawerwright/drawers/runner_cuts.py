"""What runners ask of the box that they carry: notches and bores in its back, free room under its bottom.

::

    back of the box, seen from behind           sheet of a runner: `notch` from each side's inner face,
    +----------------------------------+        `bore` beside that face and above the sides' lower edges
    |                                  |
    |    o                        o    |        All of it is known in the drawer's frame here, and told to the back
    |   +--+                    +--+   |        in its own frame by its placement.
    +---+  +--------------------+  +---+
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm, kept_length
from drawerwright.drawers.placement import Place, Placement

TOUCHING: Mm = 0.001
"""What only touches does not meet."""


@dataclass(frozen=True, slots=True)
class RearNotch:
    """Cut out of the back at each end so that the runner passes (mm): from the side's inner face, and above the sides'
    lower edges."""

    width: Mm
    height: Mm


@dataclass(frozen=True, slots=True)
class HookBore:
    """A hole for the hook at the runner's end, bored from behind (mm).

    beside: from the side's inner face to its middle; above: from the sides' lower edges to its middle; depth: None
    where it goes through.
    """

    diameter: Mm
    beside: Mm
    above: Mm
    depth: Mm | None = None


@dataclass(frozen=True, slots=True)
class Locking:
    """The room that the locking device takes in each front corner (mm): from the side's inner face, back from the
    front's inner face, and above the sides' lower edges."""

    width: Mm
    depth: Mm
    height: Mm


@dataclass(frozen=True, slots=True)
class RearCuts:
    """What the runner of a drawer needs cut in its back, none of it where the runner asks for nothing."""

    notch: RearNotch | None = None
    bore: HookBore | None = None


@dataclass(frozen=True, slots=True)
class Notch:
    """A notch in the lower edge of a part (mm): where it begins and ends along the part, and how high it is there."""

    begin: Mm
    end: Mm
    height: Mm


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole in the outer face of a part (mm): along it, above its lower edge; `depth` None where it goes through."""

    along: Mm
    across: Mm
    diameter: Mm
    depth: Mm | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """A space of the drawer that its hardware takes (mm): least and greatest x, y, z in the drawer's frame."""

    low: Place
    high: Place

    def meets(self, low: Place, high: Place) -> bool:
        """Whether something between two corners stands in it."""
        return all(
            begin < theirs - TOUCHING and start < end - TOUCHING
            for begin, end, start, theirs in zip(self.low, self.high, low, high, strict=True)
        )


NOTHING_CUT = RearCuts()
"""What a box without demanding runners needs."""


def notches(cuts: RearCuts, inside: tuple[Mm, Mm], place: Placement) -> tuple[Notch, ...]:
    """The notches of a back as it has them.

    Args:
        cuts: what the runner needs.
        inside: x of the inner faces of the left and the right side (mm).
        place: of the back in its drawer; one that ends above the notch needs none.
    """
    if cuts.notch is None:
        return ()
    left, right = inside
    found = []
    for begin, end in ((left, left + cuts.notch.width), (right - cuts.notch.width, right)):
        along, height, _ = place.in_part((begin, 0.0, cuts.notch.height))
        until, _height, _ = place.in_part((end, 0.0, 0.0))
        if kept_length(height) > 0:
            found.append(Notch(kept_length(along), kept_length(until), kept_length(height)))
    return tuple(found)


def hook_holes(cuts: RearCuts, inside: tuple[Mm, Mm], place: Placement) -> tuple[Hole, ...]:
    """The holes for the hooks as a back has them; the arguments are those of `notches`."""
    bore = cuts.bore
    if bore is None:
        return ()
    left, right = inside
    places = (place.in_part((x, 0.0, bore.above)) for x in (left + bore.beside, right - bore.beside))
    return tuple(
        Hole(kept_length(along), kept_length(across), bore.diameter, bore.depth)
        for along, across, _ in places
    )


def rooms(
    notch: RearNotch | None, locking: Locking | None, inside: tuple[Mm, Mm], depth: Mm
) -> Iterator[Room]:
    """What must stay free for the runners and what locks them: under the bottom, along both sides.

    Args:
        notch: the section of the runner that passes through the back; none leaves it untold.
        locking: the room of the locking devices.
        inside: x of the inner faces of the left and the right side (mm).
        depth: from the front's inner face to the back's outer one (mm).
    """
    left, right = inside
    taken = [] if notch is None else [(notch.width, depth, notch.height)]
    taken += [] if locking is None else [(locking.width, locking.depth, locking.height)]
    for width, deep, height in taken:
        yield Room((left, 0.0, 0.0), (left + width, deep, height))
        yield Room((right - width, 0.0, 0.0), (right, deep, height))
