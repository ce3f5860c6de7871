"""A kind of joint: everything that the other rooms ask of one, so that none of them asks which it is.

`Joint` is what drawers, sheets, run, drawings and pages need of any joint: the sections of its two pieces, the length
that an end gains, what is doubtful about it, what is done for it in the shop, and its words. `SelfMating` is one that
a cutter in a router table cuts on both pieces, with settings, test cuts and odds (its figures are
`drawerwright.joints.mating.Mating`); `drawerwright.joints.plain_joint.PlainJoint` is one without such a cutter. The
kinds themselves are in `drawerwright.joints.kinds`, each in a module or a folder of its own;
`drawerwright.joints.registry` finds them.
docs/adding-a-joint.md shows how to add one.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, ClassVar, Generic, Protocol, TypeVar, cast

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.bench_place import BenchPlace
from drawerwright.joints.comb import EdgeLayer, JoinedEdge
from drawerwright.joints.corner import Cuts, Gap, Outline, corner_gaps, flat_section, upright_section
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.holding import Holding, PullOff, cut_face_glued, end_glued
from drawerwright.joints.mating import mating, self_mating_names
from drawerwright.joints.reach import Reach
from drawerwright.joints.readings import (
    CARD_KINDS,
    LEAST_READING,
    RULES,
    FitRange,
    Reading,
    ReadingKind,
    ReadingRule,
)
from drawerwright.joints.registry import kind_named
from drawerwright.joints.section_marks import NamedPlace, Span, Spans
from drawerwright.joints.setting import SAME_SETTING, CornerGeometry, CornerSetting

DEEPEST_PASS: Mm = 12.0
"""What a router takes off an edge in one pass without labouring (common practice, no source)."""
DRAWN_LIP: Mm = 0.1
"""A smaller lip is not dimensioned: no drawing shows it."""


class MadeCorner(Protocol):
    """A corner as it is going to be made: a value, of which others keep what they have found out."""

    def __hash__(self) -> int: ...

    @property
    def kind(self) -> str:
        """The name of its joint."""

    @property
    def corner(self) -> CornerGeometry:
        """What it has to be."""

    @property
    def engagement(self) -> Mm:
        """How far the upright piece reaches into the flat piece from its inner face (mm)."""

    @property
    def seated_lip(self) -> Mm:
        """How far the flat piece's end stands beyond the upright's outer face when it is put together (mm)."""


@dataclass(frozen=True, slots=True)
class Doubtful:
    """What is doubtful and what to do about it, in words."""

    text: Phrase
    remedy: Phrase
    severity: Severity = Severity.WARNING


@dataclass(frozen=True, slots=True)
class BenchWork:
    """What is done at one joint before the drawer is put together, beside what a self-mating cutter does.

    `minutes` for the joint, and what is counted by the shop's rates: `passes` past a cutter and `metres` that they cut.
    `is_setting`: the machine is set for it, once for all joints of which the same is said. `on_bands`: it is done to
    bands before they are ripped, so what it takes is counted by them.
    """

    title: Phrase
    machine: Phrase
    lines: tuple[Phrase, ...]
    minutes: float = 0.0
    passes: float = 0.0
    metres: float = 0.0
    is_setting: bool = False
    on_bands: bool = False


C = TypeVar("C", bound=MadeCorner)


class Joint(ABC, Generic[C]):
    """A kind of joint. Sections and places are in the frame of `drawerwright.joints.law`, in mm."""

    name: ClassVar[str]
    """As job files say it."""
    words: ClassVar[Phrase]
    """What it is called."""
    meaning: ClassVar[Phrase]
    """What tells it from others, short enough for a list to choose from."""
    is_self_mating: ClassVar[bool] = False
    upright_lies: ClassVar[bool] = False
    """Whether the second piece lies beside the first as both are put together, rather than standing at its end."""
    makes_corners: ClassVar[bool] = True
    """Whether drawers can be made with it: one piece stands at the end of the other."""
    bands_flat: ClassVar[bool] = False
    """Whether a band is cut along its edge for several flat pieces, before they are ripped from it."""
    bands_upright: ClassVar[bool] = False
    """The same of upright pieces."""
    passes: ClassVar[int] = 1
    """So often an edge goes past the cutter at the least."""
    cuts_full_height: ClassVar[bool] = True
    """Whether an end that is cut is cut from edge to edge, however much of it the other piece covers."""

    def passes_at(self, depth: Mm) -> int:
        """So often an edge goes past the cutter to be cut so deep."""
        return max(self.passes, math.ceil((depth - SAME_SETTING) / DEEPEST_PASS))

    @abstractmethod
    def flat_outline(self, made: C, length: Mm | None = None) -> Outline:
        """Section of the flat piece, from its end to `length` along it; the first edge is where the drawing stops."""

    @abstractmethod
    def upright_outline(
        self, made: C, lip: Mm = 0.0, engagement: Mm = 0.0, length: Mm | None = None
    ) -> Outline:
        """Section of the upright piece, lying with its outer face at a lip and its tip at an engagement."""

    def flat_layers(self, made: C, edge: JoinedEdge, length: Mm) -> tuple[EdgeLayer, ...]:
        """The flat piece layer by layer along its edge, from the lower one up; most joints are alike all along it."""
        return (EdgeLayer(0.0, edge.width, self.flat_outline(made, length)),)

    def upright_layers(self, made: C, edge: JoinedEdge, length: Mm) -> tuple[EdgeLayer, ...]:
        """The same of the upright piece, with its outer face at x = 0 and its tip at y = 0."""
        return (EdgeLayer(0.0, edge.width, self.upright_outline(made, 0.0, 0.0, length)),)

    def gaps(self, made: C) -> tuple[Gap, ...]:
        """Daylight that is left between the pieces as they are meant to lie."""
        return ()

    def reaches(self, made: C) -> tuple[Mm, Mm]:
        """How far the joint goes along the flat piece from its end, and along the upright piece from its tip (mm)."""
        return made.seated_lip + made.corner.upright_thickness, made.engagement

    def holding(self, made: C, pull: PullOff) -> Holding:
        """What holds it when it is pulled one way; as a rule the upright's end, glued to the flat piece."""
        return end_glued(made.seated_lip, made.corner.upright_thickness, made.engagement)

    def spans(self, made: C) -> Spans:
        """The lengths to write on its section."""
        lip = made.seated_lip
        return Spans(
            above=(Span(0.0, lip, phrase("lip")),) if abs(lip) > DRAWN_LIP else (),
            below=(Span(lip, lip + made.corner.upright_thickness),),
            right=(Span(0.0, made.corner.flat_thickness),),
        )

    def places(self, made: C) -> tuple[NamedPlace, ...]:
        """The places to name on its section."""
        return ()

    @property
    def piece_names(self) -> tuple[Phrase, Phrase]:
        """What its flat and its upright piece are called where nobody says what they are."""
        return phrase("flat piece"), phrase("upright piece")

    def section_words(self, made: C, names: tuple[str, str], style: LengthStyle) -> tuple[Phrase, ...]:
        """Its section for who cannot see it, in sentences."""
        return (
            phrase(
                "Section of a corner. {flat_name} {flat} thick, {upright_name} {upright} thick, "
                "engagement {engagement}, lip {lip}.",
                flat_name=names[0],
                flat=style.written(made.corner.flat_thickness, fine=True),
                upright_name=names[1],
                upright=style.written(made.corner.upright_thickness, fine=True),
                engagement=style.written(made.engagement, fine=True),
                lip=style.written(made.seated_lip, fine=True),
            ),
        )

    def findings(self, made: C, where: str, reach: Reach) -> tuple[Finding, ...]:
        """What is doubtful about a corner.

        Args:
            made: the corner.
            where: names it in the user's words.
            reach: as far as the cutter can stand out of the fence.
        """
        return ()

    def edge_findings(self, made: C, where: str, width: Mm) -> tuple[Finding, ...]:
        """What is doubtful about a corner in an edge of this width (mm): the height that both pieces have."""
        return ()

    def groove_shows(self, made: C, depth: Mm) -> Doubtful | None:
        """What can be seen of a groove of this depth that runs out through the end of the flat piece."""
        return None

    def bench_work(self, made: C, place: BenchPlace) -> tuple[BenchWork, ...]:
        """What one corner at this place needs before it is put together."""
        return ()

    @property
    def holds_flat(self) -> Phrase:
        """How a flat piece goes past the cutter."""
        return phrase("flat on the table, inside face down, edge to the fence")

    @property
    def holds_upright(self) -> Phrase:
        """How an upright piece goes past the cutter."""
        return phrase("standing on its edge, inside face to the fence")

    @property
    def glue_lines(self) -> tuple[Phrase, ...]:
        """How a drawer is put together and glued."""
        return (
            phrase("Dry-fit one drawer first."),
            phrase("Clamp across the sides, and compare the diagonals."),
        )


class SelfMating(Joint[CornerSetting]):
    """A joint whose two pieces one cutter cuts in a router table. With `drawerwright.joints.mating.Mating`, which its
    kinds have too, it is all there is to know of one."""

    is_self_mating = True
    has_lip: ClassVar[bool] = True
    """Whether the fence decides how far one piece stands beyond the other, so that it has to be right."""
    readings: ClassVar[Sequence[ReadingKind]]
    """What can be read on its test pieces and on the corner that they make, in the order of a list."""
    where_to_measure: ClassVar[Phrase]
    """How mid depth and step are measured on its cutter."""
    bands_flat = True
    bands_upright = True

    def lips(self, wanted: Mm, flushness: Mm) -> tuple[Mm, Mm]:
        """Least and greatest lip that is right (mm)."""
        return (wanted - flushness, wanted + flushness) if self.has_lip else (-math.inf, math.inf)

    @property
    def rules(self) -> tuple[ReadingRule, ...]:
        """How its readings are taken."""
        return tuple(RULES[kind] for kind in self.readings)

    @property
    def first_reading(self) -> ReadingKind | None:
        """What a first test cut always shows, one way or the other; None where nothing stands out."""
        return None

    def flat_outline(self, made: CornerSetting, length: Mm | None = None) -> Outline:
        return flat_section(Cuts.of(made), length)

    def upright_outline(
        self, made: CornerSetting, lip: Mm = 0.0, engagement: Mm = 0.0, length: Mm | None = None
    ) -> Outline:
        return upright_section(Cuts.of(made), lip, engagement, length)

    def holding(self, made: CornerSetting, pull: PullOff) -> Holding:
        face = Cuts.of(made).upright_face(made.seated_lip, made.engagement)
        return cut_face_glued(face, made.seated_lip, made.corner.upright_thickness)

    def reaches(self, made: CornerSetting) -> tuple[Mm, Mm]:
        return max(made.fence_flat, super().reaches(made)[0]), made.bit_height

    def spans(self, made: CornerSetting) -> Spans:
        tip, outer = made.engagement, made.seated_lip
        height = Span(tip - made.bit_height, tip, phrase("bit height"), (outer, outer))
        roof = Span(tip, made.corner.flat_thickness, phrase("roof"), (outer, None))
        return replace(super().spans(made), left=(height, roof) if made.roof > 0 else (height,))

    def section_words(
        self, made: CornerSetting, names: tuple[str, str], style: LengthStyle
    ) -> tuple[Phrase, ...]:
        height = phrase("Bit height {height}.", height=style.written(made.bit_height, fine=True))
        return (*super().section_words(made, names, style), height)

    def gaps(self, made: CornerSetting) -> tuple[Gap, ...]:
        return corner_gaps(Cuts.of(made), made.seated_lip, made.engagement)

    @abstractmethod
    def shows_measures(self, setting: CornerSetting) -> Phrase:
        """Where the section of a corner shows mid depth and step of its cutter."""

    @abstractmethod
    def off_height(self, setting: CornerSetting, recommended: Mm) -> str:
        """What follows from a bit height that is not the recommended one (mm)."""

    @property
    def piece_measure(self) -> str:
        """What `piece_size` is called."""
        return phrase("upright length")

    def piece_size(self, setting: CornerSetting, outer: Mm, other_flat: Mm | None, pieces: int) -> Mm:
        """The size to cut a piece to for a finished size over all (mm): the length of an upright piece.

        Args:
            setting: of the joint.
            outer: finished size, over both flat pieces.
            other_flat: thickness of the flat piece at the far end, where it is another.
            pieces: that stand in a row, where a joint has more than one.
        """
        return setting.upright_length(outer, other_flat)

    def figures(self, setting: CornerSetting) -> tuple[tuple[Phrase, Mm], ...]:
        """What follows from a setting for the wood, beside the length of an upright piece: names and lengths (mm)."""
        return ((phrase("lip"), setting.lip),)

    def lip_caution(self, setting: CornerSetting, style: LengthStyle) -> str:
        """What to mind of a lip that is cut here, for the card of a set-up; empty where there is nothing."""
        return ""

    @property
    @abstractmethod
    def misfit_ways(self) -> tuple[str, str]:
        """What a corner shows more of the lower the bit is, and the higher."""

    @abstractmethod
    def misfit_words(self, size: object, is_high: bool) -> str:
        """What a corner does whose misfit has this size, too low or too high."""

    @abstractmethod
    def fit_words(self, fit: FitRange, style: LengthStyle) -> str:
        """When a corner counts as a fit, to follow upon "if"."""


def joint_named(name: str) -> Joint[Any]:
    """The kind of joint with this name.

    Raises:
        InvalidValueError: there is none.
    """
    return cast("Joint[Any]", kind_named(name))


def self_mating(name: str) -> SelfMating:
    """The kind of joint with this name, which one cutter makes.

    Raises:
        InvalidValueError: there is none, or no cutter makes it.
    """
    return cast(SelfMating, mating(name))


def corner_joints() -> tuple[SelfMating, ...]:
    """Every kind of joint by which one cutter makes corners, our own first."""
    return tuple(joint for joint in map(self_mating, self_mating_names()) if joint.makes_corners)


def joint_of(cutter: Cutter) -> SelfMating:
    """The kind of joint that a cutter makes."""
    return self_mating(cutter.kind)


def expected_readings(setting: CornerSetting) -> tuple[Reading, ...]:
    """What calipers should show on the two test pieces of a corner (mm); nothing where no wood or cut is left."""
    found = (
        Reading(rule.piece, rule.what, rule.value(setting), rule.kind)
        for rule in joint_of(setting.cutter).rules
        if rule.kind in CARD_KINDS
    )
    return tuple(reading for reading in found if reading.value > LEAST_READING)
