"""The best stack of every column width where columns hold bands and rows of loose parts."""

from __future__ import annotations

import copy
import math
from collections import Counter
from collections.abc import Callable, Collection, Sequence
from functools import partial

import numpy as np

from drawerwright.sheets.solver.columns import Element, Piece, Sizing, Stack
from drawerwright.sheets.solver.filling import band_layers, loose_columns
from drawerwright.sheets.solver.filling.band_layers import BandLayers, are_large
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.fill_table import FillTable, all_fillings
from drawerwright.sheets.solver.filling.least_room import least_rooms
from drawerwright.sheets.solver.filling.loose_columns import LooseColumns, PiledRows
from drawerwright.sheets.solver.filling.mixed_columns import single_pieces, whole_bands
from drawerwright.sheets.solver.filling.routed_bands import RoutedBands
from drawerwright.sheets.solver.filling.row_widths import WidthClass, row_widths
from drawerwright.sheets.solver.filling.rows import Rows
from drawerwright.sheets.solver.filling.stacks import Bars, Offer, StackSource, lookup, never


class BandStacks:
    """Stacks of bands, as wide as their column (with `trims` at most), and rows of loose parts, at most as wide.

    `longest` is the longest band the router table takes, `tallest` the longest column, `widest` the longest
    frame (`lengths` are those of all frames); with `alike` a row holds parts of one kind only. Where there are too
    many useful widths of columns, not all are tried: then only stacks of `bounding` tell what is possible at the most.
    """

    def __init__(
        self,
        families: Sequence[Family],
        pieces: Sequence[Piece],
        sizing: Sizing,
        *,
        longest: int,
        tallest: int,
        widest: int,
        copies: Sequence[int],
        lengths: Collection[int] = (),
        alike: bool = False,
        trims: bool = False,
    ) -> None:
        self._alike = alike
        self._families = tuple(sorted(families, key=lambda family: family.u))
        self._pieces = sorted(
            (piece for piece in pieces if piece.v <= tallest and piece.u <= widest),
            key=lambda piece: (piece.v, piece.u),
        )
        self._sizing, self._tallest, self._widest = sizing, tallest, widest
        self._give_up: Callable[[], bool] = never
        self._longest = min(longest, tallest)
        self._routed = RoutedBands(sizing, self._longest)
        self.trims = trims and len({family.u for family in families}) > 1
        self._of = {demand: family for family in self._families for demand in family.demands}
        self._across = {family.u for family in self._families if family.u <= widest}
        sums, self._classes = row_widths(
            self._pieces, copies, sizing.kerf, sorted({*lengths, widest}), beside=self._across, alike=alike
        )
        self._is_large = self.trims and are_large(self._families, copies, tallest)
        self._take_widths({(width, width) for width in self._across | sums})

    def _take_widths(self, classes: Collection[WidthClass]) -> None:
        """Columns that are as wide on a sheet as the narrowest of their class, and within as the widest."""
        ordered = sorted(classes)
        self.widths: tuple[int, ...] = tuple(narrowest for narrowest, _ in ordered)
        self._rooms = tuple(widest for _, widest in ordered)
        self._columns = LooseColumns(self._pieces, self._sizing, self.widths, self._tallest)
        self._memory: dict[int, tuple[object, Offer]] = {}
        """The last offer of each kind that may hold bands, with the values, counts and steps it was made for."""
        self._loose_memory: tuple[object, Rows, PiledRows] | None = None
        self._concerned = {
            kind: tuple(
                sorted(
                    {demand for family in self._within(room) for demand in family.demands}
                    | {piece.demand for piece in self._pieces if piece.u <= room}
                )
            )
            for kind, room in enumerate(self._rooms)
            if self._within(room)
        }

    @property
    def is_complete(self) -> bool:
        return not self._classes

    def bounding(self) -> BandStacks:
        if self.is_complete:
            return self
        source = copy.copy(self)
        source._take_widths({*self._classes, *((width, width) for width in self._across)})
        return source

    def _within(self, width: int) -> list[Family]:
        """Families of which bands lie in columns of this width."""
        if self.trims:
            return [family for family in self._families if family.u <= width]
        return [family for family in self._families if family.u == width]

    @property
    def coarse_steps(self) -> tuple[int, ...]:
        if self._is_large:
            return (band_layers.COARSE_STEPS,)
        return (loose_columns.COARSE_STEPS,) if not self._families and self._columns.is_large else ()

    @property
    def greedy_steps(self) -> int | None:
        return next(iter(self.coarse_steps), None)

    def offers(
        self, values: Sequence[int], at_most: Sequence[int], *, steps: int | None = None
    ) -> list[Offer]:
        found: list[Offer] = []
        piled = self._loose(values, at_most, steps)[1] if len(self._concerned) < len(self.widths) else None
        layers: BandLayers | None = None
        wanted = {demand for demand, count in enumerate(at_most) if count}
        grain = max(1, (self._tallest + self._sizing.kerf) // steps) if steps and self._is_large else 1
        for kind, room in enumerate(self._rooms):
            if piled is not None and kind not in self._concerned:
                found.append(piled.offer(kind))
                continue
            key = grain, tuple((d, values[d], at_most[d]) for d in self._concerned[kind] if d in wanted)
            known = self._memory.get(kind)
            if known is None or known[0] != key:
                if self.trims and layers is None:
                    layers = BandLayers(
                        self._families,
                        self._sizing,
                        self._tallest,
                        self._longest,
                        values,
                        at_most,
                        self._give_up,
                        grain,
                    )
                known = self._memory[kind] = (key, self._offer(kind, room, layers, values, at_most, grain))
            found.append(known[1])
        return found

    def watched(self, give_up: Callable[[], bool]) -> BandStacks:
        """Only trimmed bands take long; the watched source goes on with what this one remembers."""
        if not self.trims:
            return self
        source = copy.copy(self)
        source._give_up = give_up
        return source

    def _loose(
        self, values: Sequence[int], at_most: Sequence[int], steps: int | None = None
    ) -> tuple[Rows, PiledRows]:
        """Rows of loose parts, and columns of nothing else."""
        key = steps, tuple((values[piece.demand], at_most[piece.demand]) for piece in self._pieces)
        if self._loose_memory is None or self._loose_memory[0] != key:
            rows = Rows(self._pieces, self._sizing, self._rooms, values, at_most, self._alike)
            self._loose_memory = key, rows, PiledRows(self._columns, rows, values, at_most, steps)
        return self._loose_memory[1:]

    def listing(
        self,
        kind: int,
        width: int,
        values: Sequence[int],
        at_most: Sequence[int],
        floor: int,
        most: int,
        deadline: float = math.inf,
    ) -> list[Stack] | None:
        families = self._within(self._rooms[kind])
        narrow = any(piece.u <= self._rooms[kind] for piece in self._pieces)
        sizing = self._sizing
        if len(families) != 1 or narrow or width > 2 * self._longest + sizing.kerf:
            return None
        family = families[0]
        if width < sizing.shortest:
            return []
        wanted = [demand for demand in family.demands if at_most[demand]]
        sizes = [sizing.heights[demand] + sizing.kerf for demand in wanted]
        stacks: list[Stack] = []
        for bands in (1, 2) if width > self._longest else (1,):
            fillings = all_fillings(
                sizes,
                [values[demand] for demand in wanted],
                [at_most[demand] for demand in wanted],
                max(
                    (width if bands == 2 else min(width, self._longest))
                    + sizing.kerf
                    - bands * sizing.overhead,
                    0,
                ),
                floor=floor,
                most=most - len(stacks),
                deadline=deadline,
            )
            if fillings is None:
                return None
            for filling in filter(None, fillings):
                cut = self._routed.shared_out(
                    family, {wanted[n]: count for n, count in filling.items()}, bands
                )
                stack = sizing.stack(kind, family.u, cut)
                if any(band.v > self._longest for band in cut) or stack.v > width:
                    return None
                stacks.append(stack)
        return stacks

    @property
    def demands(self) -> frozenset[int]:
        strips = {demand for family in self._families for demand in family.demands}
        return frozenset(strips | {piece.demand for piece in self._pieces})

    def by_width(self) -> list[StackSource]:
        if self._pieces or self.trims:
            return []
        return [
            BandStacks(
                [family for family in self._families if family.u == width],
                (),
                self._sizing,
                longest=self._longest,
                tallest=self._tallest,
                widest=self._widest,
                copies=(),
            )
            for width in self.widths
        ]

    def bars(self, width: int) -> Bars | None:
        sizing = self._sizing
        if self._pieces or len(self._families) != 1 or not sizing.shortest <= width <= self._longest:
            return None
        family = self._families[0]
        return Bars(
            {demand: sizing.heights[demand] + sizing.kerf for demand in family.demands},
            width + sizing.kerf - sizing.overhead,
            lambda counts: sizing.stack(0, family.u, [sizing.band(family.number, family.u, counts.items())]),
        )

    def elements(self, counts: Sequence[int], width: int, height: int) -> list[Element]:
        bands = whole_bands(self._families, self._sizing, counts, width, min(height, self._longest))
        return bands + single_pieces(self._pieces, counts, width, height)

    def least_rooms(self, counts: Sequence[int]) -> dict[int, int]:
        return least_rooms(self._families, self._pieces, self._sizing, counts, self._longest)

    def _strip_table(self, family: Family, values: Sequence[int], at_most: Sequence[int]) -> FillTable:
        kerf, sizing = self._sizing.kerf, self._sizing
        tallest = self._tallest + kerf
        counts = range(1, self._most_bands(tallest) + 1)
        table = FillTable(
            max(0, *(min(tallest, n * (self._longest + kerf)) - n * sizing.overhead for n in counts))
        )
        for demand in family.demands:
            table.offer(demand, sizing.heights[demand] + kerf, values[demand], at_most[demand])
        return table

    def _offer(
        self,
        kind: int,
        room: int,
        layers: BandLayers | None,
        values: Sequence[int],
        at_most: Sequence[int],
        grain: int,
    ) -> Offer:
        """What a column of a kind is worth; lengths are measured in steps of `grain` ticks."""
        kerf = self._sizing.kerf
        families = self._within(room)
        is_for_loose = any(piece.u <= room for piece in self._pieces)
        if len(families) == 1 and not is_for_loose:
            table = self._strip_table(families[0], values, at_most)
            return self._one_band(kind, families[0], table, values, at_most)
        outer = FillTable((self._tallest + kerf) // grain, layers.best(len(families)) if layers else None)
        choices: list[Callable[[], Element]] = []
        for family in families if layers is None else ():
            table = self._strip_table(family, values, at_most)
            for routed, value in self._band_choices(table):
                copies = max(1, self._tallest // routed) if self._longest < self._tallest else 1
                outer.offer(len(choices), routed + kerf, value, copies)
                choices.append(self._band_builder(family, table, routed))
        others = None
        if is_for_loose:
            rows, piled = self._loose(values, at_most)
            others = partial(piled.others, kind)
            for height, value, builder in rows.choices(kind):
                size = -(-(height + kerf) // grain)
                outer.offer(len(choices), size, value, max(1, self._tallest // height))
                choices.append(builder)

        def build(capacity: int) -> Stack:
            counts, left = outer.taken(capacity // grain)
            elements = [choices[choice]() for choice in sorted(counts) for _ in range(counts[choice])]
            if layers is None:
                return self._sizing.stack(
                    kind, self.widths[kind], self._sizing.merged(elements, self._longest)
                )
            bands = [
                band
                for strips in layers.taken(len(families), left)
                for band in self._routed.carried(self._of[next(iter(strips))], strips)
            ]
            return self._fitted(self._sizing.stack(kind, self.widths[kind], [*bands, *elements]), capacity)

        return Offer(kind, lookup(outer.best, grain), kerf, build, others)

    def _one_band(
        self,
        kind: int,
        family: Family,
        table: FillTable,
        values: Sequence[int],
        at_most: Sequence[int],
    ) -> Offer:
        """A column of one family alone, in one band or in as many as the router table asks for.

        Strips are chosen for all bands together, so that none is taken more often than it is wanted; how they share the
        bands comes afterwards, and nearly always comes out.
        """
        sizing = self._sizing
        kerf, shift, best = sizing.kerf, sizing.overhead, table.best

        def room_of(capacity: int) -> tuple[int, int]:
            """What strips and their kerfs may take, and in how many bands."""
            rooms = [
                (min(capacity, bands * (self._longest + kerf)) - bands * shift, -bands)
                for bands in range(1, self._most_bands(capacity) + 1)
                if capacity >= bands * (sizing.shortest + kerf)
            ]
            room, bands = max(rooms, default=(0, 0))
            return max(room, 0), -bands

        def worth(capacity: int) -> int:
            return int(best[room_of(capacity)[0]])

        def build(capacity: int) -> Stack:
            room, count = room_of(capacity)
            strips = table.taken(room)[0]
            while strips:
                bands = self._routed.shared_out(family, strips, count)
                stack = sizing.stack(kind, family.u, bands)
                if stack.v + kerf <= capacity and all(band.v <= self._longest for band in bands):
                    return stack
                last = min(strips, key=lambda demand: sizing.heights[demand])
                strips[last] -= 1
                strips = +Counter(strips)
            return sizing.stack(kind, family.u, ())

        def others(capacity: int, floor: int) -> list[Stack]:
            """One strip of each kind, and the best of what fits beside it in the same band."""
            found: list[Stack] = []
            for demand in family.demands:
                room = min(capacity, self._longest + kerf) - shift - sizing.heights[demand] - kerf
                if room < 0 or values[demand] + int(best[room]) <= floor:
                    continue
                strips = table.taken(room)[0]
                strips[demand] = strips.get(demand, 0) + 1
                band = sizing.band(family.number, family.u, strips.items())
                if strips[demand] <= at_most[demand] and band.v <= capacity - kerf:
                    found.append(sizing.stack(kind, family.u, [band]))
            return found

        return Offer(kind, worth, kerf, build, others)

    def _fitted(self, stack: Stack, capacity: int) -> Stack:
        """`stack` without its lowest strips where bands that had to be divided made it too long."""
        while stack.v + self._sizing.kerf > capacity:
            low = min((d for d, _ in stack.takes if d in self._of), key=lambda d: self._sizing.heights[d])
            stack = self._sizing.without(stack, Counter({low: 1})) or self._sizing.stack(
                stack.kind, stack.u, ()
            )
        return stack

    def _most_bands(self, capacity: int) -> int:
        """In how many bands a column may have to be divided."""
        return -(-capacity // (self._longest + self._sizing.kerf))

    def _band_choices(self, table: FillTable) -> list[tuple[int, int]]:
        """Routed lengths at which a band becomes worth more, with that worth."""
        best, sizing = table.best, self._sizing
        steps = np.flatnonzero(np.diff(best)) + 1
        choices: dict[int, int] = {}
        for step in steps.tolist():
            routed = max(step - sizing.kerf + sizing.overhead, sizing.shortest)
            if routed <= self._longest:
                choices[routed] = int(best[step])
        return list(choices.items())

    def _band_builder(self, family: Family, table: FillTable, routed: int) -> Callable[[], Element]:
        capacity = routed + self._sizing.kerf - self._sizing.overhead

        def build() -> Element:
            return self._sizing.band(family.number, family.u, table.taken(capacity)[0].items())

        return build
