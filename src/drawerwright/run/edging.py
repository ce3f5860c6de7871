"""Edging: which parts get it where, and how much of it."""

from __future__ import annotations

from collections.abc import Iterable

from drawerwright.drawers.parts import Part
from drawerwright.run.marks import PartName
from drawerwright.run.work import BandEdges


def edging_work(parts: Iterable[Part]) -> list[BandEdges]:
    """The edging of parts, what is glued on alike together."""
    kinds: dict[tuple[bool, float], list[Part]] = {}
    for part in parts:
        if part.banding and (part.banded_long_edges or part.banded_short_edges):
            kinds.setdefault((part.banded_short_edges > 0, part.banding), []).append(part)
    return [
        BandEdges(
            tuple(PartName.of(part) for part in alike),
            is_all_round,
            thickness,
            sum(
                part.banded_long_edges * part.length + part.banded_short_edges * part.width for part in alike
            ),
            is_handed=not is_all_round and any(part.is_handed for part in alike),
        )
        for (is_all_round, thickness), alike in kinds.items()
    ]
