"""The finger joint as a kind: its measures, figures, sections, layers and words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.bench_place import BenchPlace
from drawerwright.joints.comb import EdgeLayer, JoinedEdge, layered
from drawerwright.joints.corner import Outline
from drawerwright.joints.holding import Bond, GluedFace, Holding, PullOff, turned_flank
from drawerwright.joints.jigs import JigStrip
from drawerwright.joints.joint import BenchWork, Doubtful
from drawerwright.joints.kinds.finger.finger_findings import corner_faults, row_faults
from drawerwright.joints.kinds.finger.finger_jig import finger_jig, loose_combs
from drawerwright.joints.kinds.finger.finger_readings import (
    READINGS,
    REMEDIES,
    SETTINGS,
    changes,
    expected,
    words,
)
from drawerwright.joints.kinds.finger.finger_row import FingerRow, whole_widths
from drawerwright.joints.kinds.finger.finger_work import finger_work
from drawerwright.joints.kinds.finger.row_doubt import RowDoubt
from drawerwright.joints.loose_piece import LoosePiece
from drawerwright.joints.plain_joint import (
    CUT_IN_A_CARRIER,
    BenchFigure,
    JointMeasure,
    Measures,
    PlainCorner,
    PlainJoint,
)
from drawerwright.joints.reach import Reach
from drawerwright.joints.section_marks import NamedPlace, Span, Spans
from drawerwright.joints.setting import CornerGeometry

FINGER: Mm = 9.5
"""Usual width of a finger, that of a common straight bit (common practice, no source)."""
CLEARANCE: Mm = 0.1
"""Usual clearance of a finger in its notch: it slides in by hand, with room for glue (common practice, no source)."""


class FingerJoint(PlainJoint):
    """The flat piece has a finger at either end of the row, the upright piece a notch. Both go right through."""

    name = "finger"
    words = phrase("finger joint")
    said = ("fingers", "zinken")
    meaning = phrase("finger joint: notched edges")
    needs_width = True
    cuts_full_height = False
    cautions = (CUT_IN_A_CARRIER,)
    measures = (
        JointMeasure("finger", phrase("finger width"), phrase("width of a finger and of a gap")),
        JointMeasure("kerf", phrase("kerf"), phrase("width of the blade or bit; without it, as the notch")),
        JointMeasure(
            "clearance",
            phrase("clearance"),
            phrase("how much wider a notch is than the finger in it"),
            may_be_none=True,
        ),
    )
    readings = READINGS
    settings = SETTINGS

    def usual(self, name: str, corner: CornerGeometry) -> Mm:
        if name == "kerf":
            return FingerRow(2 * FINGER, FINGER, CLEARANCE).notch
        return {"finger": FINGER, "clearance": CLEARANCE}[name]

    def measure(self, made: PlainCorner, name: str) -> Mm:
        """A bit of which nothing is said cuts a notch in one pass."""
        if name == "kerf" and "kerf" not in dict(made.measures):
            return self.measure(made, "finger") + self.measure(made, "clearance") / 2
        return super().measure(made, name)

    def row(self, made: PlainCorner, width: Mm) -> FingerRow:
        """The row in an edge of this width."""
        return FingerRow(width, self.measure(made, "finger"), self.measure(made, "clearance"))

    def row_if_any(self, made: PlainCorner, width: Mm) -> FingerRow | None:
        """The row, or None where the edge has no room for one, which a finding says."""
        try:
            return self.row(made, width)
        except InvalidValueError:
            return None

    def checked(self, given: Mapping[str, Mm]) -> Measures:
        """The measures must also leave something of a finger."""
        finger = given.get("finger", FINGER)
        measures = super().checked(given)
        FingerRow(2 * finger, finger, given.get("clearance", CLEARANCE))
        return measures

    def reach(self, made: PlainCorner) -> Mm:
        """Fingers go right through: a piece is as long as the drawer is over all."""
        return made.corner.flat_thickness

    def figures(self, made: PlainCorner, width: Mm) -> tuple[BenchFigure, ...]:
        row, corner = self.row(made, width), made.corner
        return (
            BenchFigure("jig_pitch", phrase("jig pitch"), row.pitch),
            BenchFigure("notch", phrase("notch"), row.notch),
            BenchFigure("tongue", phrase("finger as cut, and pin to cutter"), row.tongue),
            BenchFigure("end", phrase("finger at either end"), row.end),
            BenchFigure("first_notch", phrase("flat piece: edge to first notch"), row.first_notch, True),
            BenchFigure("end_notch", phrase("upright piece: notch at either end"), row.end_notch),
            BenchFigure("bit_height_flat", phrase("bit height for the flat piece"), corner.upright_thickness),
            BenchFigure(
                "bit_height_upright", phrase("bit height for the upright piece"), corner.flat_thickness
            ),
        )

    def data(self, made: PlainCorner, width: Mm) -> dict[str, Any]:
        row, doubt, kerf = self.row(made, width), RowDoubt(), self.measure(made, "kerf")
        steps = row.fingers - 2
        return {
            "fingers": row.fingers,
            "widths": [round(each, 6) for each in row.widths],
            "clearance": row.clearance,
            "finger": row.finger,
            "kerf": kerf,
            "passes": row.passes(kerf),
            "glued_area": round(row.glued(made.corner.flat_thickness, made.corner.upright_thickness), 1),
            "whole_finger_widths": [round(each, 3) for each in whole_widths(width, row.finger)],
            "row": {
                "off_at_end": round(doubt.off_at(steps), 4),
                "goes_together": round(doubt.goes_together(steps, row.clearance), 3),
                "most_steps": doubt.longest(row.clearance),
            },
        }

    def lines(self, made: PlainCorner, width: Mm) -> tuple[Phrase, ...]:
        row, doubt, kerf = self.row(made, width), RowDoubt(), self.measure(made, "kerf")
        steps = row.fingers - 2
        found = [
            phrase(
                "{flat} fingers on the flat piece, {upright} on the upright one; the two at the ends are {end} wide.",
                flat=row.fingers,
                upright=row.fingers - 1,
                end=millimetres(row.end),
            )
        ]
        if row.passes(kerf) > 1:
            found.append(
                phrase(
                    "A kerf of {kerf} takes {passes} passes a notch, {shift} apart.",
                    kerf=millimetres(kerf),
                    passes=row.passes(kerf),
                    shift=millimetres((row.notch - kerf) / (row.passes(kerf) - 1)),
                )
            )
        found.append(
            phrase(
                "With {slack} of slack on the pin, {steps} steps along the row put a finger off by {off} (standard "
                "uncertainty). Odds that such a row goes together: {odds:.0f} %.",
                steps=steps,
                off=millimetres(doubt.off_at(steps)),
                slack=millimetres(doubt.slack),
                odds=100 * doubt.goes_together(steps, row.clearance),
            )
        )
        return tuple(found)

    def jig(self, made: PlainCorner, width: Mm) -> tuple[JigStrip, ...]:
        return finger_jig(self.row(made, width))

    def test_pieces(self, made: PlainCorner, width: Mm) -> tuple[LoosePiece, LoosePiece]:
        return loose_combs(self.row(made, width), made.corner, self.piece_names)

    @property
    def remedies(self) -> tuple[Phrase, ...]:
        return REMEDIES

    def expected(self, made: PlainCorner, width: Mm) -> Mapping[str, Mm]:
        return expected(self.row(made, width))

    def changes(self, made: PlainCorner, width: Mm, read: Mapping[str, Mm]) -> Mapping[str, Mm]:
        return changes(self.row(made, width), read)

    def told(self, changes: Mapping[str, Mm]) -> tuple[Phrase, ...]:
        return tuple(words(changes))

    def flat_outline(self, made: PlainCorner, length: Mm | None = None) -> Outline:
        """Through a notch: the other piece's finger takes the place."""
        far, *_ = super().flat_outline(made, length)
        thickness, end = made.corner.flat_thickness, made.corner.lip + made.corner.upright_thickness
        return (far[0], 0.0), (far[0], thickness), (end, thickness), (end, 0.0)

    def flat_layers(self, made: PlainCorner, edge: JoinedEdge, length: Mm) -> tuple[EdgeLayer, ...]:
        whole, notched = super().flat_outline(made, length), self.flat_outline(made, length)
        row = self.row_if_any(made, edge.joined)
        return layered(edge, row.notches_between if row else (), whole, notched)

    def upright_layers(self, made: PlainCorner, edge: JoinedEdge, length: Mm) -> tuple[EdgeLayer, ...]:
        whole = self.upright_outline(made, 0.0, 0.0, length)
        back = made.corner.flat_thickness
        notched = tuple((x, min(y, -back)) for x, y in whole)
        row = self.row_if_any(made, edge.joined)
        return layered(edge, row.notches_at_ends if row else ((0.0, edge.joined),), whole, notched)

    def spans(self, made: PlainCorner) -> Spans:
        thickness = made.corner.flat_thickness
        left = Span(0.0, thickness, phrase("bit height"), (made.seated_lip, made.seated_lip))
        base = super().spans(made)
        return Spans(above=base.above, below=base.below, left=(left,), right=base.right)

    def places(self, made: PlainCorner) -> tuple[NamedPlace, ...]:
        corner = made.corner
        size = corner.upright_thickness, corner.flat_thickness
        middle = made.seated_lip + size[0] / 2, size[1] / 2
        return (NamedPlace(phrase("finger"), middle, size, on_upright=True),)

    def holding(self, made: PlainCorner, pull: PullOff) -> Holding:
        """The flanks of the fingers, alike whichever way; and the bottoms of the notches, half of the height each."""
        flat, upright = made.corner.flat_thickness, made.corner.upright_thickness
        left, right = made.seated_lip, made.seated_lip + upright
        section = ((left, 0.0), (right, 0.0), (right, flat), (left, flat), (left, 0.0))
        flanks = 2 / self.row_of_least(made).pitch
        return Holding(
            (
                GluedFace(
                    phrase("flanks of the fingers"),
                    flanks * flat * upright,
                    Bond.CROSSED,
                    flanks * turned_flank(flat, upright),
                    section,
                ),
                GluedFace(phrase("bottoms of the notches"), (flat + upright) / 2, Bond.END, 0.0, section[:3]),
            )
        )

    def findings(self, made: PlainCorner, where: str, reach: Reach) -> tuple[Finding, ...]:
        return corner_faults(made.corner, self.row_of_least(made), self.measure(made, "kerf"), where)

    def row_of_least(self, made: PlainCorner) -> FingerRow:
        """The shortest row there is, for what does not hang on how long it is."""
        finger = self.measure(made, "finger")
        return FingerRow(2 * finger, finger, self.measure(made, "clearance"))

    def edge_findings(self, made: PlainCorner, where: str, width: Mm) -> tuple[Finding, ...]:
        return row_faults(
            self.measure(made, "finger"), self.measure(made, "clearance"), width, where, RowDoubt()
        )

    def groove_shows(self, made: PlainCorner, depth: Mm) -> Doubtful | None:
        return Doubtful(
            phrase("wherever a groove runs out it meets a finger of one piece or the other, and shows."),
            phrase("Stop the groove short of that finger, or plug the hole."),
        )

    def bench_work(self, made: PlainCorner, place: BenchPlace) -> tuple[BenchWork, ...]:
        row = self.row_if_any(made, place.height)
        return finger_work(row, made.corner, self.measure(made, "kerf"), place) if row else ()

    @property
    def glue_lines(self) -> tuple[Phrase, ...]:
        return (
            phrase("Dry-fit one drawer first: hand pressure and a light tap, no more."),
            phrase("Spread glue on the flanks of the fingers, not on the end grain at their tips."),
            phrase("Clamp both ways with cauls that bear beside the fingers, and compare the diagonals."),
        )


JOINT = FingerJoint()
