"""A drawing seen from the other side: left and right exchanged, its lettering still to be read."""

from __future__ import annotations

from dataclasses import replace

from drawerwright.basics.lengths import Degrees
from drawerwright.drawings.scene import (
    Anchor,
    Arc,
    Block,
    Circle,
    Fibres,
    Hatch,
    Item,
    MeasuredSpan,
    Path,
    PlainItem,
    Point,
    Scene,
    Strokes,
    Text,
)

_OTHER_END: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}


def mirrored(scene: Scene) -> Scene:
    """The scene with left and right exchanged."""
    return replace(
        scene,
        items=tuple(_mirrored(item) for item in scene.items),
        left=-scene.right,
        regions=tuple(replace(region, outline=_turned(region.outline)) for region in scene.regions),
    )


def _mirrored(item: Item) -> Item:
    if isinstance(item, Block):
        items = tuple(_plainly_mirrored(each) for each in item.items)
        return replace(item, items=items, at=_other(item.at))
    return _plainly_mirrored(item)


def _plainly_mirrored(item: PlainItem) -> PlainItem:
    match item:
        case Path():
            return replace(item, points=_turned(item.points))
        case Strokes():
            segments = tuple((_other(start), _other(end)) for start, end in item.segments)
            return replace(item, segments=segments, hatch=item.hatch and _mirrored_hatch(item.hatch))
        case Fibres():
            return replace(item, outline=_turned(item.outline), angle=_other_way(item.angle))
        case Circle():
            return replace(item, centre=_other(item.centre))
        case Arc():
            return replace(item, centre=_other(item.centre), start=180.0 - item.end, end=180.0 - item.start)
        case Text():
            return _read_again(item)


def _mirrored_hatch(hatch: Hatch) -> Hatch:
    angles = tuple(_other_way(angle) for angle in hatch.angles)
    return replace(hatch, outline=_turned(hatch.outline), angles=angles)


def _read_again(text: Text) -> Text:
    """Lettering is not mirrored: it takes the room that its mirror image would."""
    turned = replace(text, at=_other(text.at), anchor=_OTHER_END[text.anchor])
    x, y = turned.at
    return replace(
        turned,
        at=(x - _middle(text) - _middle(turned), y),
        measured=text.measured and _mirrored_measure(text.measured),
    )


def _mirrored_measure(measured: MeasuredSpan) -> MeasuredSpan:
    ends = _other(measured.start), _other(measured.end)
    return MeasuredSpan(*ends, _other(measured.line), _other_way(measured.angle))


def _other_way(angle: Degrees) -> Degrees:
    return (180.0 - angle) % 180.0


def _middle(text: Text) -> float:
    across = [x for x, _y in text.corners()]
    return (min(across) + max(across)) / 2


def _turned(points: tuple[Point, ...]) -> tuple[Point, ...]:
    return tuple(_other(point) for point in points)


def _other(point: Point) -> Point:
    return -point[0], point[1]
