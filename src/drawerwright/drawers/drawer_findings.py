"""What is doubtful about drawers as designed, before any machine is set."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from drawerwright.basics.findings import Finding, Severity, about
from drawerwright.basics.lengths import Mm, at_most, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import Bank, FrontStyle
from drawerwright.drawers.bottom import GROOVE_SHARE, Groove
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.hanger_findings import hanger_findings
from drawerwright.drawers.parts import Part, PartKind, Role
from drawerwright.joints.bit_heights import BY_LAW, BitHeights
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.joint import MadeCorner, joint_named
from drawerwright.joints.setting import set_corner

LOW_BOX: Mm = 50.0
"""Lowest useful box (common practice, no source)."""
LOW_BOX_WORDS = RoughLength("50 mm", "2 in")
NARROW_BOX: Mm = 100.0
"""Less room inside, across or deep, takes no hand (common practice, no source)."""
LEAST_BY_SCOOP: Mm = 20.0
"""Wood that a scoop leaves below it and beside it at the least (common practice, no source)."""
SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def drawer_findings(
    drawer: AssembledDrawer, heights: BitHeights = BY_LAW, *, is_loose: bool = False
) -> tuple[Finding, ...]:
    """Findings about one drawer. `is_loose`: it shares no opening with other fronts."""
    return about(_drawer(drawer, heights, is_loose=is_loose), [drawer.box.name])


def _drawer(drawer: AssembledDrawer, heights: BitHeights, *, is_loose: bool) -> Iterator[Finding]:
    box = drawer.box
    if box.orientation is Orientation.SIDES_FLAT:
        yield Finding(
            "front-is-upright",
            Severity.WARNING,
            box.name,
            phrase("front and back are the upright pieces, so only glue holds the front when you pull."),
            phrase("Make fronts and backs the flat pieces."),
        )
    yield from _beyond_the_sides(box)
    if box.height < LOW_BOX:
        yield Finding(
            "low-box",
            Severity.NOTE,
            box.name,
            phrase("the sides are only {height} high.", height=millimetres(box.height, ".1f")),
            phrase("Boxes under {limit} hold little: make them higher.", limit=LOW_BOX_WORDS)
            if is_loose
            else phrase(
                "Boxes under {limit} hold little: make them higher, or plan fewer fronts.",
                limit=LOW_BOX_WORDS,
            ),
        )
    inside = min(box.inside_width, box.inside_depth)
    if inside < NARROW_BOX:
        yield Finding(
            "narrow-box",
            Severity.WARNING,
            box.name,
            phrase("only {inside} are left inside, from wall to wall.", inside=millimetres(inside, ".1f")),
            phrase(
                "A hand needs {limit}: check width and depth, their decimal signs and their unit.",
                limit=RoughLength("100 mm", "4 in"),
            ),
        )
    if box.bottom is None:
        yield Finding(
            "no-bottom",
            # A stated load has nothing to lie on.
            Severity.NOTE if box.duty.load is None else Severity.WARNING,
            box.name,
            phrase("it has no bottom."),
            phrase("Choose a bottom stock, unless it is to stay open."),
        )
    yield from hanger_findings(box)
    yield from _scoops(drawer)
    yield from _grooves(drawer, heights)


def _scoops(drawer: AssembledDrawer) -> Iterator[Finding]:
    """A scoop must leave wood beside it and below it, and the groove whole."""
    front = drawer.shown_front
    scoop, groove = front.part.scoop, front.part.groove
    if scoop is None:
        return
    (left, _, low), (right, _, high) = front.bounds
    under = groove.top if groove is not None else 0.0
    below, beside = high - low - scoop.depth - under, (right - left - scoop.width) / 2
    if min(below, beside) < LEAST_BY_SCOOP - SEEN:
        yield Finding(
            "scoop-too-large",
            Severity.STOP if min(below, beside) < SEEN else Severity.WARNING,
            front.part.label,
            phrase(
                "the scoop leaves {below} of wood below it and {beside} on each side.",
                below=millimetres(max(below, 0.0), ".1f"),
                beside=millimetres(max(beside, 0.0), ".1f"),
            ),
            phrase("Make it smaller: leave at least {least}.", least=RoughLength("20 mm", "3/4 in")),
        )
    behind = drawer[PartKind.FRONT]
    closed = behind.bounds[1][2] - (high - scoop.depth)
    if behind.part is not front.part and closed > SEEN:
        yield Finding(
            "scoop-closed-behind",
            Severity.WARNING,
            front.part.label,
            phrase(
                "the front of the box stands {closed} high behind the scoop, where the hand should reach through.",
                closed=millimetres(closed, ".1f"),
            ),
            phrase("Make the sides lower, or cut the same scoop into the front of the box."),
        )


def _beyond_the_sides(box: DrawerBox) -> Iterator[Finding]:
    """The cut at a front's ends runs over its whole height, since bands are routed before they are ripped."""
    above, below = (millimetres(reach, ".1f") for reach in (box.front_above, box.front_below))
    if box.front_above > SEEN and box.front_below > SEEN:
        reach = phrase("{above} above the sides and {below} below them", above=above, below=below)
    elif box.front_above > SEEN:
        reach = phrase("{above} above the sides", above=above)
    elif box.front_below > SEEN:
        reach = phrase("{below} below the sides", below=below)
    else:
        return
    remedy = phrase(
        "Use an applied front, plug the cut, or make the sides as high as the front: with less clearance above and "
        "below them, where the runners allow it."
    )
    text = phrase("the front reaches {reach}; the cut runs its full height and shows there.", reach=reach)
    if box.orientation is Orientation.SIDES_FLAT or not joint_named(box.joint).cuts_full_height:
        text = phrase("the front reaches {reach}, and its ends stand free there.", reach=reach)
        remedy = phrase(
            "Use an applied front, or make the sides as high as the front: with less clearance above and below them, "
            "where the runners allow it."
        )
    yield Finding(
        "front-taller-than-sides",
        Severity.WARNING,
        box.name,
        text,
        remedy,
    )


def _grooves(drawer: AssembledDrawer, heights: BitHeights) -> Iterator[Finding]:
    box = drawer.box
    grooved = [(each.part, each.part.groove) for each in drawer.placed if each.part.groove is not None]
    too_deep = _groove_too_deep(box.name, grooved)
    if (
        too_deep is None or not too_deep.stops
    ):  # one that goes through has one limit, not another where it shows
        for part, groove in grooved:
            yield from _groove_that_shows(part, groove, box, heights)
    at_edges: dict[tuple[Groove, Mm], str] = {}
    for part, groove in grooved:
        # What is so of the sides is said of the whole box, and not again of front and back.
        where = box.name if part.kind is PartKind.LEFT else part.label
        known = at_edges.get((groove, part.width))
        at_edges[groove, part.width] = where if known is None or part.kind is PartKind.LEFT else known
    for (groove, width), where in at_edges.items():
        yield from _groove_near_edge(where, groove, width)
    if too_deep is not None:
        yield too_deep


def _groove_too_deep(where: str, grooved: Sequence[tuple[Part, Groove]]) -> Finding | None:
    """What is said of the groove that leaves the least wood behind it; a part without a groove limits none."""
    if not grooved:
        return None
    deepest = max(groove.depth for _part, groove in grooved)
    thinnest = min(part.stock.thickness.value for part, _groove in grooved)
    depth, limit = millimetres(deepest, ".1f"), at_most(GROOVE_SHARE * thinnest)
    if deepest > thinnest - SEEN:
        return Finding(
            "groove-through",
            Severity.STOP,
            where,
            phrase(
                "a groove {depth} deep goes right through wood {thinnest} thick.",
                depth=millimetres(deepest),
                thinnest=millimetres(thinnest),
            ),
            phrase("Make it at most {limit} deep, half the thickness.", limit=limit),
        )
    if deepest > GROOVE_SHARE * thinnest + SEEN:
        return Finding(
            "deep-groove",
            Severity.WARNING,
            where,
            phrase(
                "a groove {depth} deep takes away more than half of {thinnest}.",
                depth=depth,
                thinnest=millimetres(thinnest),
            ),
            phrase("Make it at most {limit} deep.", limit=limit),
        )
    return None


def _groove_that_shows(part: Part, groove: Groove, box: DrawerBox, heights: BitHeights) -> Iterator[Finding]:
    """A groove runs out through the ends of the part; what covers it there is the other piece of the corner."""
    if part.ends[0].role is not Role.FLAT:
        return
    shows = joint_named(box.joint).groove_shows(_made(part, box, heights), groove.depth)
    if shows is not None:
        yield Finding("groove-shows", shows.severity, part.label, shows.text, shows.remedy)


def _made(part: Part, box: DrawerBox, heights: BitHeights) -> MadeCorner:
    """The corner at a part's first end. What covers a groove does not hang on how the fence sum is shared."""
    for plain in box.plain_corners:
        if plain.key == part.ends[0].corner:
            return plain.made
    corner = next(each for each in box.routed_corners if each.key == part.ends[0].corner)
    tight = set_corner(corner.cutter, corner.geometry)
    return replace(tight, bit_height=heights.of(corner.cutter, corner.geometry.flat_thickness))


def _groove_near_edge(where: str, groove: Groove, width: Mm) -> Iterator[Finding]:
    below, above = groove.height, width - groove.top
    if min(below, above) < -SEEN:
        yield Finding(
            "groove-outside",
            Severity.STOP,
            where,
            phrase(
                "the groove would lie {low} to {high} above the lower edge of a part only {size} high.",
                low=millimetres(groove.height, ".1f"),
                high=millimetres(groove.top, ".1f"),
                size=millimetres(width, ".1f"),
            ),
            phrase("Move the groove, or make this part higher."),
        )
        return
    for wood, text in (
        (
            below,
            phrase("only {wood} of wood is left below a groove {width} wide.", **_figures(below, groove)),
        ),
        (
            above,
            phrase("only {wood} of wood is left above a groove {width} wide.", **_figures(above, groove)),
        ),
    ):
        if wood < groove.width - SEEN:
            yield Finding(
                "groove-near-edge",
                Severity.WARNING,
                where,
                text,
                phrase("Leave at least the groove's width between it and the edge."),
            )


def _figures(wood: Mm, groove: Groove) -> dict[str, Any]:
    return {"wood": millimetres(wood, ".1f"), "width": millimetres(groove.width, ".1f")}


def bank_findings(bank: Bank, drawers: Iterable[str]) -> tuple[Finding, ...]:
    """Findings about a bank of these drawers; about its runners: `drawerwright.drawers.runner_findings`."""
    return about(_bank(bank), drawers)


def _bank(bank: Bank) -> Iterator[Finding]:
    if bank.style is FrontStyle.APPLIED and bank.is_inside:
        yield Finding(
            "applied-front-inside",
            Severity.NOTE,
            bank.name,
            phrase(
                "the applied fronts cover the carcase on no side: they sit inside the opening, {left} from its left "
                "side and {right} from its right side.",
                left=millimetres(-bank.overlay.at_left, "g"),
                right=millimetres(-bank.overlay.at_right, "g"),
            )
            if bank.overlay.is_uneven
            else phrase(
                "the applied fronts cover the carcase on no side: they sit inside the opening, {gap} from its sides.",
                gap=millimetres(-bank.overlay.at_left, "g"),
            ),
            phrase("Enter an overlay if they are to cover it."),
        )
