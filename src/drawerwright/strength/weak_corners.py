"""Whether a drawer's corners are strong enough for its load and use: what its stop has to take, time and again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.loads import Kg, WrittenLoad
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.duty import Use
from drawerwright.drawers.parts import PartKind
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.joint import MadeCorner
from drawerwright.strength.assembled_corners import EndStrength, end_strengths
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.drawer_load import DrawerLoad

SPEEDS = {Use.OCCASIONAL: 0.3, Use.DAILY: 0.5, Use.HEAVY: 0.8}
"""How fast a drawer meets its stop (m/s; assumed, no source)."""
USUAL_USE = Use.DAILY
"""Where nobody has said how a drawer is used."""
REPEATED = 0.5
"""What wood bears thousands of times, as a share of what it bears once (Wood Handbook, ch. 5, fatigue; from memory)."""


def stop_energy(load: Kg, use: Use) -> float:
    """Energy of a load that meets the stop with its drawer (J)."""
    return load * SPEEDS[use] ** 2 / 2


def bears_repeatedly(end: EndStrength) -> Bounds:
    """What an end takes of a load time and again (J): a force as `REPEATED` has an energy as its square."""
    return end.end.drop * REPEATED**2


def weak_corner_findings(
    drawer: AssembledDrawer, made: Mapping[CornerKey, MadeCorner]
) -> tuple[Finding, ...]:
    """Ends of a drawer that its load may take off in its use."""
    load = DrawerLoad(drawer).contents
    if not load:
        return ()
    use = drawer.box.duty.use or USUAL_USE
    return tuple(_findings(drawer.box, end_strengths(drawer, made), load, use))


def _findings(box: DrawerBox, ends: Iterable[EndStrength], load: Kg, use: Use) -> Iterator[Finding]:
    energy = stop_energy(load, use)
    for end in ends:
        bears = bears_repeatedly(end)
        if energy <= bears.middle:
            continue
        is_front = end.piece is PartKind.FRONT
        where = joined((box.name, phrase("front corners") if is_front else phrase("back corners")), " ")
        says = {
            "load": WrittenLoad(load),
            "use": use.words,
            "energy": energy,
            "plane": end.weakest.where,
        }
        if end.in_newtons:
            text = phrase(
                "{load} in {use} hit the stop with about {energy:.1f} J; the corners take {low:.1f} to "
                "{high:.1f} J time and again (an estimate, no joint was tested). Weak plane: {plane}.",
                **says,
                low=bears.low,
                high=bears.high,
            )
        else:
            text = phrase(
                "{load} in {use} hit the stop with about {energy:.1f} J; by the strengths assumed for "
                "plywood that may be too much (an estimate, no joint was tested). Weak plane: {plane}.",
                **says,
            )
        yield Finding(
            "corner-weak-for-use",
            Severity.WARNING if end.in_newtons and energy > bears.high else Severity.NOTE,
            where,
            text,
            phrase(
                "Let a soft stop take the load, put less in, make the neck or the stock thicker, or choose a joint "
                "with more glue, such as fingers."
            ),
            (box.name,),
        )
