"""Edges of bands that are cut without a self-mating cutter: which are cut alike, and what is done to which band."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence

from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import EndCut
from drawerwright.joints.corner_key import CornerKey, PlainKeyedCorner
from drawerwright.joints.plain_joint import PlainCorner, plain_joint
from drawerwright.joints.setting import CornerSetting
from drawerwright.run.marks import BandMark
from drawerwright.run.setups import Edges
from drawerwright.run.spots import Spots
from drawerwright.run.times import Rates
from drawerwright.run.work import CutBandEdges
from drawerwright.sheets.from_parts import BandFamily


def how_cut(
    settings: Mapping[CornerKey, CornerSetting], plain: Iterable[PlainKeyedCorner]
) -> Callable[[EndCut], Hashable]:
    """The same for all ends that are held and cut alike, whatever their corner: at one place of the gauges by a
    cutter, or by the same figures of a joint without one."""
    spots, made = Spots(settings), {corner.key: corner.made for corner in plain}

    def of(end: EndCut) -> Hashable:
        corner = made.get(end.corner)
        return spots.how_cut(end) if corner is None else (end.role, *_cut(corner))

    return of


def band_edges(
    drawers: Sequence[AssembledDrawer],
    families: Iterable[BandFamily],
    marks: Mapping[str, tuple[BandMark, ...]],
) -> Iterator[CutBandEdges]:
    """What is cut on which bands before they are ripped; all that is cut alike together.

    Args:
        drawers: whose corners they are.
        families: of bands.
        marks: the bands of each family, by its key.
    """
    made = {corner.key: corner.made for drawer in drawers for corner in drawer.box.plain_corners}
    found: dict[Hashable, list[CutBandEdges]] = {}
    for family in families:
        if family.cutter or not marks.get(family.key):
            continue
        first, second = (made[edge[0].corner] for edge in family.edges)
        is_alike = _cut(first) == _cut(second)
        marked, other = Edges.of(family)
        edges = ((first, Edges.BOTH),) if is_alike else ((first, marked), (second, other))
        for corner, which in edges:
            joint = plain_joint(corner.kind)
            bands = marks[family.key]
            needs_backing = any(len(band.placed.sacrificial) < 2 for band in bands)
            cut = CutBandEdges(
                family.role,
                which,
                bands,
                needs_backing,
                joint.name,
                joint.edge_cut(corner),
                joint.edge_words(corner),
            )
            found.setdefault((family.role, *_cut(corner)), []).append(cut)
    yield from (cut for alike in found.values() for cut in alike)


def edge_minutes(cuts: Iterable[CutBandEdges], rates: Rates) -> float:
    """What it takes to cut them."""
    return sum(cut.passes * rates.router_pass + cut.metres / rates.feed_m_per_min for cut in cuts)


def _cut(made: PlainCorner) -> tuple[Hashable, ...]:
    return made.kind, *plain_joint(made.kind).edge_cut(made)
