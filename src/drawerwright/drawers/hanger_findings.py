"""What is doubtful about rails for folders: whether the folders go in."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.box import DrawerBox

MOST_PACKING: Mm = 20.0
"""What screws reach through: more asks for blocks or bars (common practice, no source)."""
SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def hanger_findings(box: DrawerBox) -> Iterator[Finding]:
    """Findings about the rails of one drawer; none without rails."""
    rails = box.rails
    if rails is None:
        return
    hangers = rails.hangers
    if rails.packing < -SEEN:
        yield Finding(
            "folders-too-wide",
            Severity.STOP,
            box.name,
            phrase(
                "folders of {span} from rail to rail, with rails {rail} thick, need {needed} between the sides; there "
                "are {between}.",
                span=millimetres(hangers.span, "g"),
                rail=millimetres(hangers.rail, "g"),
                needed=millimetres(hangers.needed, ".1f"),
                between=millimetres(rails.between, ".1f"),
            )
            if hangers.is_across
            else phrase(
                "folders of {span} from rail to rail, with rails {rail} thick, need {needed} between front and back; "
                "there are {between}.",
                span=millimetres(hangers.span, "g"),
                rail=millimetres(hangers.rail, "g"),
                needed=millimetres(hangers.needed, ".1f"),
                between=millimetres(rails.between, ".1f"),
            ),
            phrase(
                "Make the drawer {more} larger there, or hang the folders the other way.",
                more=millimetres(-2 * rails.packing, ".1f"),
            ),
            size="width" if hangers.is_across else "depth",
        )
    if rails.packing > MOST_PACKING:
        yield Finding(
            "rails-far-off",
            Severity.NOTE,
            box.name,
            phrase(
                "with folders of {span} there are {packing} between each rail and the wood that it is screwed to.",
                span=millimetres(hangers.span, "g"),
                packing=millimetres(rails.packing, ".1f"),
            ),
            phrase(
                "Screw the rails to blocks or to bars that reach across, or hang the folders the other way."
            ),
        )
    if rails.room < hangers.below - SEEN:
        yield Finding(
            "folders-touch-bottom",
            Severity.STOP,
            box.name,
            phrase(
                "folders hang {below} below the rails, but the bottom lies {room} below them.",
                below=millimetres(hangers.below, "g"),
                room=millimetres(rails.room, ".1f"),
            ),
            phrase(
                "Make the sides {more} higher, or set the rails higher.",
                more=millimetres(hangers.below - rails.room, ".1f"),
            ),
        )
