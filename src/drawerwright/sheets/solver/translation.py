"""From a sheet problem in mm to the planner's task in ticks, refusing what can never be cut."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from drawerwright.basics.errors import NoPlanError
from drawerwright.basics.phrases import phrase
from drawerwright.sheets.blanks import MatchedSet, PartDemand, StripDemand
from drawerwright.sheets.grid import Grid
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize
from drawerwright.sheets.solver.columns import Frame, Piece, Sizing
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.stacks import StackSource
from drawerwright.sheets.solver.misfits import check_entries, check_fits
from drawerwright.sheets.solver.part_sizes import area_of, block_width
from drawerwright.sheets.solver.task import Task


@dataclass(frozen=True, slots=True)
class CuttingTerms:
    """What every sheet of a plan shares, for the way back from ticks."""

    grid: Grid
    kerf: int
    sacrificial: int
    ends: int
    demands: tuple[PartDemand, ...]
    least_offcut: LeastOffcut
    families: tuple[str, ...]
    longest: int | None
    spares_cuts: bool
    """Whether a band may take what is too small to keep, so that no cut takes it off."""
    has_grain: bool
    """Whether no part may turn: then the stock has grain."""

    def keeps(self, one_side: int, other_side: int) -> bool:
        """Whether a rectangle of so many ticks is worth keeping."""
        return self.least_offcut.keeps(self.grid.mm(one_side), self.grid.mm(other_side))

    def worth(self, frame: Frame, u: int, v: int) -> float:
        """What a piece left over from a frame is worth (see `LeastOffcut.worth`).

        Where parts may turn, the stock has no grain, and the longer side counts as the length.
        """
        one, other = self.grid.mm(u), self.grid.mm(v)
        length, width = (other, one) if frame.transposed else (one, other)
        if not self.has_grain:
            length, width = max(length, width), min(length, width)
        return self.least_offcut.worth(length, width)


@dataclass(frozen=True, slots=True)
class TranslatedProblem:
    """A task with the way back: `cost_unit` is what one unit of the task's cost stands for."""

    task: Task
    terms: CuttingTerms
    sizes: tuple[SheetSize, ...]
    trims: tuple[int, ...]
    cost_unit: Fraction

    def price(self, cost: int) -> float:
        """A cost of the task in the currency of the prices."""
        return float(cost * self.cost_unit)


def translate(problem: SheetProblem) -> TranslatedProblem:
    """The task of a problem.

    Raises:
        NoPlanError: a part fits no sheet.
        InvalidValueError: a length that no saw can set, or a count, price or rule that cannot be meant.
    """
    check_entries(problem)
    grid = Grid.of(_lengths(problem))
    ticks = grid.ticks
    saw, rules = problem.saw, problem.band_rules
    demands: tuple[PartDemand, ...] = (
        *problem.strips,
        *problem.loose,
        *problem.matched,
    )
    heights = tuple(ticks(part.height) if isinstance(part, StripDemand) else 0 for part in demands)
    sizing = Sizing(
        ticks(saw.kerf),
        heights,
        ticks(rules.sacrificial_strip),
        rules.sacrificial_ends,
        ticks(rules.shortest_piece),
    )
    trims = tuple(0 if size.is_offcut else ticks(saw.trim) for size in problem.sizes)
    costs, unit = _whole_costs(problem)
    turns = any(part.can_turn for part in problem.strips) or bool(problem.loose)
    frames: list[Frame] = []
    for number, (size, trim, cost) in enumerate(zip(problem.sizes, trims, costs, strict=True)):
        length, width = ticks(size.length) - 2 * trim, ticks(size.width) - 2 * trim
        if length <= 0 or width <= 0:
            continue
        frames.append(Frame(number, length, width, cost, False, size.is_offcut))
        if turns:
            frames.append(Frame(number, width, length, cost, True, size.is_offcut))
    if not frames and demands:
        raise NoPlanError(
            phrase(
                "no sheet of {stock} is left after trimming: add a sheet size, or trim less",
                stock=problem.stock,
            )
        )
    longest = ticks(rules.longest_band) if rules.longest_band is not None else None
    names, numbers = _families(problem)
    sources: dict[bool, StackSource] = {}
    untrimmed: dict[bool, StackSource] = {}
    copies = [part.count for part in demands]
    for transposed in sorted({frame.transposed for frame in frames}):
        same_way = [frame for frame in frames if frame.transposed == transposed]
        widest, tallest = max(f.length for f in same_way), max(f.width for f in same_way)
        bands = _band_families(problem, numbers, ticks, transposed)
        pieces = _pieces(demands, grid, sizing.kerf, transposed)
        plain, source = (
            BandStacks(
                bands,
                pieces,
                sizing,
                longest=longest if longest is not None else tallest,
                tallest=tallest,
                widest=widest,
                lengths={frame.length for frame in same_way},
                copies=copies,
                trims=trims,
            )
            for trims in (False, problem.preferences.trim_bands)
        )
        if source.widths:
            sources[transposed] = source
            if source.trims:
                untrimmed[transposed] = plain
    task = Task(
        tuple(frame for frame in frames if frame.transposed in sources),
        tuple(copies),
        tuple(area_of(part, grid, sizing.kerf) for part in demands),
        tuple(
            (1 if size.on_hand is None else size.on_hand) if size.is_offcut else size.on_hand
            for size in problem.sizes
        ),
        sizing,
        sources,
        untrimmed={way: untrimmed.get(way, source) for way, source in sources.items()} if untrimmed else {},
    )
    check_fits(problem, task, frames, demands, grid, longest)
    terms = CuttingTerms(
        grid,
        sizing.kerf,
        sizing.sacrificial,
        sizing.ends,
        demands,
        problem.least_offcut,
        names,
        longest,
        "fences" in problem.preferences.later_aims,
        not (any(part.can_turn for part in problem.strips) or any(part.can_turn for part in problem.loose)),
    )
    return TranslatedProblem(task, terms, problem.sizes, trims, unit)


def _lengths(problem: SheetProblem) -> list[float]:
    saw, rules = problem.saw, problem.band_rules
    lengths = [saw.kerf, saw.trim, rules.sacrificial_strip, rules.shortest_piece, rules.longest_band or 0.0]
    for size in problem.sizes:
        lengths += [size.length, size.width]
    for strip in problem.strips:
        lengths += [strip.length, strip.height]
    for part in problem.loose:
        lengths += [part.length, part.width]
    for block in problem.matched:
        lengths += [block.length, *block.widths]
    return lengths


def _whole_costs(problem: SheetProblem) -> tuple[list[int], Fraction]:
    exact = [Fraction(str(problem.cost_of(size))) for size in problem.sizes]
    scale = math.lcm(*(cost.denominator for cost in exact)) if exact else 1
    whole = [int(cost * scale) for cost in exact]
    shared = math.gcd(*whole) or 1
    return [cost // shared for cost in whole], Fraction(shared, scale)


def _families(problem: SheetProblem) -> tuple[tuple[str, ...], dict[tuple[str, float], int]]:
    """Parts share a band when family and length agree; numbered in the order in which they come."""
    numbers: dict[tuple[str, float], int] = {}
    for strip in problem.strips:
        numbers.setdefault((strip.family, strip.length), len(numbers))
    return tuple(family for family, _ in numbers), numbers


def _band_families(
    problem: SheetProblem, numbers: dict[tuple[str, float], int], ticks: object, transposed: bool
) -> list[Family]:
    assert callable(ticks)
    members: dict[int, list[int]] = {}
    lengths: dict[int, int] = {}
    for demand, strip in enumerate(problem.strips):
        if strip.can_turn or not transposed:
            number = numbers[strip.family, strip.length]
            members.setdefault(number, []).append(demand)
            lengths[number] = ticks(strip.length)
    return [Family(number, lengths[number], tuple(demands)) for number, demands in members.items()]


def _pieces(demands: tuple[PartDemand, ...], grid: Grid, kerf: int, transposed: bool) -> list[Piece]:
    pieces: list[Piece] = []
    for demand, part in enumerate(demands):
        if isinstance(part, StripDemand):
            continue
        if isinstance(part, MatchedSet):
            if not transposed:
                pieces.append(Piece(demand, grid.ticks(part.length), block_width(part, grid, kerf)))
            continue
        length, width = grid.ticks(part.length), grid.ticks(part.width)
        pieces.append(Piece(demand, width, length) if transposed else Piece(demand, length, width))
        if part.can_turn and length != width:
            turned = Piece(demand, length, width, True) if transposed else Piece(demand, width, length, True)
            pieces.append(turned)
    return pieces
