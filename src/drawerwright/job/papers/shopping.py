"""Everything that a job takes: sheets, runners, pulls, screws, edging, glue.

Each line is filled once; packet and workbook tell it in their ways.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import MM_PER_FOOT, LengthStyle, Mm, millimetres
from drawerwright.basics.loads import GRAMS_PER_OUNCE, WrittenGrams, WrittenLoad, WrittenSpread
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.basics.told_lengths import WrittenRun
from drawerwright.drawings.packet import Align, PacketTable
from drawerwright.job.papers.data_table import Column, DataTable, Quantity
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.edging import edging_work
from drawerwright.run.fixings import screws_of
from drawerwright.run.gluing import LOST, SPREAD, drawers_by_glue
from drawerwright.run.prices import Pack
from drawerwright.run.rail_work import RAILS_IN_A_DRAWER, rail_work

EDGING_LOST = 0.10
"""Of edging, for ends that are trimmed off (common practice, no source)."""
MM_PER_M = 1000.0
_ALIGN: tuple[Align, ...] = ("left", "left", "right", "right", "left")
"""Of the packet's list: what it is and how large, how much, what it costs, what is said of it."""
_COST = 3
"""Which of them is left out where nothing has a price."""


class AmountUnit(StrEnum):
    """What the amount of a line counts."""

    PIECE = "piece"
    PAIR = "pair"
    RUN = "run"
    """mm"""
    GRAM = "gram"


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One thing to have ready: what, of which size, how much of it, and what is to be said of it.

    `length` and `width` (mm) are those of a sheet, `length` that of a runner, a rail or a screw. `price` is that of one
    where it is known; what comes in packs has its `pack` instead.
    """

    item: str
    size: str
    amount: float
    measure: AmountUnit = AmountUnit.PIECE
    length: Mm | None = None
    width: Mm | None = None
    price: float | None = None
    pack: Pack | None = None
    note: str = ""

    @property
    def quantity(self) -> str:
        """How much, in words."""
        if self.measure is AmountUnit.RUN:
            return Phrase("{run}", {"run": WrittenRun(self.amount)})
        if self.measure is AmountUnit.GRAM:
            return Phrase("{glue}", {"glue": WrittenGrams(round(self.amount))})
        count = round(self.amount)
        if self.measure is AmountUnit.PAIR:
            return phrase("{count} pairs", count=count) if count != 1 else phrase("1 pair")
        return str(count)

    @property
    def packs(self) -> int | None:
        """How many packs to buy; None for what comes in none, or in packs that nobody has described."""
        return None if self.pack is None else self.pack.packs(self.amount)

    @property
    def cost(self) -> float | None:
        """What it costs, packs being bought whole; None where no price is known."""
        if self.pack is not None:
            return None if self.pack.price is None else self.pack.price * self.pack.packs(self.amount)
        return None if self.price is None else self.price * self.amount

    @property
    def remark(self) -> str:
        """What is said of it, with the packs that it takes."""
        return joined([said for said in (self._packs_in_words(), self.note) if said], "; ")

    def _packs_in_words(self) -> str:
        if self.pack is None or self.packs is None:
            return ""
        if self.measure is AmountUnit.RUN:
            run = WrittenRun(self.pack.holds)
            return plural("{count} roll of {run}", "{count} rolls of {run}", self.packs, run=run)
        if self.measure is AmountUnit.GRAM:
            glue = WrittenGrams(self.pack.holds)
            return plural("{count} bottle of {glue}", "{count} bottles of {glue}", self.packs, glue=glue)
        pieces = f"{self.pack.holds:g}"
        return plural("{count} box of {pieces}", "{count} boxes of {pieces}", self.packs, pieces=pieces)


def shopping_lines(plan: JobPlan) -> tuple[ShoppingLine, ...]:
    """All of it, what is bought first."""
    lengths = PaperLengths(plan.job.style)
    return (
        *_sheets(plan),
        *_runners(plan, lengths),
        *_rails(plan, lengths),
        *_pulls(plan, lengths),
        *_screws(plan, lengths),
        *_edging(plan, lengths),
        *_glue(plan),
    )


def shopping_table(plan: JobPlan) -> PacketTable:
    """The list for the packet, with what costs how much in all."""
    lines = shopping_lines(plan)
    costs = [line.cost for line in lines if line.cost is not None]
    rows = [(line.item, line.size, line.quantity, _money(line.cost), line.remark) for line in lines]
    if len(costs) > 1:
        said = phrase("all that is listed") if len(costs) == len(lines) else phrase("what has a price")
        rows.append((phrase("in all"), "", "", _money(sum(costs)), said))
    head: tuple[str, ...] = (phrase("Item"), phrase("Size"), phrase("Quantity"), phrase("Cost"), "")
    shown = [place for place in range(len(head)) if costs or place != _COST]
    return PacketTable(
        tuple(head[place] for place in shown),
        tuple(tuple(row[place] for place in shown) for row in rows),
        title=phrase("Shopping list"),
        note=phrase(
            "Sheets as planned, nothing added; {edging:.0f} % more edging for trimming, "
            "{glue:.0f} % more glue for what is lost.",
            edging=100 * EDGING_LOST,
            glue=100 * LOST,
        ),
        align=tuple(_ALIGN[place] for place in shown),
    )


def shopping_data(plan: JobPlan) -> DataTable:
    """The same list as numbers: each amount with its unit in a column of its own."""
    style = plan.job.style
    rows = tuple(
        (
            line.item,
            line.size,
            line.length,
            line.width,
            _counted(line, style),
            _unit(line, style),
            line.price if line.pack is None else line.pack.price,
            line.packs,
            line.cost,
            line.remark,
        )
        for line in shopping_lines(plan)
    )
    return DataTable(
        phrase("Shopping list"),
        (
            Column("item", phrase("Item")),
            Column("size", phrase("Size")),
            Column("length", phrase("Length"), Quantity.LENGTH),
            Column("width", phrase("Width"), Quantity.LENGTH),
            Column("amount", phrase("Quantity"), Quantity.NUMBER),
            Column("unit", phrase("Unit")),
            Column("price", phrase("Price of one or of a pack"), Quantity.MONEY),
            Column("packs", phrase("Packs"), Quantity.NUMBER),
            Column("cost", phrase("Cost"), Quantity.MONEY),
            Column("remark", phrase("Remark")),
        ),
        rows,
        summed=("cost",),
    )


def _counted(line: ShoppingLine, style: LengthStyle) -> float | int:
    if line.measure is AmountUnit.RUN:
        return round(line.amount / (MM_PER_M if style.unit == "mm" else MM_PER_FOOT), 1)
    if line.measure is AmountUnit.GRAM and style.unit != "mm":
        return round(line.amount / GRAMS_PER_OUNCE, 1)
    return round(line.amount)


def _unit(line: ShoppingLine, style: LengthStyle) -> str:
    if line.measure is AmountUnit.RUN:
        return "m" if style.unit == "mm" else "ft"
    if line.measure is AmountUnit.GRAM:
        return "g" if style.unit == "mm" else "oz"
    return phrase("pairs") if line.measure is AmountUnit.PAIR else phrase("pieces")


def _money(cost: float | None) -> str:
    return "" if cost is None else money_words(cost)


def money_words(amount: float) -> Phrase:
    """An amount of money in any currency, with two decimals.

    >>> str(money_words(-56.0))
    '−56.00'
    """
    return Phrase("−{amount:.2f}" if amount < 0 else "{amount:.2f}", {"amount": abs(amount)})


def _sheets(plan: JobPlan) -> Iterator[ShoppingLine]:
    for stock in plan.stocks:
        thickness = stock.blanks.stock.thickness
        for line in stock.sheets.shopping_list:
            proof = phrase("fewest, proven") if stock.sheets.proven else phrase("best so far")
            yield ShoppingLine(
                stock.blanks.stock.name,
                line.size.label,
                line.count,
                length=line.size.length,
                width=line.size.width,
                price=None if line.cost is None else line.cost / line.count,
                note=phrase(
                    "{nominal} nominal, {value} used; {remark}",
                    nominal=millimetres(thickness.nominal, "g"),
                    value=millimetres(thickness.value),
                    remark=phrase("offcut") if line.size.is_offcut else proof,
                ),
            )


def _runners(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    counts: Counter[tuple[str, float | None, float | None, float | None]] = Counter()
    for use in plan.runner_uses:
        counts[use.name or use.kind.words, use.length, use.rating, use.price] += use.pairs
    for (name, length, rating, price), pairs in counts.items():
        yield ShoppingLine(
            name,
            "" if length is None else lengths.bought(length),
            pairs,
            AmountUnit.PAIR,
            length=length,
            price=price,
            note="" if rating is None else phrase("a pair carries {load}", load=WrittenLoad(rating)),
        )


def _rails(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    counts: Counter[tuple[float, float]] = Counter()
    for work in rail_work(plan.job.all_boxes):
        counts[work.rails.hangers.rail, work.rails.length] += RAILS_IN_A_DRAWER * len(work.drawers)
    for (thick, length), count in counts.items():
        yield ShoppingLine(
            phrase("rails for folders, {thickness} thick", thickness=lengths.bought(thick)),
            lengths.coarse(length),
            count,
            length=length,
        )


def _pulls(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    counts: Counter[tuple[float, float, float | None]] = Counter()
    for bank in plan.job.banks:
        pull = bank.bank.pull
        if pull is not None:
            counts[pull.spacing, pull.hole, pull.price] += len(bank.boxes)
    for (spacing, hole, price), count in counts.items():
        yield ShoppingLine(
            phrase("pulls") if spacing else phrase("knobs"),
            phrase("holes {spacing} apart", spacing=lengths.bought(spacing))
            if spacing
            else phrase("one hole"),
            count,
            price=price,
            note=phrase("drilled {hole}; with their screws", hole=lengths.bought(hole)),
        )


def _screws(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    for screws in screws_of(plan.draft.assembled, plan.job.style):
        yield ShoppingLine(
            phrase("screws for {purposes}", purposes=joined(screws.purposes, ", ")),
            phrase("{length} long at most", length=lengths.bought(screws.length)),
            screws.count,
            length=screws.length,
            pack=plan.job.prices.screws,
        )


def _edging(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    runs: dict[tuple[float, float], float] = {}
    for work in edging_work(plan.parts):
        parts = [part for part in plan.parts if part.banding == work.thickness]
        kind = work.thickness, max(part.thickness for part in parts)
        runs[kind] = runs.get(kind, 0.0) + work.length
    for (thickness, wide), length in runs.items():
        yield ShoppingLine(
            phrase("edging {thickness} thick", thickness=lengths.bought(thickness)),
            phrase("for edges of {wide}", wide=lengths.fine(wide)),
            length * (1 + EDGING_LOST),
            AmountUnit.RUN,
            pack=plan.job.prices.edging,
        )


def _glue(plan: JobPlan) -> Iterator[ShoppingLine]:
    grams = sum(drawers_by_glue(plan.draft.assembled, plan.draft.made).values())
    yield ShoppingLine(
        phrase("wood glue"),
        phrase("white or yellow"),
        5 * math.ceil(grams / 5),
        AmountUnit.GRAM,
        pack=plan.job.prices.glue,
        note=phrase("{spread} of one face (common practice)", spread=WrittenSpread(SPREAD)),
    )
