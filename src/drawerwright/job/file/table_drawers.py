"""Drawers from a table: a row is a plain box of the job file, several equal ones, or a front of a bank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from drawerwright.basics.errors import Fault
from drawerwright.basics.lengths import millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.job.file.table_bank_fields import BANK_ENTRIES, BANK_FIELDS
from drawerwright.job.file.table_banks import TableBank, banks_of_rows
from drawerwright.job.file.table_box_entries import BOX_ENTRIES, put_box, without_stock
from drawerwright.job.file.table_cells import ReadRow, no_column, place_of_field, read_rows
from drawerwright.job.file.table_columns import MatchedTable, TableField
from drawerwright.job.file.table_duties import BOX_FIELDS, DUTY_ENTRIES, DUTY_FIELDS, put_duty

DRAWER_FIELDS = (
    TableField(
        "drawer",
        phrase("Drawer"),
        ("name", "box", "label", "schublade", "bezeichnung", "kasten"),
        False,
        True,
    ),
    TableField(
        "count",
        phrase("Quantity"),
        ("number", "nummer", "qty", "quantity", "pieces", "anzahl", "stück", "menge"),
    ),
    TableField("width", phrase("Outer width"), ("breite", "außenbreite", "breite außen"), True, True),
    TableField("depth", phrase("Outer depth"), ("tiefe", "außentiefe", "tiefe außen"), True, True),
    TableField(
        "height",
        phrase("Height of the sides"),
        ("side height", "höhe der seiten", "höhe", "seitenhöhe"),
        True,
        True,
    ),
    TableField("front_height", phrase("Height of the front"), ("höhe der front", "fronthöhe"), True),
    TableField("front_below", phrase("Front below the sides"), ("front unter den seiten",), True),
    TableField("lip", phrase("Lip"), ("überstand",), True),
    TableField("lip_right", phrase("Lip on the right"), ("überstand rechts",), True),
    TableField("stock", phrase("Stock"), ("material",)),
    TableField(
        "front",
        phrase("Stock of the front"),
        ("front stock", "material der front", "material des vorderstücks"),
    ),
    TableField("sides", phrase("Stock of the sides"), ("side stock", "material der seiten")),
    TableField("back", phrase("Stock of the back"), ("back stock", "material des hinterstücks")),
    TableField("bottom", phrase("Bottom"), ("boden",)),
    TableField("bottom_stock", phrase("Stock of the bottom"), ("material des bodens",)),
    TableField("groove_depth", phrase("Groove depth"), ("nuttiefe",), True),
    TableField("groove_height", phrase("Groove height"), ("nuthöhe",), True),
    TableField("groove_play", phrase("Groove play"), ("nutspiel",), True),
    TableField("clearance", phrase("Clearance of the bottom"), ("spiel des bodens",), True),
    TableField("bottom_oversize", phrase("Bottom cut larger by"), ("boden größer zuschneiden um",), True),
    TableField(
        "edging",
        phrase("Edging of the upper edges"),
        ("edging", "kante", "kantenmaterial", "kantenmaterial der oberkanten"),
        True,
    ),
    TableField("orientation", phrase("Flat pieces"), ("liegende teile",)),
    TableField("cutter", phrase("Cutter"), ("fräser",)),
    TableField("joint", phrase("Joint"), ("verbindung", "eckverbindung")),
    *DUTY_FIELDS,
    *BOX_FIELDS,
    *BANK_FIELDS,
)
"""What a table of drawers may hold; the headings of our own workbook are among the words."""
STOCKS = frozenset({"stock", "front", "sides", "back", "bottom_stock", "applied_stock"})
"""Fields that name a stock of the job."""
_OUTER = ("width", "depth", "height")
ENTRY_FIELDS: dict[str, dict[tuple[str, ...], str]] = {
    "boxes": {
        ("name",): "drawer",
        ("count",): "count",
        **{("outer", name): name for name in _OUTER},
        **{(name,): name for name in ("front_height", "lip", "lip_right")},
        **{path: name for name, path in (BOX_ENTRIES | DUTY_ENTRIES).items()},
        ("inside",): "inside",
    },
    "banks": {
        **{path: name for name, path in (BOX_ENTRIES | DUTY_ENTRIES).items()},
        **{path: name for name, path in BANK_ENTRIES.items()},
        ("fronts", "heights"): "front_height",
        ("fronts", "false_fronts"): "false_front",
        ("fronts",): "fronts",
        ("drawer",): "false_front",
        ("side_height",): "height",
        ("runner",): "runner",
        ("single_drawers", "joint"): "joint",
        ("single_drawers", "cutter"): "cutter",
        **{("single_drawers", name): name for name in ("load", "contents", "use")},
    },
}
"""Which field of a table an entry of a box or a bank comes from."""


@dataclass(frozen=True, slots=True)
class TableDrawers:
    """What a table says of drawers: its rows, the banks that some of them are fronts of, the boxes that the others make
    (lengths in mm), row by row, and every fault."""

    table: MatchedTable
    rows: tuple[ReadRow, ...]
    banks: tuple[TableBank, ...]
    box_rows: tuple[ReadRow, ...]
    boxes: tuple[dict[str, Any], ...]
    faults: tuple[Fault, ...]

    @property
    def count(self) -> int:
        """How many drawers they are."""
        in_banks = sum(bank.drawer_count for bank in self.banks)
        return in_banks + sum(int(box.get("count", 1)) for box in self.boxes)


def drawers_of_table(
    table: MatchedTable,
    unit: Literal["mm", "in"],
    *,
    stock: str = "",
    stock_asked: str = "",
    known_stocks: Sequence[str] = (),
    known_runners: Sequence[str] = (),
    has_cutters: bool = False,
    file: str | None = None,
) -> TableDrawers:
    """The drawers of a table whose columns are known.

    Args:
        table: from `matched_table` with `DRAWER_FIELDS`.
        unit: of bare numbers in columns whose heads name none.
        stock: of boxes for which the table names none.
        stock_asked: where somebody says that stock, for messages.
        known_stocks: those of the job. A cell names one in capitals or not: spreadsheets begin cells with one.
        known_runners: its sheets of runners.
        has_cutters: whether the job tells its cutters apart by name; one that has a single cutter names none.
        file: for messages.
    """
    rows, faults = [], []
    as_in_job = {stock.casefold(): stock for stock in known_stocks}
    for row, wrong in read_rows(table, unit, file):
        for name in STOCKS & row.values.keys():
            said = " ".join(str(row.values[name]).split())
            if said not in known_stocks:
                row.values[name] = as_in_job.get(said.casefold(), said)
        rows.append(row)
        faults += wrong
    no_stock = _no_stock(stock_asked, known_stocks)
    banks, box_rows, of_banks = banks_of_rows(
        rows,
        table,
        stock=stock,
        no_stock=no_stock,
        known_runners=known_runners,
        has_cutters=has_cutters,
        file=file,
    )
    faults += of_banks
    if box_rows or not table.rows:
        missing = [field for field in DRAWER_FIELDS if field.is_needed and not table.has(field.name)]
        faults += [Fault(field.name, no_column(field), table.head_line, file) for field in missing]
    if not table.rows:
        faults.append(Fault("", phrase("has no rows below the heading"), table.head_line, file))
    boxes = []
    for row in box_rows:
        faults += _lacking(row, table, file, stock, no_stock)
        below = row.values.get("front_below", 0)
        if below:
            place = place_of_field(table, "front_below")
            words = phrase(
                "the front of a plain box ends with its sides; this one reaches {below} below: make it in a bank",
                below=millimetres(below, "g"),
            )
            row.faults["front_below"] = words
            faults.append(Fault(place, words, row.line, file))
        boxes.append(_box(row.values, stock, has_cutters=has_cutters))
    return TableDrawers(table, tuple(rows), banks, box_rows, tuple(boxes), tuple(faults))


def _no_stock(asked: str, known: Sequence[str]) -> Phrase:
    """That nothing names the stock of a box, and who could."""
    words = {"asked": asked or phrase("stock"), "known": ", ".join(known)}
    return phrase(
        "no stock is named: add a column for it, or choose one for all rows ({asked}); the job has {known}",
        **words,
    )


def _lacking(
    row: ReadRow, table: MatchedTable, file: str | None, stock: str, no_stock: Phrase
) -> list[Fault]:
    """Cells that must not be empty."""
    faults = []
    for field in DRAWER_FIELDS:
        if field.is_needed and table.has(field.name) and field.name not in row.given:
            words = phrase("is empty: every row needs it")
            row.faults[field.name] = words
            faults.append(Fault(place_of_field(table, field.name), words, row.line, file))
    for name in without_stock(row.given, stock):
        row.faults[name] = no_stock
        faults.append(Fault(place_of_field(table, name), no_stock, row.line, file))
    return faults


def _box(values: dict[str, Any], stock: str, *, has_cutters: bool) -> dict[str, Any]:
    """The entry of the job file; what the table does not say is left out."""
    box: dict[str, Any] = {"name": values.get("drawer", "")}
    if values.get("count", 1) != 1:
        box["count"] = values["count"]
    box["outer"] = {name: values[name] for name in _OUTER if name in values}
    if values.get("lip"):
        box["lip"] = values["lip"]
    if values.get("lip_right", values.get("lip", 0.0)) != values.get("lip", 0.0):
        box["lip_right"] = values["lip_right"]
    if "front_height" in values and values["front_height"] != values.get("height"):
        box["front_height"] = values["front_height"]
    put_box(box, values, stock)
    if has_cutters and "cutter" in values:
        box["cutter"] = values["cutter"]
    if "joint" in values:
        box["joint"] = values["joint"]
    if values.get("edging"):
        box["banding"] = {"thickness": values["edging"], "box_top": True}
    put_duty(box, values)
    return box
