"""What can hurt, said where it can happen."""

from __future__ import annotations

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.table import RouterTable
from drawerwright.run.speeds import advise_speed


def cautions(cutter: Cutter, table: RouterTable, shortest_piece: Mm) -> tuple[Phrase, ...]:
    """The cautions of a run, in the order of the work. Common practice; manuals and local rules govern."""
    said = [
        phrase(
            "Read the manuals of the cutter, the router table and the saw first; they and your local rules come before "
            "this sheet. If you have not been trained on a machine, have someone who has show you."
        ),
        phrase(
            "Unplug the router before you touch the cutter. Insert the shank fully, back it off 2 mm, tighten, and "
            "turn the cutter by hand past fence and table before you switch on."
        ),
    ]
    advice = advise_speed(cutter, table)
    if advice is None:
        said.append(
            phrase(
                "Neither the cutter's diameter nor its greatest speed is known: find the speed marked on it and never "
                "exceed it. Large cutters must turn slowly."
            )
        )
    elif advice.choose is None:
        said.append(
            phrase(
                "Spindle speed: at most {limit:,.0f} 1/min for this cutter ({source}); the figure marked "
                "on the cutter governs.",
                limit=advice.limit,
                source=advice.source,
            )
        )
    else:
        said.append(
            phrase(
                "Spindle speed: {choose:,.0f} 1/min. The limit for this cutter is {limit:,.0f} 1/min "
                "({source}); the figure marked on the cutter governs.",
                limit=advice.limit,
                choose=advice.choose,
                source=advice.source,
            )
        )
    said += [
        phrase(
            "Feed against the turning of the cutter, never between cutter and fence. Stand beside the line of feed."
        ),
        phrase(
            "Fit feather boards above and before the cutter, and the guard over it. For upright bands add a tall fence "
            "and a carrier or second feather board, so the band cannot tip."
        ),
        phrase("Use push blocks. Keep hands clear of the cutter and out of the line behind the work."),
        phrase(
            "Do not run a piece whose routed edge is shorter than {shortest_piece} on its own: rout it as part of "
            "a band, or screw it to a larger carrier.",
            shortest_piece=millimetres(shortest_piece, "g"),
        ),
        phrase(
            "If the cutter labours, take the cut in two passes with a packing strip on the fence that comes off for "
            "the last one; the fence itself stays where it is. Support long bands."
        ),
        phrase(
            "At the saw use the riving knife, the guard and a push stick; never cross-cut against the rip fence "
            "without a stop block that ends before the blade."
        ),
        phrase(
            "Wear eye and ear protection. Connect the dust extraction and wear a mask: wood dust is harmful, and so "
            "are the resins in panels."
        ),
    ]
    return tuple(said)
