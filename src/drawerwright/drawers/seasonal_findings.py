"""What is doubtful about drawers because wood moves: gaps that close in the damp season, wood that is held."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, WrittenLength, at_least, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.assembly import AssembledDrawer, PlacedPart
from drawerwright.drawers.bank import Bank, DrawerPlace
from drawerwright.drawers.bottom import GROOVE_SHARE, Bottom, BottomStyle
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.placement import BACK, UP
from drawerwright.drawers.seasons import (
    YearsMoisture,
    YearsMovement,
    moisture_words,
    movement_along,
    slid_bottom_movement,
    thickness_movement,
)
from drawerwright.wood.thickness import Panel

LEAST_GAP: Mm = 0.5
"""What a gap needs in the damp season for a drawer to run (common practice, from memory)."""
LEAST_HOLD: Mm = 2.0
"""How far a bottom must reach into its groove in the dry season (common practice, no source)."""
STRANGE = 1.0
"""Wood that reads so many points of moisture outside its climate moves once it is there (common practice)."""
NOTICED: Mm = 0.2
"""Growth below this is lost in how far the saw is off (common practice, no source)."""
SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def seasonal_findings(drawer: AssembledDrawer) -> Iterator[Finding]:
    """What is doubtful about one drawer by itself."""
    yield from _at_home(drawer)
    yield from moving_bottom_findings(drawer)
    yield from _thickness(drawer)


def seasonal_gap_findings(bank: Bank, drawers: Sequence[AssembledDrawer], tolerance: Mm) -> Iterator[Finding]:
    """What is doubtful about the gaps of a bank, whose carcase keeps its size: the grain of its sides stands.

    A front or a box grows up and down from where it is carried, so it meets what grows down from the drawer above.
    `tolerance`: how far the saw is off (mm).
    """
    places = {place.name: place for place in bank.places()}
    above = _Above(bank.opening.height)
    lowest = min((shown.front.z for shown in bank.shown_fronts()), default=0.0)
    for drawer in sorted(drawers, key=lambda each: -places[each.box.name].front.z):
        place = places[drawer.box.name]
        yield from _front_gap(bank, drawer, place, above, tolerance)
        if place.front.z == lowest:
            yield from _gap_below(bank, drawer, place, tolerance)
        yield from _side_gap(bank, drawer, place, above, tolerance)
        yield from _gap_behind(bank, drawer, place)
        above = _Above.of(bank, drawer, place)


@dataclass(frozen=True, slots=True)
class _Above:
    """What a drawer passes under on its way out: the opening, or the front of the drawer above. Its lower edge in the
    opening, and how far what grows down comes below that by the damp season (mm)."""

    edge: Mm
    grows_down: Mm = 0.0

    @classmethod
    def of(cls, bank: Bank, drawer: AssembledDrawer, place: DrawerPlace) -> _Above:
        front = _grows(bank, drawer, drawer.shown_front, place.front.z - place.box.z)
        sides = _grows(bank, drawer, drawer[PartKind.LEFT], 0.0) - place.below_box
        return cls(place.front.z, max(front, sides))


def _grows(bank: Bank, drawer: AssembledDrawer, part: PlacedPart, edge: Mm) -> Mm:
    """How far an edge of a part moves away from where the drawer is carried by the damp season (mm).

    edge: its height above the sides' lower edges, on which a drawer without a runner line rests.
    """
    moved = movement_along(part, UP, drawer.box.duty.climate)
    if moved is None:
        return 0.0
    return moved.at_damp * abs(edge - (bank.runner.line or 0.0)) / moved.size


def _front_gap(
    bank: Bank, drawer: AssembledDrawer, place: DrawerPlace, above: _Above, tolerance: Mm
) -> Iterator[Finding]:
    grows = _grows(bank, drawer, drawer.shown_front, place.front.top - place.box.z)
    yield from _reveal_closes(
        drawer, above.edge - place.front.top, grows + above.grows_down, tolerance, is_above=True
    )


def _gap_below(bank: Bank, drawer: AssembledDrawer, place: DrawerPlace, tolerance: Mm) -> Iterator[Finding]:
    """The lowest front above the carcase's lower edge, or its rail."""
    grows = _grows(bank, drawer, drawer.shown_front, place.front.z - place.box.z)
    yield from _reveal_closes(drawer, place.front.z, grows, tolerance, is_above=False)


def _reveal_closes(
    drawer: AssembledDrawer, gap: Mm, closes: Mm, tolerance: Mm, *, is_above: bool
) -> Iterator[Finding]:
    moved = movement_along(drawer.shown_front, UP, drawer.box.duty.climate)
    if moved is None or not _closes(gap, closes):
        return
    said = _said(drawer, moved, closes) | {"gap": millimetres(gap, ".1f"), "left": _left(gap - closes)}
    if is_above:
        text = phrase(
            "the {gap} gap above its front, {size} high, closes by {grows} by the damp season ({climate}: "
            "{moisture}): {left} is left. Source: {source}.",
            **said,
        )
    else:
        text = phrase(
            "the {gap} gap below its front, {size} high, closes by {grows} by the damp season ({climate}: "
            "{moisture}): {left} is left. Source: {source}.",
            **said,
        )
    yield Finding(
        "reveal-closes-in-summer",
        Severity.WARNING,
        drawer.box.name,
        text,
        phrase(
            "Cut it for a gap of {needed} today, of which {tolerance} is for the saw; or use plywood or a narrower "
            "front.",
            needed=at_least(closes + LEAST_GAP + tolerance),
            tolerance=millimetres(tolerance, ".1f"),
        ),
        (drawer.box.name,),
    )


def _side_gap(
    bank: Bank, drawer: AssembledDrawer, place: DrawerPlace, above: _Above, tolerance: Mm
) -> Iterator[Finding]:
    """The sides under what they pass on their way out."""
    sides = drawer[PartKind.LEFT]
    moved = movement_along(sides, UP, drawer.box.duty.climate)
    gap = above.edge - place.box.top
    closes = _grows(bank, drawer, sides, place.box.height) + above.grows_down
    if moved is None or not _closes(gap, closes):
        return
    yield Finding(
        "sides-bind-in-summer",
        Severity.WARNING,
        drawer.box.name,
        phrase(
            "the {gap} gap above its sides, {size} high, closes by {grows} by the damp season ({climate}: "
            "{moisture}): {left} is left. Source: {source}.",
            gap=millimetres(gap, ".1f"),
            left=_left(gap - closes),
            **_said(drawer, moved, closes),
        ),
        phrase(
            "Leave {needed} above the sides, of which {tolerance} is for the saw.",
            needed=at_least(closes + LEAST_GAP + tolerance),
            tolerance=millimetres(tolerance, ".1f"),
        ),
        (drawer.box.name,),
    )


def _gap_behind(bank: Bank, drawer: AssembledDrawer, place: DrawerPlace) -> Iterator[Finding]:
    """A bottom that is slid in grows past the back of its box, towards that of the carcase."""
    bottom, placed, moved = drawer.box.bottom, drawer.find(PartKind.BOTTOM), slid_bottom_movement(drawer)
    if bottom is None or placed is None or moved is None:
        return
    gap = bank.opening.depth - place.origin(drawer.box)[1] - placed.bounds[1][1]
    if not _closes(gap, moved.at_damp):
        return
    short = moved.at_damp + LEAST_GAP - gap
    clearance = bottom.clearance + 2 * short  # half of it is at the back
    box = bank.opening.depth - place.origin(drawer.box)[1] - drawer[PartKind.BACK].bounds[1][1]
    says = {"behind": at_least(box + short), "clearance": at_least(clearance)}
    yield Finding(
        "bottom-meets-carcase",
        Severity.WARNING,
        drawer.box.name,
        phrase(
            "its bottom, {size} deep, grows past the back by {grows} by the damp season ({climate}: {moisture}): of "
            "the {gap} gap behind it {left} is left. Source: {source}.",
            gap=millimetres(gap, ".1f"),
            left=_left(gap - moved.at_damp),
            **_said(drawer, moved),
        ),
        phrase(
            "Leave at least {behind} behind the box, give the bottom a clearance of at least {clearance}, or use "
            "plywood for the bottom.",
            **says,
        )
        if bottom.groove_depth - clearance >= LEAST_HOLD
        else phrase("Leave at least {behind} behind the box, or use plywood for the bottom.", **says),
        (drawer.box.name,),
    )


def _left(gap: Mm) -> Phrase | WrittenLength:
    """What is left of a gap; none is told in a word, not as 0.00."""
    return millimetres(gap, ".1f") if gap > SEEN else phrase("nothing")


def _closes(gap: Mm, grows: Mm) -> bool:
    """Whether the year closes a gap further than it may. A gap that is close by design is none of the year's doing, and
    a front that covers the carcase has none."""
    return gap >= 0 and grows > NOTICED and gap - grows < LEAST_GAP - SEEN


def _said(drawer: AssembledDrawer, moved: YearsMovement, grows: Mm | None = None) -> dict[str, object]:
    """What every finding about movement says of it; it grows by all of its movement unless otherwise said (mm)."""
    return {
        "size": millimetres(moved.size, ".0f"),
        "grows": millimetres(moved.at_damp if grows is None else grows, ".1f"),
        "climate": drawer.box.duty.climate.words,
        "moisture": moisture_words(moved),
        "source": moved.source_words,
    }


def moving_bottom_findings(drawer: AssembledDrawer) -> Iterator[Finding]:
    """A bottom's fibre runs from side to side, so solid wood moves from front to back."""
    bottom, placed = drawer.box.bottom, drawer.find(PartKind.BOTTOM)
    if bottom is None or placed is None or bottom.stock.panel is not Panel.SOLID:
        return
    moved = movement_along(placed, BACK, drawer.box.duty.climate)
    if moved is None:
        return
    room = millimetres(bottom.clearance, "g")
    says = {**_said(drawer, moved), "room": room, "range": millimetres(moved.range, ".1f")}
    name = drawer.box.name

    def cannot_move(text: Phrase, remedy: Phrase) -> Finding:
        return Finding("solid-bottom-cannot-move", Severity.WARNING, name, text, remedy, (name,))

    if bottom.style is BottomStyle.FIXED and moved.range > SEEN:
        yield cannot_move(
            phrase(
                "a solid bottom {size} deep moves by {range} over the year ({climate}: {moisture}); fixed all round, "
                "it splits or forces the corners open. Source: {source}.",
                **says,
            ),
            phrase(
                "Slide it into grooves under the back, screw it through slots, or use plywood for the bottom."
            ),
        )
    if bottom.style is not BottomStyle.CAPTURED:
        return
    if moved.at_damp > bottom.clearance + SEEN:
        yield cannot_move(
            phrase(
                "a solid bottom {size} deep grows by {grows} by the damp season ({climate}: {moisture}), but its "
                "grooves give it only {room}: it can force the corners open. Source: {source}.",
                **says,
            ),
            _room_to_grow(drawer, bottom, moved),
        )
    else:
        yield Finding(
            "solid-bottom-held",
            Severity.NOTE,
            name,
            phrase(
                "a solid bottom {size} deep grows by {grows} by the damp season ({climate}: {moisture}); the {room} in "
                "its grooves is enough. Source: {source}.",
                **says,
            ),
            phrase("Do not glue it on any side."),
            (name,),
        )
    yield from _leaves_groove(drawer, bottom, moved)


def _room_to_grow(drawer: AssembledDrawer, bottom: Bottom, moved: YearsMovement) -> Phrase:
    """What lets a captured bottom grow; grooves may take no more of the wood than they may anyhow, and must still hold
    the bottom where it is pushed to one side."""
    deep = moved.at_damp + _shrinks(moved) + LEAST_HOLD
    says = {"grows": at_least(moved.at_damp), "deep": at_least(deep)}
    if deep <= bottom.groove_depth:
        return phrase(
            "Give it a clearance of at least {grows}, slide it in under the back, or use plywood for the bottom.",
            **says,
        )
    if deep <= _deepest_groove(drawer):
        return phrase(
            "Give it a clearance of at least {grows} in grooves at least {deep} deep, slide it in under the back, or "
            "use plywood for the bottom.",
            **says,
        )
    return phrase(
        "Slide it in under the back, or use plywood for the bottom: a groove that gives it {grows} and still holds it "
        "would take more than half of the sides.",
        **says,
    )


def _deepest_groove(drawer: AssembledDrawer) -> Mm:
    return GROOVE_SHARE * min(part.thickness for part in drawer.parts if part.groove is not None)


def _shrinks(moved: YearsMovement) -> Mm:
    """By how much it is ever less than today; wood that is drier today than it will ever be again only grows."""
    return max(-moved.at_dry, 0.0)


def _leaves_groove(drawer: AssembledDrawer, bottom: Bottom, moved: YearsMovement) -> Iterator[Finding]:
    shrinks = _shrinks(moved)
    held = bottom.groove_depth - bottom.clearance - shrinks
    if held >= LEAST_HOLD - SEEN:
        return
    deep = bottom.clearance + shrinks + LEAST_HOLD
    says = {
        **_said(drawer, moved),
        "room": millimetres(bottom.clearance, "g"),
        "shrinks": millimetres(shrinks, ".1f"),
        "held": millimetres(max(held, 0.0), ".1f"),
        "deep": at_least(deep),
    }
    yield Finding(
        "bottom-leaves-groove",
        Severity.WARNING,
        drawer.box.name,
        phrase(
            "a solid bottom {size} deep shrinks by {shrinks} by the dry season ({climate}: {moisture}); pushed to "
            "one side, it then reaches {held} into the other groove. Source: {source}.",
            **says,
        )
        if shrinks > SEEN
        else phrase(
            "with a clearance of {room} a bottom that is pushed to one side reaches only {held} into the other groove.",
            **says,
        ),
        phrase(
            "Make the grooves at least {deep} deep, or pin the bottom in the middle of front and back.",
            **says,
        )
        if deep <= _deepest_groove(drawer)
        else phrase(
            "Slide it in under the back, use plywood for the bottom, or pin it in the middle of front and back: "
            "grooves {deep} deep would take more than half of the sides.",
            **says,
        ),
        (drawer.box.name,),
    )


def _thickness(drawer: AssembledDrawer) -> Iterator[Finding]:
    """A bottom in its groove, which keeps its width: the wood beside it moves along with its grain."""
    bottom = drawer.box.bottom
    if bottom is None or bottom.groove is None:
        return
    moved = thickness_movement(bottom.stock, drawer.box.duty.climate)
    if moved is None or moved.at_damp <= bottom.groove_play + SEEN:
        return
    yield Finding(
        "bottom-binds-in-groove",
        Severity.WARNING,
        drawer.box.name,
        phrase(
            "its bottom, {size} thick, gets {grows} thicker by the damp season ({climate}: {moisture}), but its groove "
            "is only {play} wider. Source: {source}.",
            play=millimetres(bottom.groove_play, "g"),
            **{**_said(drawer, moved), "size": millimetres(moved.size, ".1f")},
        ),
        phrase("Make the groove {grows} wider than the bottom.", grows=at_least(moved.at_damp)),
        (drawer.box.name,),
    )


def _at_home(drawer: AssembledDrawer) -> Iterator[Finding]:
    """Whether the wood that is cut now is as dry as where the drawer will stand."""
    for stock in dict.fromkeys(part.stock for part in drawer.parts):
        moisture = YearsMoisture.of(stock, drawer.box.duty.climate)
        if not moisture.is_read or moisture.dry - STRANGE <= moisture.today <= moisture.damp + STRANGE:
            continue
        yield Finding(
            "wood-not-at-home",
            Severity.WARNING,
            phrase("stock {name}", name=stock.name),
            phrase(
                "it reads {today:.1f} % moisture; where its drawers will stand ({climate}) wood has {dry:.1f} to "
                "{damp:.1f} %.",
                today=moisture.today,
                dry=moisture.dry,
                damp=moisture.damp,
                climate=drawer.box.duty.climate.words,
            ),
            phrase("Stack it with stickers in such air until it reads so, then measure it again and cut."),
            (drawer.box.name,),
            stock.name,
        )
