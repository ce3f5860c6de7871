"""A kind of joint as somebody else would add one: front and back butt against the sides' ends, with glue and screws.

It knows the public face of a joint alone (`drawerwright.joints.joint`, `plain_joint`). Its figures are common practice,
no source.
"""

from __future__ import annotations

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.bench_place import BenchPlace
from drawerwright.joints.joint import BenchWork, Doubtful
from drawerwright.joints.plain_joint import PlainCorner, PlainJoint
from drawerwright.joints.reach import Reach

SCREW_PITCH: Mm = 60.0
FROM_EDGE: Mm = 15.0
THINNEST: Mm = 12.0
MINUTES_A_SCREW = 0.5


class ScrewedButt(PlainJoint):
    """Nothing is routed; a screw every 60 mm, none nearer to an edge than 15 mm."""

    name = "screwed-butt"
    words = phrase("screwed butt joint")
    meaning = phrase("butt joint: glue and screws")

    def findings(self, made: PlainCorner, where: str, reach: Reach) -> tuple[Finding, ...]:
        thickness = made.corner.upright_thickness
        if thickness >= THINNEST:
            return ()
        return (
            Finding(
                "thin-for-screws",
                Severity.WARNING,
                where,
                phrase("screws split ends of {thickness}.", thickness=millimetres(thickness, ".1f")),
                phrase("Take stock of at least {least}.", least=millimetres(THINNEST, "g")),
            ),
        )

    def groove_shows(self, made: PlainCorner, depth: Mm) -> Doubtful | None:
        return Doubtful(
            phrase("a groove shows at both ends of a piece that covers the other's end."),
            phrase("Stop it short."),
        )

    def bench_work(self, made: PlainCorner, place: BenchPlace) -> tuple[BenchWork, ...]:
        screws = max(2, 1 + int((place.height - 2 * FROM_EDGE) // SCREW_PITCH))
        line = phrase(
            "{screws} screws a corner, through the face into the end, the outer ones {edge} from the edges.",
            screws=screws,
            edge=millimetres(FROM_EDGE, "g"),
        )
        return (BenchWork(phrase("Drill for screws"), phrase("drill"), (line,), screws * MINUTES_A_SCREW),)

    @property
    def glue_lines(self) -> tuple[Phrase, ...]:
        return (phrase("Glue the ends, drive the screws and compare the diagonals."),)


SCREWED_BUTT = ScrewedButt()
