"""What the carcase needs to know: runner lines and pull holes, measured from one reference edge.

The reference edges are the opening's lower edge for heights and the front's left end for widths.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.loads import Kg, WrittenLoad
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.runners import RunnerKind


@dataclass(frozen=True, slots=True)
class RunnerLine:
    """Height (mm) of a runner's line above the lower edge of its opening, and of the carcase that this is a part of."""

    bank: str
    drawer: str
    height: Mm
    above_carcase: Mm


@dataclass(frozen=True, slots=True)
class RunnerUse:
    """The runners that the drawers of a bank need, a pair each: what their sheet is called, how long they are (mm; None
    where the boxes fill the opening), what a pair carries and costs where its sheet says, and whether the longest that
    fits was taken."""

    bank: str
    name: str
    kind: RunnerKind
    length: Mm | None
    rating: Kg | None
    is_longest: bool
    pairs: int
    price: float | None = None

    @property
    def words(self) -> Phrase:
        """As it stands on a drawing: "slides 21, 450 mm long, carries 45 kg a pair"."""
        said: list[str] = [self.name or self.kind.words]
        if self.length is not None:
            length = millimetres(self.length, "g")
            said.append(
                phrase("{length} long, the longest that fits", length=length)
                if self.is_longest
                else phrase("{length} long", length=length)
            )
        if self.rating is not None:
            said.append(phrase("a pair carries {load}", load=WrittenLoad(self.rating)))
        return joined(said, ", ")


def runner_use(bank: Bank, pairs: int) -> RunnerUse | None:
    """What a bank needs for so many drawers; None where its drawers run on nothing that is bought or made."""
    if bank.runner.kind is RunnerKind.NONE:
        return None
    chosen = bank.runner_length
    return RunnerUse(
        bank.name,
        bank.runner.name,
        bank.runner.kind,
        None if chosen is None else chosen.length,
        None if chosen is None else chosen.rating,
        is_longest=chosen is not None and bank.runner.length is None,
        pairs=pairs,
        price=bank.runner.price if chosen is None or chosen.price is None else chosen.price,
    )


@dataclass(frozen=True, slots=True)
class PullPlace:
    """Where a hole for a pull shows: from the opening's left edge and above its lower edge (mm)."""

    drawer: str
    x: Mm
    z: Mm
    diameter: Mm


@dataclass(frozen=True, slots=True)
class PullHole:
    """A hole in a front: from its left end, above its lower edge, and above the lower edge of the opening and of the
    carcase that this is a part of (mm)."""

    bank: str
    drawer: str
    from_left: Mm
    above_front: Mm
    above_opening: Mm
    above_carcase: Mm
    diameter: Mm


def runner_lines(bank: Bank) -> tuple[RunnerLine, ...]:
    """The line of every runner of a bank, top drawer first; empty where the runner has none."""
    if bank.runner.line is None:
        return ()
    levels = ((place.name, place.box.z + bank.runner.line) for place in bank.places())
    return tuple(RunnerLine(bank.name, name, level, level + bank.opening.z) for name, level in levels)


def pull_places(bank: Bank) -> tuple[PullPlace, ...]:
    """The holes for every pull of a bank as they show, top drawer first."""
    pull = bank.pull
    if pull is None:
        return ()
    shifts = (-pull.spacing / 2, pull.spacing / 2) if pull.spacing else (0.0,)
    return tuple(
        PullPlace(
            place.name,
            place.front.x + place.front.width / 2 + shift,
            place.front.z + place.front.height / 2
            if pull.below_top is None
            else place.front.top - pull.below_top,
            pull.hole,
        )
        for place in bank.places()
        for shift in shifts
    )


def pull_holes(bank: Bank, drawers: Iterable[AssembledDrawer]) -> tuple[PullHole, ...]:
    """The holes for every pull of a bank as they are marked on its fronts; `drawers` are those of the bank to make."""
    places = {place.name: place for place in bank.places()}
    holes = []
    for drawer in drawers:
        origin, front = places[drawer.box.name].origin(drawer.box), drawer.shown_front
        low, _high = front.bounds
        for hole in pull_places(bank):
            if hole.drawer == drawer.box.name:
                from_left, above = hole.x - origin[0] - low[0], hole.z - origin[2] - low[2]
                in_carcase = hole.z + bank.opening.z
                holes.append(
                    PullHole(bank.name, hole.drawer, from_left, above, hole.z, in_carcase, hole.diameter)
                )
    return tuple(holes)
