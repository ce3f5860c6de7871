"""What is doubtful about trays that lie in another drawer: whether they go in, and clear of what is above."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.box import DrawerBox

SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def tray_findings(boxes: Iterable[DrawerBox]) -> Iterator[Finding]:
    """Findings about every tray among the drawers of a job."""
    known = {box.name: box for box in boxes}
    for tray in known.values():
        drawer = known.get(tray.inside)
        if drawer is not None:
            yield from _tray(tray, drawer)


def _tray(tray: DrawerBox, drawer: DrawerBox) -> Iterator[Finding]:
    for size, own, inside in (
        ("width", tray.width + sum(tray.lips), drawer.inside_width),
        ("depth", tray.depth, drawer.inside_depth),
    ):
        if own > inside - SEEN:
            way = phrase("wide") if size == "width" else phrase("deep")
            yield Finding(
                "tray-too-large",
                Severity.STOP,
                tray.name,
                phrase(
                    "it is {own} {way}, {drawer} is {inside} inside.",
                    own=millimetres(own, ".1f"),
                    way=way,
                    drawer=drawer.name,
                    inside=millimetres(inside, ".1f"),
                ),
                phrase("Leave out its size to have it made to fit, or give it some clearance."),
                (tray.name, drawer.name),
                size=size,
            )
    room = drawer.height - drawer.floor
    tall = max(tray.height, tray.front_height)
    if tall > room + SEEN:
        yield Finding(
            "tray-too-high",
            Severity.STOP,
            tray.name,
            phrase(
                "it is {tall} high and stands {more} above the sides of {drawer}, which has {room} above "
                "its bottom.",
                tall=millimetres(tall, ".1f"),
                more=millimetres(tall - room, ".1f"),
                drawer=drawer.name,
                room=millimetres(room, ".1f"),
            ),
            phrase("Make it at most {room} high.", room=millimetres(room, ".1f")),
            (tray.name, drawer.name),
        )
