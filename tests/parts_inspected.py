"""The parts that a shop has made, held against the parts list: every difference in words.

What a part must be like is said by the parts list and by how the parts of a drawer stand to each other: seen from the
front, a front's and a back's first end is the left one, a side's first end is the front one, and every inside face
looks into the drawer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from drawerwright.drawers.parts import EndCut, Part, PartKind
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.marks import PartName
from virtual_boards import Direction, Piece, back, cross
from virtual_shop import VirtualShop

SAW = 0.051
"""How far a sawn size may be off: half a mark of the saw's scale (mm)."""
DIALLED = 0.0051
"""Settings that no gauge tells apart (mm)."""


def faults(plan: JobPlan, shop: VirtualShop) -> list[str]:
    """What is wrong with the parts of a shop that has carried out a plan; nothing where they are right."""
    wanted = {PartName.of(part): part for part in plan.parts}
    found = [f"{name.drawer} {name.kind} is missing" for name in wanted if name not in shop.parts]
    found += [f"{name.drawer} {name.kind} is no part of the job" for name in shop.parts if name not in wanted]
    if len(wanted) < len(plan.parts):
        found.append("two parts of the job have one name")
    for name, part in wanted.items():
        if name in shop.parts:
            found += [f"{part.label}: {fault}" for fault in _faults_of(part, shop.parts[name], plan)]
    return found


def _faults_of(part: Part, piece: Piece, plan: JobPlan) -> Iterator[str]:
    if piece.stock != part.stock.name:
        yield f"is made of {piece.stock}"
    if abs(piece.length - part.length) > SAW or abs(piece.width - part.width) > SAW:
        yield f"is {piece.length:.2f} by {piece.width:.2f}, not {part.length:.2f} by {part.width:.2f}"
    if (cuts := sum(len(cuts) for cuts in piece.routed.values())) != sum(end.is_routed for end in part.ends):
        yield f"was routed {cuts} times, has {sum(end.is_routed for end in part.ends)} ends"
    if len(piece.grooves) != (part.groove is not None):
        yield f"has {len(piece.grooves)} grooves"
    for groove in piece.grooves:
        wanted = part.groove
        if wanted is not None and not all(
            abs(made - said) < DIALLED
            for made, said in (
                (groove.height, wanted.height),
                (groove.width, wanted.width),
                (groove.depth, wanted.depth),
            )
        ):
            yield f"has the groove {groove}"
    yield from _drilled(part, piece, plan)
    lowers = [piece.lower] if piece.lower is not None else [piece.across, back(piece.across)]
    if any(groove.edge != piece.lower for groove in piece.grooves):
        yield "has its groove along the upper edge"
    if part.kind not in (PartKind.BOTTOM, PartKind.APPLIED_FRONT):
        ways = [list(_stands(part, piece, lower, plan)) for lower in lowers]
        if all(ways):
            yield min(ways, key=len)[0]
    elif sum(piece.banded.values()) != part.banded_long_edges + part.banded_short_edges:
        yield f"has edging on {sum(piece.banded.values())} edges"


def _stands(part: Part, piece: Piece, lower: Direction, plan: JobPlan) -> Iterator[str]:
    """What is wrong when the part stands in its drawer on this edge."""
    first = _first_end(part.kind, piece, lower)
    for end, direction in zip(part.ends, (first, back(first)), strict=True):
        cuts = piece.routed.get(direction, [])
        if not end.is_routed and not cuts:
            continue
        if len(cuts) != 1:
            yield f"has an end that was routed {len(cuts)} times"
        elif not _is_cut_as(end, cuts[0], plan):
            yield f"its {'first' if direction == first else 'second'} end was cut at {cuts[0]}"
    banded = {back(lower)} if part.banded_long_edges and part.banding else set()
    if piece.banded != Counter(banded):
        yield f"has edging at {dict(piece.banded)}, its upper edge is {back(lower)}"


def _first_end(kind: PartKind, piece: Piece, lower: Direction) -> Direction:
    """Towards the first end of a part that stands on this edge with its inside to the drawer's inside.

    x across from the left, y back from the front, z up: the insides of front, back, left and right side look along
    +y, -y, +x and -x, and all stand on -z. Inside x lower is then -x, x, y and -y.
    """
    square = cross(piece.inside, lower)
    return square if kind in (PartKind.FRONT, PartKind.RIGHT) else back(square)


def _is_cut_as(end: EndCut, made: object, plan: JobPlan) -> bool:
    if not end.corner.cutter:
        return _is_rebated_as(end, made, plan)
    setting = plan.draft.settings[end.corner]
    cutters = {key.cutter for key in plan.draft.settings}
    cutter = setting.cutter.name if len(cutters) > 1 else None
    fence = setting.fence_flat if end.role == "flat" else setting.fence_upright
    return (
        made.role is end.role  # type: ignore[attr-defined]
        and made.cutter == cutter  # type: ignore[attr-defined]
        and abs(made.bit_height - setting.bit_height) < DIALLED  # type: ignore[attr-defined]
        and abs(made.fence - fence) < DIALLED  # type: ignore[attr-defined]
    )


def _is_rebated_as(end: EndCut, made: object, plan: JobPlan) -> bool:
    """A rebate is as deep as was given for it, and as wide as the other piece is thick and the lip stands out."""
    stocks = {stock.key: stock.thickness.value for stock in plan.job.stock.values()}
    width = stocks[end.corner.upright] + end.corner.lip
    depth = dict(end.corner.measures).get("depth", 0.6 * stocks[end.corner.flat])
    return (
        made.role is end.role  # type: ignore[attr-defined]
        and made.cutter == end.corner.joint  # type: ignore[attr-defined]
        and abs(made.bit_height - depth) < SAW  # type: ignore[attr-defined]
        and abs(made.fence - width) < DIALLED  # type: ignore[attr-defined]
    )


def _drilled(part: Part, piece: Piece, plan: JobPlan) -> Iterator[str]:
    """The holes of a front are those of its drawer's pull, and it is drilled as it stands in its drawer."""
    has_applied = any(p.drawer == part.drawer and p.kind is PartKind.APPLIED_FRONT for p in plan.parts)
    is_drilled = part.kind is (PartKind.APPLIED_FRONT if has_applied else PartKind.FRONT)
    wanted = [hole for hole in plan.pull_holes if hole.drawer == part.drawer] if is_drilled else []
    places = [(hole.from_left, hole.above_front, hole.diameter) for hole in wanted]
    # A back's own list counts from the left as seen from before the drawer, and it is bored from behind.
    places += [(part.length - hole.along, hole.across, hole.diameter) for hole in part.holes]
    made = sorted((hole.from_left, hole.above_lower, hole.diameter) for hole in piece.holes)
    if made != sorted(places):
        yield f"has the holes {made}"
    notches = sorted((part.length - each.end, part.length - each.begin, each.height) for each in part.notches)
    if sorted(piece.notches) != notches:
        yield f"has the notches {sorted(piece.notches)}"
    if part.kind is PartKind.BACK:
        return
    for hole in piece.holes:
        if part.kind is PartKind.FRONT and (
            hole.lower != piece.lower or hole.left != _first_end(part.kind, piece, hole.lower)
        ):
            yield "was drilled upside down"
        front = next(box for box in plan.job.all_boxes if box.name == part.drawer)
        width = part.length if front.applied is None else front.applied.width
        if abs(piece.size(hole.left) - width) > SAW:
            yield f"was drilled with {piece.size(hole.left):.2f} mm lying across"
