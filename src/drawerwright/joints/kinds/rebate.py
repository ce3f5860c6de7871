"""The rebate: the upright piece's end sits in a rebate of the flat piece, glued and pinned.

A straight bit or a saw cuts the flat piece alone; the upright piece's end is square. From the law's frame: the rebate
is as wide as the upright piece is thick, and the lip wider where the flat piece has one; `depth` of it is taken from
the inner face, and what is left covers the upright piece's end grain.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, at_most, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.bench_place import BenchPlace
from drawerwright.joints.corner import Outline
from drawerwright.joints.holding import Holding, PullOff, cut_face_glued
from drawerwright.joints.joint import BenchWork, Doubtful
from drawerwright.joints.loose_piece import LoosePiece
from drawerwright.joints.plain_joint import (
    TOLD_APART,
    BenchFigure,
    BenchReading,
    BenchSetting,
    JointMeasure,
    PlainCorner,
    PlainJoint,
)
from drawerwright.joints.reach import Reach
from drawerwright.joints.section_marks import NamedPlace, Span, Spans
from drawerwright.joints.setting import SAME_SETTING, CornerGeometry

USUAL_SHARE = 0.6
"""Of the flat piece's thickness: usual depth of a rebate, between half and two thirds (common practice, no source)."""
DEEPEST_SHARE = 0.75
"""Of the flat piece's thickness: deeper leaves a tongue that breaks off (common practice, no source)."""
SHALLOW_SHARE = 0.4
"""Of the flat piece's thickness: a shallower rebate has little to glue and to pin (common practice, no source)."""
PIN_PITCH: Mm = 60.0
"""A pin about every so often (common practice, no source)."""
FROM_EDGE: Mm = 12.0
"""The outer pins from the edges (common practice, no source)."""
MINUTES_A_PIN = 0.3
"""A first guess, no source."""
FINEST = 2
"""Decimals that a fence or a height can be set to (mm)."""
OFF_BY_MOST = 2.0
"""Times the width aimed at, or as small a share of it: a reading beyond is a slip of the finger or of the unit (common
practice, no source)."""


class Rebate(PlainJoint):
    """Only fronts and backs are cut; the sides' ends stay square."""

    name = "rebate"
    words = phrase("rebate")
    said = ("falz",)
    meaning = phrase("rebate: glued and pinned")
    bands_flat = True
    passes = 2
    """In stock of 12 to 18 mm with a common straight bit (common practice, no source)."""
    measures = (
        JointMeasure(
            "depth", phrase("depth"), phrase("how deep the rebate is, from the flat piece's inner face")
        ),
    )
    readings = (
        BenchReading("left", phrase("what is left under the rebate")),
        BenchReading("width", phrase("width of the rebate")),
        BenchReading("lip", phrase("flat piece stands out beyond the upright one; minus: short of it"), True),
    )
    settings = (
        BenchSetting("bit_height", phrase("bit or blade height"), "bit_height"),
        BenchSetting("fence", phrase("fence, to the far side of the cut"), "fence"),
    )

    def usual(self, name: str, corner: CornerGeometry) -> Mm:
        return {"depth": round(USUAL_SHARE * corner.flat_thickness, 1)}[name]

    def depth(self, made: PlainCorner) -> Mm:
        """How deep the rebate is, and how far the upright piece reaches into the flat one."""
        return self.measure(made, "depth")

    def reach(self, made: PlainCorner) -> Mm:
        return self.depth(made)

    @staticmethod
    def rebate_width(made: PlainCorner) -> Mm:
        """From the flat piece's end: the upright piece, and the lip."""
        return made.corner.upright_thickness + made.corner.lip

    def figures(self, made: PlainCorner, width: Mm) -> tuple[BenchFigure, ...]:
        depth = self.depth(made)
        return (
            BenchFigure("bit_height", phrase("bit or blade height"), depth),
            BenchFigure("fence", phrase("fence, to the far side of the cut"), self.rebate_width(made)),
            BenchFigure("left", phrase("left under the rebate"), made.corner.flat_thickness - depth),
            BenchFigure(
                "length_lost", phrase("upright piece shorter at each end"), made.corner.flat_thickness - depth
            ),
        )

    def data(self, made: PlainCorner, width: Mm) -> dict[str, Any]:
        return {"depth": self.depth(made), "width": self.rebate_width(made), "pins": _pins(width)}

    def lines(self, made: PlainCorner, width: Mm) -> tuple[Phrase, ...]:
        if not width:
            return ()
        return (phrase("{pins} pins through the upright piece into the flat one.", pins=_pins(width)),)

    @property
    def remedies(self) -> tuple[Phrase, ...]:
        return (
            phrase("More left than expected: raise the bit by the difference; less: lower it."),
            phrase(
                "Rebate too narrow, or the front stands back: open the fence by the difference; too wide: close it."
            ),
        )

    def expected(self, made: PlainCorner, width: Mm) -> Mapping[str, Mm]:
        return {
            "left": made.corner.flat_thickness - self.depth(made),
            "width": self.rebate_width(made),
            "lip": made.corner.lip,
        }

    def test_pieces(self, made: PlainCorner, width: Mm) -> tuple[LoosePiece, LoosePiece]:
        """Only the flat piece is cut, and read."""
        flat, upright = super().test_pieces(made, width)
        depth = self.depth(made)
        spans = Spans(
            left=(Span(depth, made.corner.flat_thickness, "left"),),
            below=(Span(0.0, self.rebate_width(made), "width", (depth, None)),),
        )
        return replace(flat, spans=spans), upright

    def changes(self, made: PlainCorner, width: Mm, read: Mapping[str, Mm]) -> Mapping[str, Mm]:
        """Changes (mm): `bit_height` up, `fence` further open. A lip says the same of the fence as the width; where
        both were read, the mean counts.

        Raises:
            InvalidValueError: a reading cannot come from such a cut.
        """
        expected = self.expected(made, width)
        _check_readings(read, expected, made.corner.flat_thickness)
        changes: dict[str, Mm] = {}
        if "left" in read:
            changes["bit_height"] = read["left"] - expected["left"]
        opens = [expected[name] - read[name] for name in ("width", "lip") if name in read]
        if opens:
            changes["fence"] = sum(opens) / len(opens)
        return changes

    def told(self, changes: Mapping[str, Mm]) -> tuple[Phrase, ...]:
        return tuple(_words(changes))

    def flat_outline(self, made: PlainCorner, length: Mm | None = None) -> Outline:
        (far, _), (_, thickness), *_ = super().flat_outline(made, length)
        depth, width = self.depth(made), self.rebate_width(made)
        return (far, 0.0), (far, thickness), (0.0, thickness), (0.0, depth), (width, depth), (width, 0.0)

    def holding(self, made: PlainCorner, pull: PullOff) -> Holding:
        """The upright piece's end and the step of the rebate, all of it end grain; pins are not counted."""
        lip, upright = made.seated_lip, made.corner.upright_thickness
        step = (lip + upright, 0.0), (lip + upright, self.depth(made))
        return cut_face_glued(step, lip, upright)

    def spans(self, made: PlainCorner) -> Spans:
        thickness, depth = made.corner.flat_thickness, self.depth(made)
        spans = super().spans(made)
        foot = (made.seated_lip, made.seated_lip)
        return Spans(
            above=spans.above,
            below=spans.below,
            left=(
                Span(0.0, depth, phrase("bit height"), foot),
                Span(depth, thickness, phrase("left"), (made.seated_lip, None)),
            ),
            right=spans.right,
        )

    def places(self, made: PlainCorner) -> tuple[NamedPlace, ...]:
        depth, width = self.depth(made), self.rebate_width(made)
        left = made.corner.flat_thickness - depth
        return (NamedPlace(phrase("tongue"), (width / 2, depth + left / 2), (width, left), on_upright=False),)

    def findings(self, made: PlainCorner, where: str, reach: Reach) -> tuple[Finding, ...]:
        return tuple(_findings(self.depth(made), made.corner.flat_thickness, where))

    def groove_shows(self, made: PlainCorner, depth: Mm) -> Doubtful | None:
        """Under the rebate a groove is cut away with the rest, as long as it is no deeper."""
        deep = self.depth(made)
        if depth <= deep + SAME_SETTING:
            return None
        return Doubtful(
            phrase(
                "the groove is {depth} deep, deeper than the rebate of {rebate}: it breaks out where it shows.",
                depth=millimetres(depth, ".1f"),
                rebate=millimetres(deep, ".1f"),
            ),
            phrase(
                "Make the groove at most {rebate} deep, or stop it short of the end.",
                rebate=at_most(deep),
            ),
        )

    def edge_cut(self, made: PlainCorner) -> tuple[Mm, ...]:
        return round(self.depth(made), FINEST), round(self.rebate_width(made), FINEST)

    def edge_words(self, made: PlainCorner) -> Phrase:
        return phrase(
            "Rebate {depth} deep, {width} wide.",
            depth=millimetres(self.depth(made)),
            width=millimetres(self.rebate_width(made)),
        )

    def bench_work(self, made: PlainCorner, place: BenchPlace) -> tuple[BenchWork, ...]:
        depth, width = self.depth(made), self.rebate_width(made)
        machine = phrase("router table or saw")
        setting = phrase(
            "Bit or blade {height} high, fence {fence} to the far side of the cut. Test cut in scrap of the same "
            "stock: {left} must be left, and a side's end must lie flush.",
            height=millimetres(place.shown("bit_height", depth)),
            fence=millimetres(place.shown("fence", width)),
            left=millimetres(made.corner.flat_thickness - depth),
        )
        cut = phrase(
            "Cut the bands before they are ripped; the sides' ends stay square. Take a wide rebate in two or three "
            "passes, the last one against the fence."
        )
        pins = _pins(place.height)
        pinned = phrase(
            "{pins} pins a corner, through the side into {piece}, the outer ones {edge} from the edges: a "
            "pull on the front then has to shear them. Drill for them while the drawer is dry-clamped.",
            pins=pins,
            piece=place.end.into,
            edge=millimetres(FROM_EDGE, "g"),
        )
        return (
            BenchWork(phrase("Set up for the rebates"), machine, (setting,), is_setting=True, on_bands=True),
            BenchWork(phrase("Cut the rebates"), machine, (cut,), on_bands=True),
            BenchWork(phrase("Drill for pins"), phrase("drill"), (pinned,), minutes=pins * MINUTES_A_PIN),
        )

    @property
    def glue_lines(self) -> tuple[Phrase, ...]:
        return (
            phrase(
                "Dry-fit one drawer first. Spread glue on the rebate and on the sides' end grain, which "
                "soaks it up."
            ),
            phrase("Clamp across front and back, drive the pins, and compare the diagonals."),
        )


def _check_readings(read: Mapping[str, Mm], expected: Mapping[str, Mm], thickness: Mm) -> None:
    if "left" in read and read["left"] >= thickness:
        raise InvalidValueError(
            phrase(
                "left under the rebate of {left}: the flat piece is {thickness} thick, so nothing would be cut: check "
                "the reading and its unit",
                left=millimetres(read["left"], "g"),
                thickness=millimetres(thickness, "g"),
            )
        )
    wanted = expected["width"]
    if "width" in read and not wanted / OFF_BY_MOST <= read["width"] <= OFF_BY_MOST * wanted:
        raise InvalidValueError(
            phrase(
                "a rebate {width} wide cannot be meant where {wanted} is wanted: under half or over "
                "twice as wide is a slip (common practice, no source); check the reading and its unit",
                width=millimetres(read["width"], "g"),
                wanted=millimetres(wanted, "g"),
            )
        )


def _pins(height: Mm) -> int:
    return max(2, 1 + round((height - 2 * FROM_EDGE) / PIN_PITCH))


def _words(changes: Mapping[str, Mm]) -> Iterator[Phrase]:
    height, fence = changes.get("bit_height", 0.0), changes.get("fence", 0.0)
    if height > TOLD_APART:
        yield phrase("Too shallow: raise the bit by {by}.", by=millimetres(height))
    elif height < -TOLD_APART:
        yield phrase("Too deep: lower the bit by {by}.", by=millimetres(-height))
    if fence > TOLD_APART:
        yield phrase("Too narrow: open the fence by {by}.", by=millimetres(fence))
    elif fence < -TOLD_APART:
        yield phrase("Too wide: close the fence by {by}.", by=millimetres(-fence))
    if not any(abs(change) > TOLD_APART for change in changes.values()):
        yield phrase("The test cut is right: nothing to change.")


def _findings(depth: Mm, thickness: Mm, where: str) -> Iterator[Finding]:
    says = {"depth": millimetres(depth, ".1f"), "thickness": millimetres(thickness)}
    most = phrase("Make it at most {most} deep.", most=at_most(DEEPEST_SHARE * thickness))
    if depth >= thickness - SAME_SETTING:
        yield Finding(
            "rebate-through",
            Severity.STOP,
            where,
            phrase("a rebate {depth} deep leaves nothing of stock {thickness} thick.", **says),
            most,
        )
    elif depth > DEEPEST_SHARE * thickness:
        yield Finding(
            "deep-rebate",
            Severity.WARNING,
            where,
            phrase("a rebate {depth} deep leaves a weak tongue of stock {thickness} thick.", **says),
            most,
        )
    elif depth < SHALLOW_SHARE * thickness:
        yield Finding(
            "shallow-rebate",
            Severity.NOTE,
            where,
            phrase(
                "a rebate {depth} deep in stock {thickness} thick gives glue and pins little to hold.", **says
            ),
            phrase("Make it {least} deep or more.", least=millimetres(SHALLOW_SHARE * thickness, ".1f")),
        )


JOINT = Rebate()
