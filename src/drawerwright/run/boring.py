"""What is bored and notched once the parts are ripped: holes for pulls in the fronts, the backs for the runners' ends.

A back is seen from behind, from its outer face, as it is bored: what its own frame counts from the left as seen from
before the drawer is counted from the right there, and left and right are alike.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.carcase import PullHole
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.drawers.runner_cuts import Hole, Notch
from drawerwright.run.marks import PartName, parts_named
from drawerwright.run.work import Bore, BoreBacks, NotchBacks


def pull_work(drawers: Iterable[AssembledDrawer], holes: Iterable[PullHole]) -> list[Bore]:
    """The holes for pulls, one by one."""
    fronts = {drawer.box.name: drawer.shown_front for drawer in drawers}
    work = []
    for hole in holes:
        front = fronts[hole.drawer]
        (left, *_), (right, *_) = front.bounds
        name = PartName.of(front.part)
        work.append(Bore(name, right - left, hole.from_left, hole.above_front, hole.diameter))
    return work


def alike_backs(parts: Iterable[Part]) -> list[tuple[Part, ...]]:
    """The backs that are notched or bored, those together that are cut alike and equally long and high."""
    found: dict[tuple[object, ...], list[Part]] = {}
    for part in parts:
        if part.kind is PartKind.BACK and (part.notches or part.holes):
            shape = round(part.length, 2), round(part.width, 2), part.notches, part.holes
            found.setdefault(shape, []).append(part)
    return [tuple(group) for group in found.values()]


def notch_work(parts: Iterable[Part]) -> list[NotchBacks]:
    """The notches in the backs."""
    return [
        NotchBacks(_names(group), tuple(notch_from_behind(notch, group[0]) for notch in group[0].notches))
        for group in alike_backs(parts)
        if group[0].notches
    ]


def hook_work(parts: Iterable[Part]) -> list[BoreBacks]:
    """The holes in the backs."""
    return [
        BoreBacks(_names(group), tuple(hole_from_behind(hole, group[0]) for hole in group[0].holes))
        for group in alike_backs(parts)
        if group[0].holes
    ]


def notch_from_behind(notch: Notch, part: Part) -> Notch:
    """The same as seen from behind the drawer."""
    return replace(notch, begin=part.length - notch.end, end=part.length - notch.begin)


def hole_from_behind(hole: Hole, part: Part) -> Hole:
    """The same as seen from behind the drawer."""
    return replace(hole, along=part.length - hole.along)


def notch_lines(items: Sequence[NotchBacks], style: LengthStyle) -> list[Phrase]:
    """What is said of notches."""
    lines = []
    for item in items:
        spans = [
            phrase("{begin} to {end}", begin=style.written(notch.begin), end=style.written(notch.end))
            for notch in sorted(item.notches, key=lambda notch: notch.begin)
        ]
        lines.append(
            phrase(
                "{parts}: from the left end as seen from behind, {spans}, {height} up from the lower edge.",
                parts=parts_named(item.parts),
                spans=joined(spans, "; "),
                height=style.written(item.notches[0].height),
            )
        )
    lines.append(
        phrase("Clamp backs that are alike together, saw the notches in one go, and back up the exit.")
    )
    return lines


def hook_lines(items: Sequence[BoreBacks], style: LengthStyle) -> list[Phrase]:
    """What is said of holes for hooks."""
    lines = []
    for item in items:
        for (above, diameter, depth), row in groupby(
            sorted(item.holes, key=lambda hole: (hole.across, hole.along)),
            key=lambda hole: (hole.across, hole.diameter, hole.depth),
        ):
            lefts = [Phrase("{left}", {"left": style.written(hole.along)}) for hole in row]
            words = {
                "parts": parts_named(item.parts),
                "lefts": joined(lefts, ", "),
                "above": style.written(above),
                "diameter": style.bought(diameter),
            }
            lines.append(
                phrase(
                    "{parts}, from behind: {lefts} from the left end, {above} above the lower edge; drill {diameter} "
                    "through.",
                    **words,
                )
                if depth is None
                else phrase(
                    "{parts}, from behind: {lefts} from the left end, {above} above the lower edge; drill {diameter}, "
                    "{depth} deep.",
                    **words,
                    depth=style.written(depth),
                )
            )
    return lines


def _names(parts: Iterable[Part]) -> tuple[PartName, ...]:
    return tuple(PartName.of(part) for part in parts)
