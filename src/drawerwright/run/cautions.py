"""What can hurt, said where it can happen."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import PlainJoint
from drawerwright.joints.table import RouterTable
from drawerwright.run.cutter_words import mounting_words, speed_words
from drawerwright.run.speeds import advise_speed


def cautions(
    cutters: Sequence[Cutter],
    table: RouterTable,
    shortest_piece: Mm,
    *,
    joints: Sequence[PlainJoint] = (),
    are_stacked: bool = False,
) -> tuple[Phrase, ...]:
    """The cautions of a run with these self-mating cutters and other joints, in the order of the work. Common practice;
    manuals and local rules govern."""
    by_hand = tuple(dict.fromkeys(caution for joint in joints for caution in joint.cautions))
    in_bands = bool(cutters) or any(joint.bands_flat or joint.bands_upright for joint in joints)
    said = [
        phrase(
            "Read the manuals of the cutter, the router table and the saw first; they and your "
            "local rules come before this sheet. Before you use a machine for the first time, have "
            "a trained person show you how."
        ),
        mounting_words(),
    ]
    for cutter in cutters:
        words = speed_words(advise_speed(cutter, table))
        said.append(words if len(cutters) == 1 else joined((cutter.name, words), ": "))
    said += [
        phrase(
            "Feed against the rotation of the cutter, never between cutter and fence. Stand to "
            "one side of the line of feed."
        ),
        phrase(
            "Fit feather boards above the cutter and ahead of it, and the guard over it. For "
            "upright bands add a tall fence and a carrier or second feather board, so the band "
            "cannot tip."
        ),
        phrase("Use push blocks. Keep your hands clear of the cutter and out of the line behind the work."),
        *((_short_pieces(shortest_piece),) if in_bands or not by_hand else ()),
        *by_hand,
        phrase(
            "Take a deep cut in two or three passes from the start, and any cut in which the cutter labours: put a "
            "packing strip on the fence and take it off for the last pass. Leave the fence itself where it is. "
            "Support long bands."
        ),
        phrase(
            "At the saw use the riving knife, the guard and a push stick; never cross-cut against the rip fence "
            "without a stop block that ends before the blade."
        ),
        *([stack_words()] if are_stacked else []),
        phrase(
            "Wear eye and ear protection. Connect the dust extraction and wear a mask: wood dust is harmful, and so "
            "are the resins in panels."
        ),
    ]
    return tuple(said)


def _short_pieces(shortest_piece: Mm) -> Phrase:
    """Of joints that are routed in bands; one that is cut piece by piece says itself what holds the piece."""
    return phrase(
        "Never rout a piece on its own if its routed edge is shorter than "
        "{shortest_piece}: rout it as part of a band, or screw it to a larger carrier.",
        shortest_piece=millimetres(shortest_piece, "g"),
    )


def stack_words() -> Phrase:
    """What can hurt where sheets are cut in a stack."""
    return phrase(
        "Stack sheets only if the saw's manual allows it and the blade reaches through the whole stack. Stack flat "
        "sheets only, flush along fence and stop, and clamp or tape them together so that none can slide; have a "
        "second person carry and support them. When in doubt, cut them one by one."
    )
