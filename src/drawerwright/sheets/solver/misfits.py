"""What can never be cut: entries that cannot be meant, and parts that fit no sheet."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.errors import InvalidValueError, NoPlanError
from drawerwright.basics.lengths import millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.basics.told_lengths import SizeWords
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, PartDemand, StripDemand, name_of
from drawerwright.sheets.grid import Grid
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.solver.columns import Frame
from drawerwright.sheets.solver.part_sizes import block_width
from drawerwright.sheets.solver.task import Task


def check_entries(problem: SheetProblem) -> None:
    """Refuse what cannot be meant.

    Raises:
        InvalidValueError: a count, size, price or number of sacrificial strips that there cannot be.
    """
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
        if size.price is not None and size.price < 0:
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


def check_fits(
    problem: SheetProblem,
    task: Task,
    sheets: Sequence[Frame],
    demands: tuple[PartDemand, ...],
    grid: Grid,
    longest: int | None,
) -> None:
    """Refuse parts that fit no sheet, all at once.

    Args:
        sheets: every sheet of the stock, those too that nothing fits, of which the task knows no more.

    Raises:
        NoPlanError: one line for each, with the reason and a remedy.
    """
    if any(part.count for part in demands) and not problem.sizes:
        raise NoPlanError(phrase("{stock} has no sheet to cut from: add a sheet size", stock=problem.stock))
    faults: list[Phrase] = []
    keys: list[str] = []
    for part in demands:
        if part.count and (fault := _misfit(problem, task, sheets, part, grid, longest)):
            faults.append(fault)
            keys += part.keys if isinstance(part, MatchedSet) else (part.key,)
    if faults:
        raise NoPlanError(joined(faults, "\n"), keys)


def _misfit(
    problem: SheetProblem,
    task: Task,
    sheets: Sequence[Frame],
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
                "{name}: its band is {band} along the routed edge with its sacrificial strips, "
                "but the router table takes {longest}: narrow the sacrificial strips or make "
                "this part on its own.",
                name=name,
                band=millimetres(grid.mm(alone), ".1f"),
                longest=millimetres(grid.mm(longest), ".1f"),
            )
        u, v, can_turn = band.u, alone, part.can_turn
        what = phrase("the smallest band, {size},", size=_size(grid, u, v))
    elif isinstance(part, MatchedSet):
        u, v, can_turn = grid.ticks(part.length), block_width(part, grid, task.sizing.kerf), False
        what = phrase("the block, {size} with kerfs,", size=_size(grid, u, v))
    else:
        u, v, can_turn = grid.ticks(part.length), grid.ticks(part.width), part.can_turn
        what = _size(grid, u, v)
    upright = [frame for frame in sheets if not frame.transposed and task.limits[frame.size] != 0]
    if any(u <= f.length and v <= f.width for f in upright):
        return None
    turned_fits = any(v <= f.length and u <= f.width for f in upright)
    if can_turn and turned_fits:
        return None
    used_up = [frame for frame in sheets if not frame.transposed and task.limits[frame.size] == 0]
    gone = next((problem.sizes[f.size] for f in used_up if u <= f.length and v <= f.width), None)
    if gone is not None:
        remedy = phrase("it needs one of {size}, of which none is on hand", size=gone.label)
    elif isinstance(part, MatchedSet):
        remedy = phrase("split the set into two, or use a larger sheet")
    elif turned_fits:
        remedy = phrase("it would fit turned 90°: allow that if its grain may run the other way")
    else:
        remedy = phrase("use a larger sheet, trim less, or plan smaller parts")
    largest = max(upright, key=lambda f: f.length * f.width, default=None)
    size = (
        phrase("no sheet is on hand")
        if largest is None
        else phrase(
            "the largest sheet, {label}, leaves {size} after trimming",
            label=problem.sizes[largest.size].label,
            size=SizeWords(grid.mm(largest.length), grid.mm(largest.width)),
        )
    )
    return phrase(
        "{name}: {what} fits no sheet of {stock} ({size}): {remedy}.",
        name=name,
        what=what,
        stock=problem.stock,
        size=size,
        remedy=remedy,
    )
