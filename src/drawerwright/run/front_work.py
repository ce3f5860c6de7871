"""Applied fronts on their boxes: where each sits, as it is marked and as it is said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase, plural
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.drawers.scoop import Scoop
from drawerwright.run.marks import PartName, parts_named
from drawerwright.run.work import CutScoops, FixFalseFront, ScrewOnFronts

SEEN: Mm = 0.01
"""Places that differ by less are one."""


def beyond_box(drawer: AssembledDrawer) -> tuple[Mm, Mm, Mm, Mm] | None:
    """How far an applied front stands beyond the left and the right side, below their lower edges and above their upper
    ones (mm); None where the drawer has none."""
    front = drawer.find(PartKind.APPLIED_FRONT)
    if front is None:
        return None
    (left, _, low), (right, _, high) = front.bounds
    return -left, right - drawer.box.width, -low, high - drawer.box.height


def front_work(drawers: Iterable[AssembledDrawer]) -> list[ScrewOnFronts]:
    """The applied fronts, those together that sit alike on their boxes."""
    alike: dict[tuple[int, ...], list[Part]] = {}
    places: dict[tuple[int, ...], tuple[Mm, Mm, Mm, Mm]] = {}
    for drawer in drawers:
        place = beyond_box(drawer)
        if place is not None:
            key = tuple(round(size / SEEN) for size in place)
            alike.setdefault(key, []).append(drawer[PartKind.APPLIED_FRONT].part)
            places.setdefault(key, place)
    return [
        ScrewOnFronts(tuple(PartName.of(part) for part in parts), *places[key])
        for key, parts in alike.items()
    ]


def scooped(parts: Iterable[Part]) -> dict[Scoop, tuple[Part, ...]]:
    """The fronts that get a scoop, those with the same together."""
    found: dict[Scoop, list[Part]] = {}
    for part in parts:
        if part.scoop is not None:
            found.setdefault(part.scoop, []).append(part)
    return {scoop: tuple(fronts) for scoop, fronts in found.items()}


def scoop_work(parts: Iterable[Part]) -> list[CutScoops]:
    """The scoops, each size once."""
    return [
        CutScoops(tuple(PartName.of(part) for part in fronts), scoop)
        for scoop, fronts in scooped(parts).items()
    ]


def scoop_lines(items: Sequence[CutScoops], style: LengthStyle) -> list[Phrase]:
    """What is said of scoops."""
    lines = [
        phrase(
            "{parts}: {width} wide in the middle of the upper edge, {depth} deep, corners of radius {radius}.",
            parts=parts_named(item.parts),
            width=style.written(item.scoop.width),
            depth=style.written(item.scoop.depth),
            radius=style.written(item.scoop.radius),
        )
        for item in items
    ]
    lines.append(
        phrase(
            "Mark it from the template, saw it near the line, then rout it flush along a template that is screwed or "
            "clamped on; round the edges where the hand goes."
        )
    )
    return lines


def front_lines(items: Sequence[ScrewOnFronts], style: LengthStyle) -> list[Phrase]:
    """What is said of them."""
    lines = [
        plural(
            "Screw on {count} applied front from inside; set the reveals with shims.",
            "Screw on {count} applied fronts from inside; set the reveals with shims.",
            sum(len(item.parts) for item in items),
        ),
    ]
    for item in items:
        words = {
            "parts": parts_named(item.parts),
            "left": style.written(item.left),
            "right": style.written(item.right),
            "below": style.written(item.below),
            "above": style.written(item.above),
        }
        lines.append(
            phrase(
                "{parts}: {left} beyond the box on either side, {below} below the sides and {above} above them.",
                **words,
            )
            if abs(item.left - item.right) < SEEN
            else phrase(
                "{parts}: seen from the front, {left} beyond the box on the left and {right} on the "
                "right, {below} below the sides and {above} above them.",
                **words,
            )
        )
    lines.append(phrase("Check the first one in its opening before you fix the rest."))
    return lines


def false_front_lines(items: Sequence[FixFalseFront], style: LengthStyle) -> list[Phrase]:
    """What is said of fronts without a drawer."""
    count = plural(
        "Screw on {count} false front from behind, to cleats or brackets in the carcase; set the reveals with "
        "shims.",
        "Screw on {count} false fronts from behind, to cleats or brackets in the carcase; set the reveals with "
        "shims.",
        len(items),
    )
    return [count, *(_place_words(item, style) for item in items)]


def _place_words(item: FixFalseFront, style: LengthStyle) -> Phrase:
    across = (
        phrase("its left end {size} inside the opening", size=style.written(item.x))
        if item.x > 0
        else phrase("its left end {size} over the left edge of the opening", size=style.written(-item.x))
    )
    up = (
        phrase("its lower edge {size} above that of the opening", size=style.written(item.z))
        if item.z > 0
        else phrase("its lower edge {size} below that of the opening", size=style.written(-item.z))
    )
    return phrase("{part}: {across}, {up}.", part=parts_named([item.part]), across=across, up=up)
