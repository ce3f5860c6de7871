"""A joint without a self-mating cutter: butted, rebated, in fingers. What has to be known of it is a few measures.

A kind says which measures it has (`PlainJoint.measures`); a job file or a command gives those that are to differ from
the usual. `PlainCorner` carries them, so that one kind serves corners that are made differently.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, TypeAlias

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.corner import Outline
from drawerwright.joints.jigs import JigStrip
from drawerwright.joints.joint import Joint
from drawerwright.joints.loose_piece import LoosePiece
from drawerwright.joints.registry import all_kinds, kind_named
from drawerwright.joints.setting import CornerGeometry

CUT_IN_A_CARRIER = phrase(
    "Fingers: cut no piece freehand. Clamp each in a jig or carrier that slides along the fence or in the mitre slot, "
    "with scrap behind the cut; cover the cutter where it comes out, and keep both hands on the jig, well clear of it."
)
"""Of joints that are cut piece by piece at the router table or the saw (common practice, no source)."""

TOLD_APART: Mm = 0.02
"""Readings of a test cut that are closer than this are one: what calipers tell (common practice, no source)."""

Measures: TypeAlias = tuple[tuple[str, Mm], ...]
"""Measures of a joint that were given, by their names (mm)."""


@dataclass(frozen=True, slots=True)
class JointMeasure:
    """A length by which a kind of joint is made in different ways: as files and commands say it, and in words.

    `may_be_none`: 0 mm is allowed.
    """

    name: str
    words: Phrase
    hint: Phrase
    may_be_none: bool = False


@dataclass(frozen=True, slots=True)
class BenchFigure:
    """A length that follows for the bench: its name in data, what it is called, and the value (mm).

    `from_edge`: it is counted from the lower edge of the flat piece, which may reach below the joint.
    """

    name: str
    words: Phrase
    value: Mm
    from_edge: bool = False

    def at(self, low: Mm) -> Mm:
        """What it is on a flat piece whose joint begins so high above its lower edge (mm)."""
        return self.value + low if self.from_edge else self.value


@dataclass(frozen=True, slots=True)
class BenchReading:
    """What is read on a test cut: its name for a command, and in words; `is_signed`: it may be less than 0 mm."""

    name: str
    words: Phrase
    is_signed: bool = False


@dataclass(frozen=True, slots=True)
class BenchSetting:
    """What is set for a joint: the figure that it sets, what it is called, and the change of a test cut that moves it.

    `way` is 1 where such a change is added to what was set, and -1 where it is taken off.
    """

    figure: str
    words: Phrase
    change: str
    way: int = 1


@dataclass(frozen=True, slots=True)
class BenchCorrection:
    """What a test cut asks for: changes by their names (mm), and in sentences."""

    changes: Mapping[str, Mm]
    lines: tuple[Phrase, ...]


@dataclass(frozen=True, slots=True)
class PlainCorner:
    """A corner of this kind of joint, which no self-mating cutter makes; `measures` are those that were given."""

    kind: str
    corner: CornerGeometry
    measures: Measures = ()

    @property
    def engagement(self) -> Mm:
        """How far the upright piece reaches into the flat piece (mm)."""
        return plain_joint(self.kind).reach(self)

    @property
    def seated_lip(self) -> Mm:
        """The lip is what was wanted (mm)."""
        return self.corner.lip


@dataclass(frozen=True, slots=True)
class ChosenJoint:
    """A joint that was chosen for a drawer, with the measures that were given for it."""

    joint: PlainJoint
    measures: Measures = ()


class PlainJoint(Joint[PlainCorner]):
    """A joint without a self-mating cutter: its sections follow from the thickness of its pieces and its own measures.
    Where a kind says nothing else, both ends are square."""

    said: ClassVar[tuple[str, ...]] = ()
    """What else people write for it in a table, in English or German, in small letters."""
    measures: ClassVar[tuple[JointMeasure, ...]] = ()
    """By which it is made in different ways."""
    readings: ClassVar[tuple[BenchReading, ...]] = ()
    """What is read on a test cut of it."""
    settings: ClassVar[tuple[BenchSetting, ...]] = ()
    """What is set for it, and a test cut corrects; each sets one of its figures."""
    cautions: ClassVar[tuple[Phrase, ...]] = ()
    """What can hurt where it is cut."""
    needs_width: ClassVar[bool] = False
    """Whether its figures depend on how wide the edge is: the height of the drawer."""

    def usual(self, name: str, corner: CornerGeometry) -> Mm:
        """A measure that nobody gave (mm)."""
        raise KeyError(name)

    def measure(self, made: PlainCorner, name: str) -> Mm:
        """A measure of a corner: as given, or the usual one (mm)."""
        given = dict(made.measures).get(name)
        return self.usual(name, made.corner) if given is None else given

    def checked(self, given: Mapping[str, Mm]) -> Measures:
        """Measures as corners carry them, in the kind's own order.

        Raises:
            InvalidValueError: the kind has no such measure, or one is less than it can be.
        """
        known = {measure.name: measure for measure in self.measures}
        for name, value in given.items():
            if name not in known:
                raise InvalidValueError(_no_such(self, name))
            if value < 0 or (value == 0 and not known[name].may_be_none):
                raise InvalidValueError(_too_small(known[name], value))
        return tuple((name, given[name]) for name in known if name in given)

    def reach(self, made: PlainCorner) -> Mm:
        """How far the upright piece reaches into the flat piece from its inner face (mm)."""
        return 0.0

    def figures(self, made: PlainCorner, width: Mm) -> tuple[BenchFigure, ...]:
        """What follows for the bench in an edge of this width (mm), the most important first.

        Raises:
            InvalidValueError: the joint cannot be made so.
        """
        return ()

    def data(self, made: PlainCorner, width: Mm) -> dict[str, Any]:
        """What files and other programs are told of it beside its figures, lengths in mm."""
        return {}

    def lines(self, made: PlainCorner, width: Mm) -> tuple[Phrase, ...]:
        """What else is to be said of it, in sentences."""
        return ()

    def jig(self, made: PlainCorner, width: Mm) -> tuple[JigStrip, ...]:
        """What is laid out with a jig: the jig itself first, then the edges of both pieces."""
        return ()

    def test_pieces(self, made: PlainCorner, width: Mm) -> tuple[LoosePiece, LoosePiece]:
        """The flat and the upright test piece as they lie on the bench, with what is read on each."""
        flat, upright = self.piece_names
        return (
            LoosePiece(flat, self.flat_outline(made), 0.0),
            LoosePiece(upright, self.upright_outline(made), 90.0),
        )

    def edge_cut(self, made: PlainCorner) -> tuple[Mm, ...]:
        """What is cut along the edge of a band, in figures: bands of which they are the same are cut alike."""
        return ()

    def edge_words(self, made: PlainCorner) -> Phrase:
        """The same in words."""
        return self.words

    @property
    def remedies(self) -> tuple[Phrase, ...]:
        """What to do when a test cut is off, in sentences."""
        return ()

    def expected(self, made: PlainCorner, width: Mm) -> Mapping[str, Mm]:
        """What its readings are when all is right (mm)."""
        return {}

    def changes(self, made: PlainCorner, width: Mm, read: Mapping[str, Mm]) -> Mapping[str, Mm]:
        """What readings of a test cut, by their names (mm), ask for: changes by their names (mm).

        Raises:
            InvalidValueError: a reading cannot come from such a cut.
        """
        return {}

    def told(self, changes: Mapping[str, Mm]) -> tuple[Phrase, ...]:
        """Such changes in sentences: too tight, too loose, and what to do."""
        return ()

    def correction(self, made: PlainCorner, width: Mm, read: Mapping[str, Mm]) -> BenchCorrection:
        """What readings of a test cut, by their names (mm), ask for.

        Raises:
            InvalidValueError: the kind has no such reading, or it cannot come from such a cut.
        """
        self.check_named(read)
        for reading in self.readings:
            if not reading.is_signed and read.get(reading.name, 1.0) <= 0:
                raise InvalidValueError(
                    phrase(
                        "the reading {name} must be more than 0 mm, not {value}",
                        name=reading.name,
                        value=millimetres(read[reading.name], "g"),
                    )
                )
        changes = self.changes(made, width, read)
        return BenchCorrection(changes, self.told(changes))

    def check_named(self, read: Collection[str]) -> None:
        """See whether the kind has readings of these names.

        Raises:
            InvalidValueError: it has not.
        """
        known = [reading.name for reading in self.readings]
        for name in read:
            if name not in known:
                raise InvalidValueError(
                    phrase(
                        "a test cut of a {kind} joint has no reading {name!r}; it has {known}",
                        kind=self.name,
                        name=name,
                        known=", ".join(known) or phrase("none"),
                    )
                )

    def flat_outline(self, made: PlainCorner, length: Mm | None = None) -> Outline:
        thickness = made.corner.flat_thickness
        far = length or made.corner.upright_thickness + 2 * thickness
        return (far, 0.0), (far, thickness), (0.0, thickness), (0.0, 0.0)

    def upright_outline(
        self, made: PlainCorner, lip: Mm = 0.0, engagement: Mm = 0.0, length: Mm | None = None
    ) -> Outline:
        inside = lip + made.corner.upright_thickness
        foot = engagement - (length or 2 * made.corner.upright_thickness)
        return (lip, foot), (inside, foot), (inside, engagement), (lip, engagement)


def _too_small(measure: JointMeasure, value: Mm) -> Phrase:
    says = {"name": measure.name, "value": millimetres(value, "g")}
    if measure.may_be_none:
        return phrase("{name} must be 0 mm or more, not {value}", **says)
    return phrase("{name} must be more than 0 mm, not {value}", **says)


def _no_such(joint: PlainJoint, name: str) -> Phrase:
    if not joint.measures:
        return phrase(
            "a {kind} joint has no measure of its own: take {name!r} out", kind=joint.name, name=name
        )
    return phrase(
        "a {kind} joint has no measure {name!r}; it has {known}",
        kind=joint.name,
        name=name,
        known=", ".join(measure.name for measure in joint.measures),
    )


def plain_joint(name: str) -> PlainJoint:
    """The kind of joint with this name, which needs no self-mating cutter.

    Raises:
        InvalidValueError: there is none, or it needs one.
    """
    joint = kind_named(name, lambda: tuple(kind.name for kind in plain_joints()))
    if not isinstance(joint, PlainJoint):
        raise InvalidValueError(
            phrase(
                "a {name} joint is cut with a self-mating cutter: give it as that cutter's "
                "kind, and name the cutter",
                name=name,
            )
        )
    return joint


def plain_joints() -> tuple[PlainJoint, ...]:
    """Every kind of joint that needs no self-mating cutter, our own first."""
    return tuple(kind for kind in all_kinds() if isinstance(kind, PlainJoint))
