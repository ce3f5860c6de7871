"""From a sheet problem in mm to the planner's task in ticks, refusing what can never be cut."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from drawerwright.basics.errors import InvalidValueError, NoPlanError
from drawerwright.basics.lengths import millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, PartDemand, StripDemand, name_of
from drawerwright.sheets.grid import Grid
from drawerwright.sheets.layout import Shop
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.solver.columns import Frame, Piece, Sizing
from drawerwright.sheets.solver.filling.bands import BandStacks, Family
from drawerwright.sheets.solver.filling.stacks import StackSource
from drawerwright.sheets.solver.task import Task
from drawerwright.sheets.stock import SheetSize


@dataclass(frozen=True, slots=True)
class Setup:
    """A task with the way back: `cost_unit` is what one unit of the task's cost stands for."""

    task: Task
    shop: Shop
    sizes: tuple[SheetSize, ...]
    trims: tuple[int, ...]
    cost_unit: Fraction
    is_complete: bool

    def price(self, cost: int) -> float:
        """A cost of the task in the currency of the prices."""
        return float(cost * self.cost_unit)


def set_up(problem: SheetProblem) -> Setup:
    """The task of a problem.

    Raises:
        NoPlanError: a part fits no sheet.
        InvalidValueError: a length that no saw can set, or a count, price or rule that cannot be meant.
    """
    _check_entries(problem)
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
    is_complete = True
    copies = [_count(part) for part in demands]
    for transposed in sorted({frame.transposed for frame in frames}):
        same_way = [frame for frame in frames if frame.transposed == transposed]
        widest, tallest = max(f.length for f in same_way), max(f.width for f in same_way)
        source = BandStacks(
            _band_families(problem, numbers, ticks, transposed),
            _pieces(demands, grid, sizing.kerf, transposed),
            sizing,
            longest=longest if longest is not None else tallest,
            tallest=tallest,
            widest=widest,
            copies=copies,
        )
        is_complete = is_complete and source.is_complete
        if source.widths:
            sources[transposed] = source
    frames = [frame for frame in frames if frame.transposed in sources]
    task = Task(
        tuple(frames),
        tuple(copies),
        tuple(_area(part, grid, sizing.kerf) for part in demands),
        tuple(
            (1 if size.on_hand is None else size.on_hand) if size.is_offcut else size.on_hand
            for size in problem.sizes
        ),
        sizing,
        sources,
    )
    _check_fits(problem, task, demands, grid, longest)
    shop = Shop(grid, sizing.kerf, sizing.sacrificial, sizing.ends, demands, problem.least_offcut, names)
    return Setup(task, shop, problem.sizes, trims, unit, is_complete)


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
                pieces.append(Piece(demand, grid.ticks(part.length), _block_width(part, grid, kerf)))
            continue
        length, width = grid.ticks(part.length), grid.ticks(part.width)
        pieces.append(Piece(demand, width, length) if transposed else Piece(demand, length, width))
        if part.can_turn and length != width:
            turned = Piece(demand, length, width, True) if transposed else Piece(demand, width, length, True)
            pieces.append(turned)
    return pieces


def _block_width(block: MatchedSet, grid: Grid, kerf: int) -> int:
    return sum(grid.ticks(width) for width in block.widths) + kerf * (len(block.widths) - 1)


def _count(part: PartDemand) -> int:
    return 1 if isinstance(part, MatchedSet) else part.count


def _area(part: PartDemand, grid: Grid, kerf: int) -> int:
    if isinstance(part, MatchedSet):
        return grid.ticks(part.length) * _block_width(part, grid, kerf)
    across = part.height if isinstance(part, StripDemand) else part.width
    return grid.ticks(part.length) * grid.ticks(across)


def _check_entries(problem: SheetProblem) -> None:
    parts: list[StripDemand | LooseDemand] = [*problem.strips, *problem.loose]
    for part in parts:
        across = part.height if isinstance(part, StripDemand) else part.width
        if part.count < 0:
            raise InvalidValueError(
                phrase(
                    "{key}: a count must be zero or more, not {count}", key=name_of(part), count=part.count
                )
            )
        if part.length <= 0 or across <= 0:
            raise InvalidValueError(
                phrase(
                    "{key}: a part must have a length and a width above zero, not {length} × {across} mm",
                    key=name_of(part),
                    length=part.length,
                    across=across,
                )
            )
    for block in problem.matched:
        if not block.keys or len(block.keys) != len(block.widths):
            raise InvalidValueError(
                phrase("{label}: a matched set needs one width for each of its parts", label=block.label)
            )
        if block.length <= 0 or min(block.widths) <= 0:
            raise InvalidValueError(
                phrase("{label}: every part of a matched set must have a size above zero", label=block.label)
            )
    for size in problem.sizes:
        if size.length <= 0 or size.width <= 0:
            raise InvalidValueError(
                phrase("{label}: a sheet must have a length and a width above zero", label=size.label)
            )
        if size.on_hand is not None and size.on_hand < 0:
            raise InvalidValueError(
                phrase(
                    "{label}: the number on hand must be zero or more, not {on_hand}",
                    label=size.label,
                    on_hand=size.on_hand,
                )
            )
        if size.price is not None and not (math.isfinite(size.price) and size.price >= 0):
            raise InvalidValueError(
                phrase(
                    "{label}: a price must be zero or more, not {price}", label=size.label, price=size.price
                )
            )
    if problem.band_rules.sacrificial_ends not in (0, 1, 2):
        raise InvalidValueError(
            phrase(
                "a band has sacrificial strips at 0, 1 or 2 ends, not {sacrificial_ends}",
                sacrificial_ends=problem.band_rules.sacrificial_ends,
            )
        )


def _size(grid: Grid, length: int, width: int) -> Phrase:
    """Two lengths of the grid, for a message."""
    sides = {"length": millimetres(grid.mm(length), ".1f"), "width": millimetres(grid.mm(width), ".1f")}
    return Phrase("{length} × {width}", sides)


def _check_fits(
    problem: SheetProblem,
    task: Task,
    demands: tuple[PartDemand, ...],
    grid: Grid,
    longest: int | None,
) -> None:
    if any(_count(part) for part in demands) and not problem.sizes:
        raise NoPlanError(phrase("{stock} has no sheet to cut from: add a sheet size", stock=problem.stock))
    faults = [
        fault for part in demands if _count(part) and (fault := _misfit(problem, task, part, grid, longest))
    ]
    if faults:
        raise NoPlanError(joined(faults, "\n"))


def _gone(task: Task) -> list[Frame]:
    """Sheets of which none is left."""
    return [frame for frame in task.frames if not frame.transposed and task.limits[frame.size] == 0]


def _misfit(
    problem: SheetProblem,
    task: Task,
    part: PartDemand,
    grid: Grid,
    longest: int | None,
) -> Phrase | None:
    """Why `part` fits no sheet, and what would make it fit; None when it does."""
    name = name_of(part)
    if isinstance(part, StripDemand):
        band = task.sizing.band(0, grid.ticks(part.length), ())
        alone = max(grid.ticks(part.height) + task.sizing.overhead, task.sizing.shortest)
        if longest is not None and alone > longest:
            return phrase(
                "{name}: its band is {band} along the routed edge with its sacrificial "
                "strips, but the router table takes {longest}: narrow the sacrificial strips or "
                "make this part by itself",
                name=name,
                band=millimetres(grid.mm(alone), ".1f"),
                longest=millimetres(grid.mm(longest), ".1f"),
            )
        u, v, can_turn = band.u, alone, part.can_turn
        what = phrase("its smallest band, {size},", size=_size(grid, u, v))
    elif isinstance(part, MatchedSet):
        u, v, can_turn = grid.ticks(part.length), _block_width(part, grid, task.sizing.kerf), False
        what = phrase("its block, {size} with kerfs,", size=_size(grid, u, v))
    else:
        u, v, can_turn = grid.ticks(part.length), grid.ticks(part.width), part.can_turn
        what = _size(grid, u, v)
    upright = [frame for frame in task.frames if not frame.transposed and task.limits[frame.size] != 0]
    if any(u <= f.length and v <= f.width for f in upright):
        return None
    turned_fits = any(v <= f.length and u <= f.width for f in upright)
    if can_turn and turned_fits:
        return None
    gone = next((problem.sizes[f.size] for f in _gone(task) if u <= f.length and v <= f.width), None)
    if gone is not None:
        remedy = phrase("it needs one of {size}, of which none is on hand", size=gone.label)
    elif isinstance(part, MatchedSet):
        remedy = phrase("split the set into two, or use a larger sheet")
    elif turned_fits:
        remedy = phrase("it would fit turned by a quarter: allow that if its grain may run the other way")
    else:
        remedy = phrase("use a larger sheet, trim less, or make the part smaller")
    largest = max(upright, key=lambda f: f.length * f.width, default=None)
    size = (
        phrase("no sheet is on hand")
        if largest is None
        else phrase(
            "the largest sheet leaves {size} after trimming",
            size=_size(grid, largest.length, largest.width),
        )
    )
    return phrase(
        "{name}: {what} fits no sheet of {stock} ({size}): {remedy}",
        name=name,
        what=what,
        stock=problem.stock,
        size=size,
        remedy=remedy,
    )
