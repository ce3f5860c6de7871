"""The use case `settings` for a joint without a self-mating cutter: its figures straight from the measures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import LengthStyle, Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.job.one_corner import check_room_left, check_thicknesses
from drawerwright.job.plain_data import bench_data, finding_data, mm
from drawerwright.joints import law
from drawerwright.joints.joint import joint_named
from drawerwright.joints.plain_joint import BenchCorrection, JointMeasure, PlainCorner, plain_joint
from drawerwright.joints.reach import Reach
from drawerwright.joints.setting import CornerGeometry


@dataclass(frozen=True)
class SettledPlainCorner:
    """A corner that no self-mating cutter makes: its figures, what a test cut asks for, and what is doubtful.

    width: of the edge (mm), 0 where nobody said it. upright_length: between two such corners (mm), where a finished
    size was given.
    """

    made: PlainCorner
    width: Mm
    upright_length: Mm | None
    correction: BenchCorrection | None
    findings: tuple[Finding, ...]

    @property
    def data(self) -> dict[str, Any]:
        """As JSON-ready data, lengths in mm."""
        changes = None if self.correction is None else self.correction.changes
        return {
            "kind": self.made.kind,
            "engagement": mm(self.made.engagement),
            **bench_data(self.made, self.width),
            **({} if self.upright_length is None else {"upright_length": mm(self.upright_length)}),
            **({} if changes is None else {"change": {name: mm(size) for name, size in changes.items()}}),
            "findings": [finding_data(finding) for finding in self.findings],
        }

    def text(self, style: LengthStyle) -> str:
        """For a person at the bench."""
        return "\n".join(self._lines(style))

    def _lines(self, style: LengthStyle) -> Iterator[str]:
        yield from (finding.told(style) for finding in self.findings if finding.stops)
        joint = plain_joint(self.made.kind)
        figures = [(figure.words, figure.value) for figure in joint.figures(self.made, self.width)]
        if self.upright_length is not None:
            figures.append((phrase("upright length"), self.upright_length))
        for words, value in figures:
            yield f"{style.say(words):36}{style.show(value, fine=True):>12}"
        yield from (style.say(line) for line in joint.lines(self.made, self.width))
        if self.correction is not None:
            yield from (style.say(line) for line in self.correction.lines)
        yield from (finding.told(style) for finding in self.findings if not finding.stops)


def measures_of(kind: str) -> tuple[JointMeasure, ...] | None:
    """The measures by which a kind without a self-mating cutter is made; None where a cutter makes it.

    Raises:
        InvalidValueError: there is no such kind.
    """
    return None if joint_named(kind).is_self_mating else plain_joint(kind).measures


def settle_plain_corner(
    kind: str,
    corner: CornerGeometry,
    given: Mapping[str, Mm],
    *,
    width: Mm | None = None,
    outer: Mm | None = None,
    other_flat: Mm | None = None,
    read: Mapping[str, Mm] | None = None,
) -> SettledPlainCorner:
    """Figures of one corner.

    Args:
        kind: a joint without a self-mating cutter.
        corner: measured thicknesses and lip.
        given: measures of the joint that are to be other than usual (mm).
        width: of the edge: the height of the drawer (mm).
        outer: finished size over both flat pieces (mm).
        other_flat: thickness of the flat piece at the far end (mm), when it differs.
        read: readings of a test cut by their names (mm).

    Raises:
        InvalidValueError: a measure or a reading cannot be meant, the joint needs a width, or the outer size leaves
            nothing between the flat pieces.
    """
    joint = plain_joint(kind)
    check_thicknesses(corner.flat_thickness, corner.upright_thickness)
    if width is not None and width <= 0:
        raise InvalidValueError(
            phrase("the width of the edge must be more than 0 mm, not {value}", value=millimetres(width, "g"))
        )
    if width is None and joint.needs_width:
        raise InvalidValueError(
            phrase(
                "a {name} joint depends on how wide the edge is: give --width, the height of the drawer",
                name=joint.name,
            )
        )
    made = PlainCorner(kind, corner, joint.checked(given))
    edge = width or 0.0
    length = None
    if outer is not None:
        check_room_left(outer, corner.flat_thickness, other_flat)
        there = corner.flat_thickness if other_flat is None else other_flat
        far = PlainCorner(kind, CornerGeometry(there, corner.upright_thickness), made.measures)
        ends = [(corner.flat_thickness, made.engagement), (there, far.engagement)]
        length = law.upright_length(outer, ends)
    return SettledPlainCorner(
        made,
        edge,
        length,
        joint.correction(made, edge, read) if read else None,
        (
            *joint.findings(made, "corner", Reach()),
            *(joint.edge_findings(made, "corner", edge) if width is not None else ()),
        ),
    )
