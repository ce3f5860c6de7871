"""From parts to blanks: which parts share a band, and which leave the saw on their own.

Parts with the same stock and length whose ends are cut alike form a family; a band of the family is as wide as they
are long, is routed on the two edges where they end and then ripped into strips of their heights. Strips of equal
height are interchangeable until they are labelled, so they share a key; the running number picks the part. Demands
carry the sizes to be cut, which go in the saw's steps; the part keeps its exact ones for the calipers.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.parts import EndCut, Part, PartEnd, Role
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.wood.stock import Grain, Stock

EQUAL: Mm = 0.005
"""Sizes closer than this are one size: no saw fence is set finer."""
MOST_NAMED = 3
"""Labels by which a group of parts is called."""


@dataclass(frozen=True, slots=True)
class BandFamily:
    """Parts that may share a band: they may belong to several corners, if those are cut alike.

    marked: the end whose edge must be marked on a band, since its two routed edges are not the same; else None.
    """

    key: str
    stock: Stock
    length: Mm
    parts: tuple[Part, ...]
    marked: PartEnd | None

    @property
    def role(self) -> Role:
        """How the bands of this family are held; both ends of a part are held alike."""
        return self.parts[0].ends[0].role

    @property
    def joint(self) -> str:
        """The name of the joint that is cut on its edges; parts of several joints are never cut alike."""
        return self.parts[0].ends[0].corner.joint

    @property
    def cutter(self) -> str:
        """The id of the cutter that makes it; empty where none does."""
        return self.parts[0].ends[0].corner.cutter

    @property
    def edges(self) -> tuple[tuple[EndCut, ...], tuple[EndCut, ...]]:
        """The different cuts of either edge, those of the parts' first ends first; all of one edge are made alike."""
        first, second = zip(*(part.ends for part in self.parts), strict=True)
        return tuple(dict.fromkeys(first)), tuple(dict.fromkeys(second))


@dataclass(frozen=True, slots=True)
class StockBlanks:
    """All blanks of one stock, ready for the sheet planner.

    `members[key]` lists the parts behind a demand's key; the planner's running number n is part n - 1.
    """

    stock: Stock
    families: tuple[BandFamily, ...]
    strips: tuple[StripDemand, ...]
    loose: tuple[LooseDemand, ...]
    matched: tuple[MatchedSet, ...]
    members: dict[str, tuple[Part, ...]]

    def part(self, key: str, number: int) -> Part:
        """The part that the planner's piece `key` number `number` (from 1) becomes."""
        return self.members[key][number - 1]

    def family(self, key: str) -> BandFamily:
        """The family of this key."""
        return next(family for family in self.families if family.key == key)


def blanks_of(
    parts: Sequence[Part],
    matched: Iterable[Sequence[Part]] = (),
    *,
    how_cut: Callable[[EndCut], Hashable] = lambda end: end,
) -> tuple[StockBlanks, ...]:
    """Group parts into blanks, one `StockBlanks` for each stock in the order of first use.

    Args:
        parts: all parts of the job.
        matched: groups among them that are to be cut side by side, in the order in which they hang.
        how_cut: the same for all ends that are held and cut alike; without it, those of one corner.
    """
    by_stock: dict[str, list[Part]] = defaultdict(list)
    for part in parts:
        by_stock[part.stock.name].append(part)
    sets = [tuple(group) for group in matched]
    return tuple(_stock_blanks(group, sets, how_cut) for group in by_stock.values())


def _stock_blanks(
    parts: Sequence[Part], sets: Sequence[tuple[Part, ...]], how_cut: Callable[[EndCut], Hashable]
) -> StockBlanks:
    stock = parts[0].stock
    can_turn = stock.grain is Grain.NONE
    members: dict[str, list[Part]] = defaultdict(list)
    families: list[BandFamily] = []
    strips: list[StripDemand] = []
    in_sets = {id(part) for group in sets for part in group}

    grouped: dict[tuple[int, tuple[Hashable, ...], PartEnd | None], list[Part]] = defaultdict(list)
    for part in parts:
        if not part.is_loose:
            first, other = (how_cut(end) for end in part.ends)
            marked = part.end_names[0] if first != other else None
            grouped[_ticks(part.cut_length), (first, other), marked].append(part)
    for number, ((_, _ends, marked), group) in enumerate(grouped.items(), start=1):
        key = f"{stock.name} band {number}"
        length = group[0].cut_length
        families.append(BandFamily(key, stock, length, tuple(group), marked))
        for ticks, same in _by_size(group).items():
            height = same[0].cut_width
            strip_key = f"{key} / {_named(ticks)}"
            members[strip_key].extend(same)
            strips.append(StripDemand(strip_key, key, length, height, len(same), can_turn, names_of(same)))

    loose: list[LooseDemand] = []
    singles: dict[tuple[int, int], list[Part]] = defaultdict(list)
    for part in parts:
        if part.is_loose and id(part) not in in_sets:
            singles[_ticks(part.blank_length), _ticks(part.blank_width)].append(part)
    for (long, wide), alike in singles.items():
        length, width = alike[0].blank_length, alike[0].blank_width
        key = f"{stock.name} {_named(long)} x {_named(wide)}"
        members[key].extend(alike)
        loose.append(LooseDemand(key, length, width, len(alike), can_turn, names_of(alike)))

    blocks = []
    for number, matched in enumerate((s for s in sets if s[0].stock.name == stock.name), start=1):
        keys = tuple(f"{stock.name} matched {number}.{place}" for place in range(1, len(matched) + 1))
        for key, part in zip(keys, matched, strict=True):
            members[key].append(part)
        widths = tuple(part.blank_width for part in matched)
        length = matched[0].blank_length
        label = phrase("matched fronts {first} to {last}", first=matched[0].drawer, last=matched[-1].drawer)
        blocks.append(MatchedSet(label, keys, length, widths))
    return StockBlanks(
        stock,
        tuple(families),
        tuple(strips),
        tuple(loose),
        tuple(blocks),
        {key: tuple(group) for key, group in members.items()},
    )


def names_of(parts: Sequence[Part]) -> Phrase:
    """What to call parts that are alike: the labels of the first few."""
    labels = [part.label for part in parts]
    more = len(labels) - MOST_NAMED
    if more < 2:  # a name takes no more room than the words for it
        return joined(labels, ", ")
    return phrase("{names} and {count} more", names=joined(labels[:MOST_NAMED], ", "), count=more)


def _by_size(parts: Sequence[Part]) -> dict[int, list[Part]]:
    """Parts by their width in ticks."""
    sizes: dict[int, list[Part]] = defaultdict(list)
    for part in parts:
        sizes[_ticks(part.cut_width)].append(part)
    return sizes


def _ticks(length: Mm) -> int:
    return round(length / (2 * EQUAL))


def _named(ticks: int) -> str:
    """A size for a key: what differs in ticks differs here too, which two roundings would not promise."""
    return f"{ticks * 2 * EQUAL:.2f}"
