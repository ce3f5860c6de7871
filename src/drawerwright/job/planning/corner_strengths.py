"""How strong the corners of a job's drawers are: ranges, the plane that decides, an order where figures are assumed.

A comparative estimate, not a rating: no joint was tested. docs/strength.md says how it is reckoned.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from drawerwright.basics.lengths import LengthStyle, kept_length
from drawerwright.basics.loads import InPounds
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.parts import PartKind
from drawerwright.job.plain_data import Data, mm
from drawerwright.job.planning.draft import JobDraft
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.joint import joint_named
from drawerwright.joints.profile import Point
from drawerwright.strength.assembled_corners import EndStrength, end_strengths
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.corner_strength import Parting
from drawerwright.wood.sourced import Source

STRENGTH_VERSION = 1
ESTIMATE = phrase("A comparative estimate, not a rating: no joint was tested.")
LINES_OF_ACTION = {
    "pull_off": phrase("along the sides, shared by both, on their centre lines; the corners free to turn"),
    "racking": phrase("sideways at one end, the other end held; what the bottom adds is not counted"),
    "drop": phrase(
        "energy of a load pressing evenly along the end that stops it; wood is elastic, nothing else gives way"
    ),
}
ONLY_ORDER = phrase(
    "Plywood's strengths are assumed, so it gets a ranking and the plane that fails first, not newtons."
)
_DIGITS = 2
_PIECES = {
    PartKind.FRONT: phrase("front"),
    PartKind.BACK: phrase("back"),
    PartKind.LEFT: phrase("side"),
}
_SIDES = {
    PartKind.LEFT: phrase("front, at the left side"),
    PartKind.RIGHT: phrase("front, at the right side"),
}


@dataclass(frozen=True, slots=True)
class JointStrength:
    """One end of a drawer, with its place in the order of the job: 1 is the weakest."""

    known: EndStrength
    rank: int

    @property
    def weak_plane(self) -> Phrase:
        """Where it parts, and in which piece."""
        return self._plane_words(self.known.weakest)

    @property
    def weak_plane_unglued(self) -> Phrase | None:
        """The same once no glue helps; None where nothing holds then."""
        bare = self.known.corner.bare
        return self._plane_words(bare[0]) if bare else None

    def _plane_words(self, parting: Parting) -> Phrase:
        piece = self.known.piece_of(parting)
        if piece is None:
            return parting.where
        return phrase("{plane} ({piece})", plane=parting.where, piece=_PIECES[piece])

    @property
    def joint(self) -> Phrase:
        """What its joint is called."""
        return joint_named(self.known.key.joint).words

    @property
    def at(self) -> Phrase:
        """At which end of the drawer, and at which side where the front's two corners differ."""
        side = self.known.side
        return _PIECES[self.known.piece] if side is None else _SIDES[side]

    @property
    def drawer(self) -> str:
        """Whose it is."""
        return self.known.drawer

    @property
    def pull_off(self) -> Bounds | None:
        """Force along the sides that pulls this end off (N, `low` and `high`); None where only an order is known."""
        return self.known.pull_off

    @property
    def pull_off_unglued(self) -> Bounds | None:
        """As `pull_off`, by a hook alone; None where nothing holds without glue."""
        return self.known.pull_off_unglued

    @property
    def racking(self) -> Bounds | None:
        """Sideways force at one end that opens its corners, the other end held (N); as `pull_off`."""
        return self.known.racking

    @property
    def drop(self) -> Bounds | None:
        """Energy of a load that this end stops until it comes off (J); as `pull_off`."""
        return self.known.drop

    @property
    def in_words(self) -> tuple[Phrase, ...]:
        """Pull-off, racking and drop; nothing where only an order is known."""
        ranges = ((self.pull_off, False), (self.racking, False), (self.drop, True))
        return tuple(
            bounds_words(bounds, is_energy=is_energy) for bounds, is_energy in ranges if bounds is not None
        )

    @property
    def unglued_words(self) -> Phrase:
        """Pull-off by the hook alone."""
        return phrase("nothing") if self.pull_off_unglued is None else bounds_words(self.pull_off_unglued)

    @property
    def without_glue(self) -> Phrase:
        """What holds once the glue has gone."""
        plane = self.weak_plane_unglued
        if plane is None:
            return phrase("nothing holds without glue")
        if self.known.corner.slips:
            return phrase("without glue, if the side cannot slide out: {plane}", plane=plane)
        return phrase("without glue: {plane}", plane=plane)

    @property
    def same(self) -> tuple[object, ...]:
        """What another has to have in common with it to be told in one line."""
        return (
            self.at,
            self.joint,
            self.rank,
            kept_length(self.known.end.height),
            self.weak_plane,
            self.in_words,
        )

    @property
    def data(self) -> Data:
        """As plain data."""
        known = self.known
        return {
            "height": mm(known.end.height),
            "pull_off": bounds_data(self.pull_off),
            "pull_off_without_glue": bounds_data(self.pull_off_unglued),
            "racking": bounds_data(self.racking),
            "drop": bounds_data(self.drop),
            "weak_plane": self.weak_plane,
            "weak_plane_without_glue": self.weak_plane_unglued,
            "rank": self.rank,
            "holds_without_glue": bool(known.corner.bare) and not known.corner.slips,
            "beyond_table": known.corner.outside,
            "sources": [
                {"title": source.title, "provenance": str(source.provenance)} for source in known.sources
            ],
        }


_COLUMNS = (
    *("at", "joint", "height", "pull_off", "pull_off_without_glue", "racking", "drop", "weak_plane"),
    *("weak_plane_without_glue", "rank", "holds_without_glue", "beyond_table", "sources"),
)
"""What is told of every end, null where it is not known."""


@dataclass(frozen=True, slots=True)
class DrawerJoint:
    """An end of a drawer and its joint."""

    drawer: str
    piece: PartKind
    side: PartKind | None
    joint: str

    @classmethod
    def of(cls, end: EndStrength) -> DrawerJoint:
        """That of an end whose strength is known."""
        return cls(end.drawer, end.piece, end.side, end.key.joint)

    @property
    def data(self) -> Data:
        """What is told of it in any case."""
        side = {} if self.side is None else {"side": str(self.side)}
        return {"at": str(self.piece), **side, "joint": self.joint}


@dataclass(frozen=True, slots=True)
class MarkedPlane:
    """Where a corner parts first, for its drawing: the line, and what the caption says of it."""

    line: tuple[Point, ...] = ()
    words: Phrase | None = None

    def caption(self, name: str) -> str:
        """What a corner is called, and what is marked in its drawing."""
        return name if self.words is None else joined((name, self.words), "; ")


@dataclass(frozen=True)
class JobStrengths:
    """The corners of every drawer of a job; `ends` are all that the drawers have, those of boards of which no strength
    is known as well."""

    joints: tuple[JointStrength, ...]
    ends: tuple[DrawerJoint, ...]

    @cached_property
    def _known(self) -> dict[DrawerJoint, JointStrength]:
        return {DrawerJoint.of(joint.known): joint for joint in self.joints}

    @property
    def unknown(self) -> tuple[str, ...]:
        """Drawers with ends of which no strength is known."""
        return tuple(dict.fromkeys(end.drawer for end in self.ends if end not in self._known))

    def of_corner(self, key: CornerKey) -> tuple[JointStrength, ...]:
        """Those that are made with one corner of the job."""
        return tuple(joint for joint in self.joints if joint.known.key == key)

    def marked(self, key: CornerKey) -> MarkedPlane:
        """Where the corner parts first; nothing where that is not known."""
        known = self.of_corner(key)
        if not known:
            return MarkedPlane()
        weakest = known[0].known.weakest
        return MarkedPlane(weakest.line, phrase("marked, weakest: {plane}", plane=weakest.where))

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """Where their figures are from."""
        return tuple(dict.fromkeys(source for joint in self.joints for source in joint.known.sources))

    @property
    def notes(self) -> tuple[Phrase, ...]:
        """What has to be said with any of its figures."""
        notes = [ESTIMATE]
        if any(not joint.known.in_newtons for joint in self.joints):
            notes.append(ONLY_ORDER)
        if beyond := tuple(
            dict.fromkeys(joint.drawer for joint in self.joints if joint.known.corner.outside)
        ):
            notes.append(
                phrase(
                    "{drawers}: the section lies beyond the table of factors; the nearest one is used.",
                    drawers=names_in_row(beyond),
                )
            )
        if self.unknown:
            notes.append(
                phrase(
                    "{drawers}: the strength of the board is not known.", drawers=names_in_row(self.unknown)
                )
            )
        return tuple(notes)

    @property
    def rows(self) -> tuple[AlikeJoints, ...]:
        """Joints that are told alike, each once with its drawers."""
        return alike_joints(self.joints)

    @property
    def data(self) -> Data:
        """As plain data."""
        drawers: dict[str, list[Data]] = {}
        for end in self.ends:
            joint = self._known.get(end)
            data = dict.fromkeys(_COLUMNS) | end.data | ({} if joint is None else joint.data)
            drawers.setdefault(end.drawer, []).append(data)
        return {
            "format": "drawerwright-strength",
            "version": STRENGTH_VERSION,
            "units": {"force": "N", "energy": "J", "length": "mm"},
            "estimate": ESTIMATE,
            "lines_of_action": dict(LINES_OF_ACTION),
            "drawers": [{"drawer": drawer, "joints": joints} for drawer, joints in drawers.items()],
        }

    def text(self, style: LengthStyle) -> Phrase:
        """For the terminal."""
        lines: list[str] = []
        for row in self.rows:
            joint = row.joint
            head = phrase(
                "{drawers} {at}, {joint} over {height}. Weak plane: {plane}; {glue}.",
                drawers=row.drawers,
                at=joint.at,
                joint=joint.joint,
                height=style.show(joint.known.end.height),
                plane=joint.weak_plane,
                glue=joint.without_glue,
            )
            lines.append(head)
            lines.append(joined(("-", figures_words(joint)), " "))
        lines += [
            phrase("Pull off: {line}.", line=LINES_OF_ACTION["pull_off"]),
            phrase("Racking: {line}.", line=LINES_OF_ACTION["racking"]),
            phrase("Drop: {line}.", line=LINES_OF_ACTION["drop"]),
            *self.notes,
            phrase("Sources: {sources}.", sources=joined([source.words for source in self.sources], "; ")),
        ]
        return joined(lines, "\n")


@dataclass(frozen=True, slots=True)
class AlikeJoints:
    """Joints that are told alike: their drawers, in a row, and one of them."""

    drawers: str
    joint: JointStrength


def alike_joints(joints: Iterable[JointStrength]) -> tuple[AlikeJoints, ...]:
    """Joints that are told alike, each once."""
    found: dict[tuple[object, ...], list[JointStrength]] = {}
    for joint in joints:
        found.setdefault(joint.same, []).append(joint)
    return tuple(
        AlikeJoints(names_in_row(list(dict.fromkeys(joint.known.drawer for joint in alike))), alike[0])
        for alike in found.values()
    )


def figures_words(joint: JointStrength) -> Phrase:
    """The ranges of a joint, or its place in the order where they are not shown."""
    if not joint.in_words:
        return phrase("rank {rank} in the job, 1 being the weakest", rank=joint.rank)
    figures = phrase(
        "pull off {pull}, racking {racking}, drop {drop}",
        pull=force_words(joint.pull_off),
        racking=force_words(joint.racking),
        drop=force_words(joint.drop, is_energy=True),
    )
    if joint.pull_off_unglued is None:
        return figures
    bare = phrase("without glue pull off {pull}", pull=force_words(joint.pull_off_unglued))
    return joined((figures, bare), "; ")


def bounds_words(bounds: Bounds, *, is_energy: bool = False) -> Phrase:
    """Both ends (N, or J of an energy) with no more digits than they deserve; in pounds too for who reads inches."""
    pounds = InPounds(bounds.low, bounds.high, is_energy)
    return Phrase("{ends}{in_pounds}", {"ends": _ends(bounds), "in_pounds": pounds})


def force_words(bounds: Bounds | None, *, is_energy: bool = False) -> Phrase:
    """The same with its unit; nothing where nothing is known."""
    if bounds is None:
        return phrase("nothing")
    pounds = InPounds(bounds.low, bounds.high, is_energy)
    unit = "J" if is_energy else "N"
    return Phrase("{ends} {unit}{in_pounds}", {"ends": _ends(bounds), "unit": unit, "in_pounds": pounds})


def _ends(bounds: Bounds) -> Phrase:
    """Both ends as they are shown, once where that is the same."""
    low, high = rounded(bounds.low), rounded(bounds.high)
    return (
        Phrase("{low:g}", {"low": low}) if low == high else phrase("{low:g} to {high:g}", low=low, high=high)
    )


def bounds_data(bounds: Bounds | None) -> Data | None:
    """A range as plain data."""
    return None if bounds is None else {"low": rounded(bounds.low), "high": rounded(bounds.high)}


def rounded(value: float) -> float:
    """A value with two digits that count."""
    return float(f"{value:.{_DIGITS}g}")


def job_strengths(draft: JobDraft) -> JobStrengths:
    """How strong the corners of a job are."""
    known: list[EndStrength] = []
    ends: list[DrawerJoint] = []
    made = draft.made
    for drawer in draft.assembled:
        known += end_strengths(drawer, made)
        for piece, side, corner in drawer.box.different_corners:
            ends.append(DrawerJoint(drawer.box.name, piece, side, corner.key.joint))
    return JobStrengths(tuple(_ranked(known)), tuple(ends))


def _ranked(ends: Iterable[EndStrength]) -> list[JointStrength]:
    """In their order, each with its place: those that come out alike share one."""
    ends = tuple(ends)
    levels = sorted({rounded(end.end.pull_off.middle) for end in ends})
    ranks = {level: rank for rank, level in enumerate(levels, start=1)}
    return [JointStrength(end, ranks[rounded(end.end.pull_off.middle)]) for end in ends]
