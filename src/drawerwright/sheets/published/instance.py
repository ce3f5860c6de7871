"""Published cutting-stock instances through the same planner: reading, solving, writing.

An instance is the object described in docs/sheets.md (sheet or sheets, kerf, stages, cut_type, first_cut,
rotation, objective, items). Lengths are mm; parts a1..an fit a length D when a1+..+an + (n-1)*kerf <= D.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from drawerwright.basics.errors import InvalidValueError, NoPlanError
from drawerwright.sheets.grid import Grid
from drawerwright.sheets.published.instance_entries import check_instance
from drawerwright.sheets.solver.columns import FilledSheet, Frame, Piece, RowOfPieces, Sizing
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.pieces import PieceStacks
from drawerwright.sheets.solver.filling.stacks import StackSource
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.search.by_width import search_by_width
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.sure_bound import sure_bound
from drawerwright.sheets.solver.task import Task

OBJECTIVES = ("min_sheets", "min_cost", "min_bars")


@dataclass(frozen=True, slots=True)
class InstanceResult:
    """The answer to an instance. `patterns` has one entry for every sheet: its bands with their parts."""

    name: str
    value: float
    lower_bound: float
    proven: bool
    seconds: float
    patterns: list[list[dict[str, Any]]]

    def as_json(self) -> dict[str, Any]:
        """Plain data, lengths in mm."""
        return {
            "name": self.name,
            "value": self.value,
            "lower_bound": self.lower_bound,
            "proven": self.proven,
            "seconds": round(self.seconds, 4),
            "patterns": self.patterns,
        }


@dataclass(frozen=True, slots=True)
class _Entry:
    """A part of an instance in ticks; in one dimension its width is 0."""

    length: int
    width: int
    demand: int


@dataclass(frozen=True, slots=True)
class Instance:
    """An instance as the planner sees it."""

    name: str
    task: Task
    grid: Grid
    entries: tuple[_Entry, ...]
    cost_unit: Fraction
    one_dimensional: bool
    along: bool


def solve_instance(
    data: Mapping[str, Any],
    *,
    time_limit: float,
    began: float | None = None,
    progress: Callable[[float | None, float, float], None] | None = None,
    cancelled: Callable[[], bool] = lambda: False,
) -> InstanceResult:
    """Solve one instance.

    Args:
        data: the instance object.
        time_limit: seconds of the processor, less those that have gone since `began`.
        began: a `time.monotonic` reading (now).
        progress: told the best value so far (None: none yet), a value that none can undercut, and the seconds.
        cancelled: asked often; True returns the best so far.

    Raises:
        InvalidValueError: an entry is missing or not understood, or its kind of cutting is not supported.
        NoPlanError: a part fits no sheet, or the sheets do not suffice.
    """
    began = time.monotonic() if began is None else began
    instance = read_instance(data)
    unit = instance.cost_unit

    def report(cost: int | None, bound: int) -> None:
        if progress is not None:
            best = None if cost is None else _plain(cost * unit)
            progress(best, _plain(bound * unit), time.monotonic() - began)

    watch = Watch.lasting(time_limit - (time.monotonic() - began), cancelled, report)
    outcome = search_by_width(instance.task, watch) or search(instance.task, watch)
    if outcome.sheets is None:
        raise NoPlanError(
            f"{instance.name}: the sheets on hand do not hold all parts: allow more sheets or ask for fewer parts"
        )
    outcome = replace(outcome, bound=sure_bound(instance.task, outcome, watch))
    return _result(instance, outcome, time.monotonic() - began)


def read_instance(data: Mapping[str, Any]) -> Instance:
    """Read an instance object; see `solve_instance` for what is refused."""
    check_instance(data)
    name = str(data.get("name", "instance"))
    _check_kind(name, data)
    sheets = data.get("sheets") or [_need(data, "sheet", name)]
    one_dimensional = sheets[0].get("width") is None
    items = _need(data, "items", name)
    kerf = float(data.get("kerf", 0))
    lengths = [kerf]
    for entry in (*sheets, *items):
        lengths += [
            float(entry[field]) for field in (("length",) if one_dimensional else ("length", "width"))
        ]
    grid = Grid.of(lengths)
    ticks = grid.ticks
    entries = []
    for item in items:
        width = 0 if one_dimensional else ticks(item["width"])
        entries.append(_Entry(ticks(item["length"]), width, item["demand"]))
    along = data.get("first_cut") == "along_length"
    either = data.get("first_cut") == "any" and not one_dimensional
    costs, unit = _costs(name, data, sheets)
    frames: list[Frame] = []
    for number, (sheet, cost) in enumerate(zip(sheets, costs, strict=True)):
        length = ticks(sheet["length"])
        if one_dimensional:
            frames.append(Frame(number, 1, length, cost))
            continue
        width = ticks(sheet["width"])
        if either or not along:
            frames.append(Frame(number, length, width, cost))
        if either or along:
            frames.append(Frame(number, width, length, cost, True))
    sources = _sources(data, frames, entries, ticks(kerf), one_dimensional)
    limits = tuple(sheet.get("count") for sheet in sheets)
    areas = tuple(entry.length * (entry.width or 1) for entry in entries)
    demand_counts = tuple(entry.demand for entry in entries)
    task = Task(tuple(frames), demand_counts, areas, limits, Sizing(ticks(kerf)), sources)
    reachable = frozenset().union(*(source.demands for source in sources.values()))
    for number, entry in enumerate(entries):
        if entry.demand and number not in reachable:
            raise NoPlanError(
                f"{name}: part {number} ({items[number]['length']} × {items[number].get('width')}) fits no sheet: "
                "use a larger sheet, or let parts turn"
            )
    return Instance(name, task, grid, tuple(entries), unit, one_dimensional, along)


def _check_kind(name: str, data: Mapping[str, Any]) -> None:
    objective = data.get("objective", "min_sheets")
    if objective not in OBJECTIVES:
        raise InvalidValueError(
            f"{name}: the objective {objective!r} is not supported: it may be {', '.join(OBJECTIVES)}"
        )
    stages, kind = data.get("stages", 2), data.get("cut_type", "exact" if data.get("exact") else "non-exact")
    allowed = {(1, "any"), (1, "exact"), (1, "non-exact"), (2, "exact"), (2, "non-exact")}
    allowed |= {(3, "non-exact"), (3, "homogenous")}
    if (stages, kind) not in allowed:
        raise InvalidValueError(
            f"{name}: cutting in {stages or 'any number of'} stages, {kind}, is not supported: "
            "it may be 1 (bars), 2 exact, 2 non-exact, 3 non-exact or 3 homogenous"
        )
    first = data.get("first_cut", "across_length")
    if first not in ("across_length", "along_length", "any"):
        raise InvalidValueError(
            f"{name}: first_cut must be across_length, along_length or any, not {first!r}"
        )


def _sources(
    data: Mapping[str, Any],
    frames: list[Frame],
    entries: list[_Entry],
    kerf: int,
    one_dimensional: bool,
) -> dict[bool, StackSource]:
    sources: dict[bool, StackSource] = {}
    turning = bool(data.get("rotation")) and not one_dimensional
    for transposed in sorted({frame.transposed for frame in frames}):
        same_way = [frame for frame in frames if frame.transposed == transposed]
        tallest, widest = max(f.width for f in same_way), max(f.length for f in same_way)
        pieces: list[Piece] = []
        for number, entry in enumerate(entries):
            ways = [(entry.length, entry.width, False)]
            if turning and entry.length != entry.width:
                ways.append((entry.width, entry.length, True))
            for x, y, turned in ways:
                u, v = (1, x) if one_dimensional else (y, x) if transposed else (x, y)
                if any(u <= frame.length and v <= frame.width for frame in same_way):
                    pieces.append(Piece(number, u, v, turned))
        if data.get("stages") == 3:
            rows = BandStacks(
                (),
                pieces,
                Sizing(kerf),
                longest=tallest,
                tallest=tallest,
                widest=widest,
                lengths={frame.length for frame in same_way},
                copies=[entry.demand for entry in entries],
                alike=data.get("cut_type") == "homogenous",
            )
            sources[transposed] = rows
        else:
            exact = one_dimensional or data.get("cut_type", "exact" if data.get("exact") else "") == "exact"
            sources[transposed] = PieceStacks(pieces, kerf=kerf, tallest=tallest, exact=exact)
    return sources


def _costs(name: str, data: Mapping[str, Any], sheets: list[Any]) -> tuple[list[int], Fraction]:
    if data.get("objective") != "min_cost":
        return [1] * len(sheets), Fraction(1)
    exact = [Fraction(str(_need(sheet, "cost", name))) for sheet in sheets]
    scale = max(cost.denominator for cost in exact)
    while any((cost * scale).denominator > 1 for cost in exact):
        scale *= max((cost * scale).denominator for cost in exact)
    return [int(cost * scale) for cost in exact], Fraction(1, scale)


def _need(data: Mapping[str, Any], field: str, name: str) -> Any:
    if not isinstance(data, dict) or data.get(field) is None:
        raise InvalidValueError(f"{name}: the entry {field!r} is missing")
    return data[field]


def _result(instance: Instance, outcome: Outcome, seconds: float) -> InstanceResult:
    assert outcome.sheets is not None
    return InstanceResult(
        instance.name,
        _plain(outcome.cost * instance.cost_unit),
        _plain(outcome.bound * instance.cost_unit),
        outcome.is_proven,
        seconds,
        [_pattern(instance, sheet) for sheet in outcome.sheets],
    )


def _plain(value: Fraction) -> float:
    return int(value) if value.denominator == 1 else float(value)


def _pattern(instance: Instance, sheet: FilledSheet) -> list[dict[str, Any]]:
    """Bands in order; `position` of a band along the first-cut direction, of a part within its band.

    Parts also carry `x` and `y` of their lower-left corner on the sheet.
    """
    frame = instance.task.frames[sheet.frame]
    mm, kerf = instance.grid.mm, instance.task.sizing.kerf
    bands = []
    u = 0
    for stack in sheet.stacks:
        parts = []
        v = 0
        for element in stack.elements:
            start = u
            for piece in element.pieces if isinstance(element, RowOfPieces) else (element,):
                assert isinstance(piece, Piece)
                entry = instance.entries[piece.demand]
                part: dict[str, Any] = {"item": piece.demand, "position": mm(v), "length": mm(entry.length)}
                if not instance.one_dimensional:
                    x, y = (v, start) if frame.transposed else (start, v)
                    part |= {"width": mm(entry.width), "turned": piece.turned, "x": mm(x), "y": mm(y)}
                parts.append(part)
                start += piece.u + kerf
            v += element.v + kerf
        band: dict[str, Any] = {"sheet": frame.size, "position": mm(u), "parts": parts}
        if not instance.one_dimensional:
            band["width"] = mm(stack.u)
            band["first_cut"] = "along_length" if frame.transposed else "across_length"
        bands.append(band)
        u += stack.u + kerf
    return bands
