"""Banks from a table: rows that name one bank are its fronts from the top down, with the drawers behind them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import Fault
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase, plain, plural
from drawerwright.drawers.bank import FrontStyle
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.runners import RunnerKind
from drawerwright.job.file.table_bank_fields import BANK_ENTRIES, BANK_FIELDS
from drawerwright.job.file.table_box_entries import put_box, without_stock
from drawerwright.job.file.table_cells import RUNNER_WORDS, ReadRow, place_of_field
from drawerwright.job.file.table_columns import MatchedTable
from drawerwright.job.file.table_duties import OF_DRAWERS, put_duties
from drawerwright.job.job import BankOfBoxes
from drawerwright.run.marks import numbers_in_row

AS_GIVEN: Mm = 0.05
"""What a table says of a box and what its opening makes of it are one if they differ by less: half of what is shown."""
_MAKE_BANK = frozenset(field.name for field in BANK_FIELDS) - {"bank"}
_NEEDED = ("opening_width", "opening_height", "opening_depth", "fronts")
_OF_FRONTS = ("drawer", "count", "height", "front_height", "false_front", "cutter", "joint", *OF_DRAWERS)
"""What each front of a bank has for itself."""
_CHECKED = ("width", "depth", "front_below", "lip", "lip_right")
"""What follows from the opening and the runners."""
_OF_SHEET = frozenset(name for name, path in BANK_ENTRIES.items() if path[0] == "runner") - {"runner"}


@dataclass(frozen=True, slots=True)
class TableBank:
    """A bank out of a table: its entry in the job file (lengths in mm), and the row of each front from the top."""

    entry: dict[str, Any]
    fronts: tuple[ReadRow, ...]

    @property
    def lines(self) -> tuple[int, ...]:
        """The lines that its rows stand on."""
        return tuple(sorted({row.line for row in self.fronts}))

    @property
    def lines_in_row(self) -> str:
        """The same, those that follow each other as a range."""
        return numbers_in_row(self.lines)

    @property
    def drawer_count(self) -> int:
        """How many drawers are behind its fronts."""
        return sum(not row.values.get("false_front") for row in self.fronts)

    @property
    def told(self) -> str:
        """In one line what its rows make: how many fronts of which style close which opening, and on what they run."""
        opening, fronts = self.entry["opening"], self.entry["fronts"]
        sizes = {
            size: millimetres(opening[size], ".1f", with_unit=size == "depth") if size in opening else "?"
            for size in ("width", "height", "depth")
        }
        runner = self.entry.get("runner", {})
        bits = [
            plural("{count} front", "{count} fronts", len(self.fronts)),
            FrontStyle(fronts["style"]).words if fronts.get("style") in list(FrontStyle) else "",
            phrase("opening {width} × {height} × {depth}", **sizes),
            RunnerKind(runner["kind"]).words if isinstance(runner, dict) and "kind" in runner else "",
            runner if isinstance(runner, str) else "",
        ]
        return phrase(
            "{bank}: {what}", bank=self.entry["name"], what=joined([bit for bit in bits if bit], ", ")
        )

    def row_of(self, place: int | None) -> ReadRow:
        """The row that says something of a front, by its place from 0; the first where no single one does."""
        return self.fronts[place if place is not None and place < len(self.fronts) else 0]

    def with_side_heights(self, made: BankOfBoxes) -> TableBank | None:
        """The same where a row wants other sides than its front leaves room for; None where none does."""
        heights: list[float | str] = []
        for number, row in enumerate(self.fronts, start=1):
            box, wanted = box_at(made, number), row.values.get("height")
            is_own = box is not None and wanted is not None and abs(wanted - box.height) > AS_GIVEN
            heights.append(float(wanted) if is_own and wanted is not None else "rest")
        if all(height == "rest" for height in heights):
            return None
        return TableBank({**self.entry, "side_height": heights}, self.fronts)

    def contradictions(self, made: BankOfBoxes, table: MatchedTable, file: str | None) -> Iterable[Fault]:
        """Where a row says another size of its box than the opening and the runners make."""
        for number, row in enumerate(self.fronts, start=1):
            box = box_at(made, number)
            if box is None:
                continue
            is_applied = box.applied is not None
            found = (box.width, box.depth, box.applied.below if box.applied else box.front_below, *box.lips)
            for name, size in zip(_CHECKED, found, strict=True):
                given = row.values.get(name)
                if given is None or name in row.faults or abs(given - size) <= AS_GIVEN:
                    continue
                if is_applied and name.startswith("lip"):
                    continue
                row.faults[name] = phrase(
                    "the opening and the runners make it {made}, not {given}: leave it empty, or change one of them",
                    made=millimetres(size, ".1f"),
                    given=millimetres(given, ".1f"),
                )
                yield Fault(place_of_field(table, name), row.faults[name], row.line, file)


def box_at(made: BankOfBoxes, number: int) -> DrawerBox | None:
    """The box behind a front, by its number from the top."""
    name = made.bank.front_name(number)
    return next((box for box in made.boxes if box.name == name), None)


def banks_of_rows(
    rows: Sequence[ReadRow],
    table: MatchedTable,
    *,
    stock: str,
    no_stock: Phrase,
    known_runners: Sequence[str],
    has_cutters: bool,
    file: str | None,
) -> tuple[tuple[TableBank, ...], tuple[ReadRow, ...], tuple[Fault, ...]]:
    """Which rows are fronts of a bank, and which are plain boxes.

    Args:
        rows: of the table, read.
        table: whose columns are known.
        stock: of boxes for which the table names none.
        no_stock: what is said where that is empty too.
        known_runners: sheets of runners of the job.
        has_cutters: whether the job tells its cutters apart by name.
        file: for messages.

    Returns:
        The banks in the order of their first rows; the rows of plain boxes; and every fault.
    """
    told: dict[str, list[ReadRow]] = {}
    nameless, faults = [], []
    for row in rows:
        name = str(row.values.get("bank") or "")
        if name:
            told.setdefault(name, []).append(row)
        elif _MAKE_BANK & row.given.keys():
            row.faults["bank"] = _NAMELESS
            faults.append(Fault(place_of_field(table, "bank"), _NAMELESS, row.line, file))
            nameless.append(id(row))
    whole = {name: own for name, own in told.items() if any(_MAKE_BANK & row.given.keys() for row in own)}
    in_banks = {id(row) for own in whole.values() for row in own}
    banks = []
    for name, own in whole.items():
        bank = _Bank(name, own, table, stock, no_stock, known_runners, file)
        banks.append(bank.made(has_cutters=has_cutters))
        faults += bank.faults
    plain_rows = tuple(row for row in rows if id(row) not in in_banks and id(row) not in nameless)
    return tuple(banks), plain_rows, tuple(faults)


_NAMELESS = phrase(
    "is empty: opening, fronts, runners and pulls belong to a bank; name it, the same in the row of each of its "
    "fronts, or leave these columns out"
)


class _Bank:
    """One bank out of its rows; faults are gathered."""

    def __init__(
        self,
        name: str,
        rows: Sequence[ReadRow],
        table: MatchedTable,
        stock: str,
        no_stock: Phrase,
        known_runners: Sequence[str],
        file: str | None,
    ) -> None:
        self.name, self.rows, self.table, self.file = name, rows, table, file
        self.stock, self.no_stock, self.known_runners = stock, no_stock, known_runners
        self.faults: list[Fault] = []

    def _fault(self, row: ReadRow, name: str, words: Phrase) -> None:
        if name not in row.faults:
            row.faults[name] = words
            self.faults.append(Fault(place_of_field(self.table, name), words, row.line, self.file))

    def made(self, *, has_cutters: bool) -> TableBank:
        said = self._said_of_all()
        for name in _NEEDED:
            if name not in said and not any(name in row.faults for row in self.rows):
                self._fault(self.rows[0], name, _missing(name, self.name))
        entry: dict[str, Any] = {"name": self.name}
        for name, path in BANK_ENTRIES.items():
            if name in said and name not in ("bank", "runner", "runner_load"):
                _put(entry, path, said[name])
        for section in ("opening", "fronts"):
            entry.setdefault(section, {})
        self._runner(entry, said)
        self._edging(entry, said)
        fronts = [row for row in self.rows for _each in range(row.values.get("count", 1))]
        entry["fronts"]["heights"] = self._heights(fronts)
        false = [number for number, row in enumerate(fronts, start=1) if row.values.get("false_front")]
        if false and len(false) == len(fronts):
            entry["drawer"] = False
        elif false:
            entry["fronts"]["false_fronts"] = false
        has_boxes = len(false) < len(fronts)
        stock = self.stock if has_boxes else str(said.get("applied_stock") or said.get("front") or self.stock)
        put_box(entry, said, stock)
        for name in without_stock(said, stock):
            self._fault(self.rows[0], name, self.no_stock)
        singles = _joints(entry, fronts, has_cutters=has_cutters)
        put_duties(entry, fronts, said.get("climate"), singles)
        if singles:
            entry["single_drawers"] = [{"number": number, **singles[number]} for number in sorted(singles)]
        return TableBank(entry, tuple(fronts))

    def _said_of_all(self) -> dict[str, Any]:
        """What the rows say of the whole bank, each thing once; rows that say it differently are at fault."""
        said: dict[str, Any] = {}
        first: dict[str, ReadRow] = {}
        for row in self.rows:
            for name, value in row.values.items():
                if name in _OF_FRONTS or name in _CHECKED:
                    continue
                if name not in said:
                    said[name], first[name] = value, row
                elif not _same(value, said[name]):
                    words = phrase(
                        "is {given} here and {other} in line {line}, in one bank: make them alike, or give this front "
                        "a bank of its own",
                        given=_shown(value),
                        other=_shown(said[name]),
                        line=first[name].line,
                    )
                    self._fault(row, name, words)
        return said

    def _runner(self, entry: dict[str, Any], said: dict[str, Any]) -> None:
        kind = said.get("runner")
        if kind is None:
            return
        if kind in list(RunnerKind):
            runner = entry.setdefault("runner", {})
            runner["kind"] = kind
            if "runner_load" in said and "length" in runner:
                runner["lengths"] = [{"length": runner["length"], "load": said["runner_load"]}]
            elif "runner_load" in said:
                words = phrase("is the rating of a pair of one length: give the length of the runners")
                self._fault(
                    next(row for row in self.rows if "runner_load" in row.values), "runner_load", words
                )
            return
        if kind not in self.known_runners:
            sheets = ", ".join(self.known_runners) or phrase("none")
            words = phrase(
                "names no runners: write {kinds}, or the name of a sheet of runners of the job ({sheets}), "
                "not {given!r}",
                kinds=RUNNER_WORDS,
                sheets=sheets,
                given=kind,
            )
            self._fault(next(row for row in self.rows if "runner" in row.values), "runner", words)
            return
        entry["runner"] = kind
        for row in self.rows:
            for name in _OF_SHEET & row.values.keys():
                words = phrase("stands on the sheet of the runners {name!r}: leave it empty here", name=kind)
                self._fault(row, name, words)

    def _edging(self, entry: dict[str, Any], said: dict[str, Any]) -> None:
        """Edging of one thickness on the fronts, on the boxes, or on both."""
        front, box = said.get("front_edging") or 0.0, said.get("edging") or 0.0
        if front and box and not _same(front, box):
            words = phrase(
                "is {front}, but that of the upper edges {box}: a bank has edging of one thickness",
                front=millimetres(front, "g"),
                box=millimetres(box, "g"),
            )
            self._fault(self.rows[0], "front_edging", words)
        if front or box:
            entry["banding"] = {
                "thickness": front or box,
                "applied_front": bool(front),
                "box_top": bool(box),
            }

    def _heights(self, fronts: Sequence[ReadRow]) -> dict[str, Any]:
        """All alike where no row says its height; one may be left out and takes the rest."""
        heights = [row.values.get("front_height", "rest") for row in fronts]
        if all(height == "rest" for height in heights):
            return {"equal": len(fronts)}
        resting = [row for row, height in zip(fronts, heights, strict=True) if height == "rest"]
        if len(resting) > 1:
            words = phrase(
                "is empty in lines {lines} of this bank: one front may take the rest, or all are alike",
                lines=numbers_in_row(sorted({row.line for row in resting})),
            )
            self._fault(resting[-1], "front_height", words)
            return {"equal": len(fronts)}  # one fault is enough
        return {"given": heights}


def _missing(name: str, bank: str) -> Phrase:
    if name == "fronts":
        return phrase("is empty: say how the fronts of {bank} sit: applied, lipped or inset", bank=bank)
    return phrase("is empty: the fronts of {bank} close an opening; give its size", bank=bank)


def _same(value: Any, other: Any) -> bool:
    if isinstance(value, float) and isinstance(other, float):
        return abs(value - other) <= AS_GIVEN
    return bool(value == other)


def _shown(value: Any) -> Any:
    if isinstance(value, bool):
        return phrase("yes") if value else phrase("no")
    return millimetres(value, "g") if isinstance(value, float) else plain(str(value))


def _put(entry: dict[str, Any], path: Sequence[str], value: Any) -> None:
    *sections, last = path
    for section in sections:
        entry = entry.setdefault(section, {})
    entry[last] = value


def _joints(
    entry: dict[str, Any], fronts: Sequence[ReadRow], *, has_cutters: bool
) -> dict[int, dict[str, Any]]:
    """The joint of most drawers for the bank, that of others by their numbers; a cutter goes before."""
    own: list[tuple[str, Any]] = []
    for row in fronts:
        joint, cutter = row.values.get("joint"), row.values.get("cutter") if has_cutters else None
        own.append(("joint", joint) if joint is not None else ("cutter", cutter))
    counted = Counter(
        plain(repr(each)) for each, row in zip(own, fronts, strict=True) if not row.values.get("false_front")
    )
    routed = [text for text, _count in counted.most_common() if text.startswith("('cutter'")]
    usual = next(iter([*routed, *(text for text, _count in counted.most_common())]), None)
    base = next((each for each in own if repr(each) == usual), None)
    if base is not None and base[1] is not None:
        entry[base[0]] = base[1]
    return {
        number: {name: value}
        for number, (row, (name, value)) in enumerate(zip(fronts, own, strict=True), start=1)
        if (name, value) != base and value is not None and not row.values.get("false_front")
    }
