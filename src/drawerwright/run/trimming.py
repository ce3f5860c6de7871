"""Parts that are cut larger at first and trimmed once a drawer is dry-fitted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.run.marks import PartName, parts_named
from drawerwright.run.work import CheckBottoms, TrimParts

TRIMMED_EDGES = 2
"""One along and one across: the others are true already."""


def bottom_checks(parts: Iterable[Part]) -> list[CheckBottoms]:
    """Bottoms that come from their sheets as large as they are to be, those of one size together."""
    alike: dict[tuple[float, float], list[PartName]] = {}
    for part in parts:
        if part.kind is PartKind.BOTTOM and not part.oversize:
            alike.setdefault((part.cut_length, part.cut_width), []).append(PartName.of(part))
    return [CheckBottoms(tuple(names), *size) for size, names in alike.items()]


def trim_work(parts: Iterable[Part]) -> list[TrimParts]:
    """Those that are trimmed alike together."""
    alike: dict[tuple[float, float, float], list[PartName]] = {}
    for part in parts:
        if part.oversize:
            key = part.cut_length, part.cut_width, part.oversize
            alike.setdefault(key, []).append(PartName.of(part))
    return [TrimParts(tuple(names), *key) for key, names in alike.items()]


def trim_lines(items: Sequence[TrimParts], style: LengthStyle) -> list[Phrase]:
    """What is said of them."""
    return [
        phrase("Dry-fit one drawer and measure it: its sizes overrule these."),
        *(
            phrase(
                "{parts}: cut {more} larger; trim to {length} by {width}.",
                parts=parts_named(item.parts),
                more=style.bought(item.oversize),
                length=style.written(item.length),
                width=style.written(item.width),
            )
            for item in items
        ),
    ]
