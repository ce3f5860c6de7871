"""What everything is called in the shop: bands by a number, strips and loose parts by the part that they become."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from drawerwright.basics.names import counted, names_in_row
from drawerwright.basics.phrases import Phrase, joined
from drawerwright.drawers.parts import Part, PartEnd, PartKind
from drawerwright.sheets.from_parts import StockBlanks
from drawerwright.sheets.patterns import PlacedBand, PlacedLoose, SheetLayout
from drawerwright.sheets.problem import SheetPlan


@dataclass(frozen=True, slots=True)
class PartName:
    """One part of the job: no two have the same drawer and kind."""

    drawer: str
    kind: PartKind

    @classmethod
    def of(cls, part: Part) -> PartName:
        """The name of a part."""
        return cls(part.drawer, part.kind)


@dataclass(frozen=True, slots=True)
class BandMark:
    """A band as it is marked before it leaves its sheet.

    `number` counts the bands of the whole job. `parts` are what its strips become, in the order in which they lie;
    `marked` when its two routed edges differ: the end whose edge has to be marked.
    """

    number: int
    stock: str
    placed: PlacedBand
    parts: tuple[PartName, ...]
    marked: PartEnd | None


@dataclass(frozen=True, slots=True)
class LooseMark:
    """A loose part as it is marked on its sheet."""

    part: PartName
    placed: PlacedLoose


def mark_bands(plans: Sequence[SheetPlan], blanks: Sequence[StockBlanks]) -> tuple[BandMark, ...]:
    """Every band of a job with its number, sheet after sheet. `blanks` belong to `plans`, stock by stock."""
    placed = [
        (stock, band)
        for plan, stock in zip(plans, blanks, strict=True)
        for layout in plan.layouts
        for band in layout.bands
    ]
    return tuple(
        BandMark(
            number,
            stock.stock.name,
            band,
            tuple(PartName.of(stock.part(strip.key, strip.number)) for strip in band.strips),
            stock.family(band.family).marked,
        )
        for number, (stock, band) in enumerate(placed, start=1)
    )


def mark_loose(layout: SheetLayout, blanks: StockBlanks) -> tuple[LooseMark, ...]:
    """Every loose part of a sheet with its name."""
    return tuple(
        LooseMark(PartName.of(blanks.part(placed.key, placed.number)), placed) for placed in layout.loose
    )


def parts_named(parts: Iterable[PartName]) -> Phrase:
    """Parts in as few words as name every one of them.

    >>> sides = [PartName(f"A{n}", kind) for n in (2, 1, 3, 5) for kind in (PartKind.LEFT, PartKind.RIGHT)]
    >>> parts_named([*sides, PartName("Tray 1", PartKind.BACK)])
    'A1–A3, A5 left side, right side; Tray 1 back'
    """
    drawers: dict[PartKind, list[str]] = {}
    for part in parts:
        drawers.setdefault(part.kind, []).append(part.drawer)
    kinds: dict[tuple[str, ...], list[PartKind]] = {}
    for kind, names in drawers.items():
        kinds.setdefault(tuple(sorted(names, key=counted)), []).append(kind)
    return joined(
        (
            joined((names_in_row(names), joined((kind.words for kind in alike), ", ")), " ")
            for names, alike in kinds.items()
        ),
        "; ",
    )


def sheets_in_row(sheets: Iterable[int], stacks: Iterable[tuple[int, ...]]) -> str:
    """Numbers of sheets, those that are cut as a stack with a plus between them.

    >>> sheets_in_row([1, 2, 3, 5, 6, 7], [(1,), (2, 3), (4,), (5,), (6,), (7,)])
    '1, 2+3, 5–7'
    """
    named = set(sheets)
    together = [stack for stack in stacks if len(stack) > 1 and named.issuperset(stack)]
    told = {stack[0]: "+".join(map(str, stack)) for stack in together}
    alone: list[int] = []
    row: list[str] = []
    for number in (*sorted(named.difference(*together) | told.keys()), None):
        if number is not None and number not in told:
            alone.append(number)
            continue
        row += [numbers_in_row(alone)] if alone else []
        row += [told[number]] if number is not None else []
        alone = []
    return ", ".join(row)


def numbers_in_row(numbers: Iterable[int]) -> str:
    """Numbers of bands or cuts.

    >>> numbers_in_row([1, 2, 3, 5, 6])
    '1–3, 5, 6'
    """
    return names_in_row([str(number) for number in numbers])
