"""What is done for joints in words: at the bench, and when drawers are put together."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import at_least
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, phrase, plural
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.joints.joint import joint_named
from drawerwright.run.work import GlueUp, MakeJoints


def joint_lines(items: Sequence[MakeJoints]) -> list[Phrase]:
    """What corners need at the bench, kind of work by kind of work."""
    lines: list[Phrase] = []
    for item in items:
        drawers = names_in_row(item.drawers)
        lines.append(plural("Drawer {drawers}:", "Drawers {drawers}:", len(item.drawers), drawers=drawers))
        lines += item.lines
    return lines


def glue_lines(items: Sequence[GlueUp]) -> list[Phrase]:
    """How drawers are put together: by their joints, and by their bottoms."""
    styles = {style for item in items for style in item.bottoms}
    lines = []
    for item in items:
        joint = joint_named(item.joint)
        if len(items) > 1:
            drawers = names_in_row(item.drawers)
            lines.append(phrase("{joint}, {drawers}:", joint=joint.words, drawers=drawers))
        lines += joint.glue_lines
    if BottomStyle.CAPTURED in styles:
        lines.append(phrase("Slip a captured bottom in, unglued, before the last piece closes the box."))
    if BottomStyle.SLID in styles:
        lines.append(
            phrase("Slide a slid bottom in from the back once the glue is dry, and screw it to the back.")
        )
    slots = [item.slots for item in items if item.slots is not None]
    if slots:
        before, behind = (max(room) for room in zip(*slots, strict=True))
        lines.append(
            phrase(
                "A slid bottom of solid wood moves over the year: do not glue it, and screw it through slots that run "
                "from front to back."
            )
        )
        lines.append(phrase("Each slot needs at least {room} in front of its screw.", room=at_least(before)))
        if behind > 0:
            lines.append(phrase("Behind the screw it needs at least {room}.", room=at_least(behind)))
    if BottomStyle.FIXED in styles:
        lines.append(
            phrase("Fix a bottom from below while the box is in the clamps: it holds the box square.")
        )
    return lines
