"""The openings of a job file: divided carcases, and what each bank closes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.drawers.division import Cell, DividedCarcase, Division, FaceFrame, evenly
from drawerwright.drawers.opening import SHARES_ALL, Carcase, Kept, Opening
from drawerwright.drawers.opening_readings import OpeningReadings
from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.job.file.openings_model import (
    AnyOpening,
    DividedEntry,
    DividersEntry,
    FaceFrameEntry,
    OpeningEntry,
    PartOpeningEntry,
)
from drawerwright.job.file.reading import Builder

MOST_OFF = 0.9
"""What is measured and differs by a tenth from the plan is a slip of the pencil (common practice, no source)."""


class OpeningMaker:
    """Makes openings; every fault goes to the builder."""

    def __init__(
        self,
        builder: Builder,
        entries: Sequence[DividedEntry],
        banks: Sequence[tuple[int, AnyOpening, Kept | None]],
    ) -> None:
        """`banks` are the openings that banks close, each with the row of its bank, and what its fronts keep of the
        wood around it; None where they cover none."""
        self._builder = builder
        self._names = [entry.name for entry in entries]
        self._taken: dict[str, set[Cell]] = {}
        self._covering: dict[str, dict[Cell, Kept]] = {}
        written = _written_names(builder.document.whole)
        for place, opening, kept in (
            *((("banks", n, "opening"), each, kept) for n, each, kept in banks),
            *((("openings", n, "opening"), entry.opening, SHARES_ALL) for n, entry in enumerate(entries)),
        ):
            if isinstance(opening, PartOpeningEntry) and opening.of in written:
                cells = self._taken.setdefault(opening.of, set())
                cell = opening.column, opening.row
                if cell in cells:
                    builder.fault(place, _twice(opening))
                cells.add(cell)
                if kept is not None:
                    self._covering.setdefault(opening.of, {})[cell] = kept
        self._made: dict[str, DividedCarcase] = {}
        self._wholes: dict[str, Carcase] = {}
        for number, entry in enumerate(entries):
            where = ("openings", number)
            if self._names.index(entry.name) < number:
                builder.fault((*where, "name"), phrase("is taken: give every divided opening its own name"))
                continue
            whole = self.opening(entry.opening, *where, "opening")
            if whole is not None:
                names: Mapping[str, tuple[str | int, ...]] = {
                    name: ("dividers", name) for name in ("vertical", "horizontal")
                }
                with builder.at(*where, **names):
                    division = self._division(entry.dividers, whole, *where, "dividers")
                    made = DividedCarcase(
                        entry.name, whole, division, self._frame(entry.frame, *where, "frame")
                    )
                    for column in range(1, made.columns + 1):
                        for row in range(1, made.rows + 1):
                            made.opening((column, row), {})
                    self._made[entry.name] = made
        self._wholes = {
            entry.name: self._with_inner(entry.name, entries)
            for entry in entries
            if entry.name in self._made and isinstance(entry.opening, OpeningEntry)
        }

    def findings(self) -> Iterator[Finding]:
        """Openings of divided carcases that no bank closes, and that are not divided further."""
        for name, made in self._made.items():
            every = [
                (column, row) for row in range(1, made.rows + 1) for column in range(1, made.columns + 1)
            ]
            empty = [cell for cell in every if cell not in self._taken.get(name, ())]
            if not empty:
                continue
            places = (phrase("column {column}, row {row}", column=column, row=row) for column, row in empty)
            yield Finding(
                "opening-empty",
                Severity.NOTE,
                name,
                phrase("no bank closes any of its openings.")
                if empty == every
                else plural(
                    "no bank closes its opening in {places}.",
                    "no bank closes its openings in {places}.",
                    len(empty),
                    places=joined(places, "; "),
                ),
                phrase("Add a bank for each, or leave them open."),
            )

    def _with_inner(self, name: str, entries: Sequence[DividedEntry]) -> Carcase:
        """A divided carcase with all that its openings are divided into."""
        inner = {
            (entry.opening.column, entry.opening.row): self._with_inner(entry.name, entries)
            for entry in entries
            if isinstance(entry.opening, PartOpeningEntry)
            and entry.opening.of == name
            and entry.name in self._made
        }
        return self._made[name].with_inner(inner)

    def opening(self, entry: AnyOpening, *where: str | int) -> Opening | None:
        """What a bank closes, or what is divided, as it was measured; None where it is faulty."""
        found = self._as_planned(entry, *where)
        if found is None or entry.measured is None:
            return found
        measured = found.measured(OpeningReadings(**entry.measured.model_dump()))
        for name, was, now in (
            ("width", found.width, measured.width),
            ("height", found.height, measured.height),
        ):
            if now < MOST_OFF * was or now > was / MOST_OFF:
                faces = self._faces_beside(entry, name)
                dividers = joined(
                    (Phrase("{face}", {"face": millimetres(face, "g")}) for face in faces), ", "
                )
                leaves = phrase(
                    "leaves a {name} of {now} where {was} is planned",
                    name=phrase("width") if name == "width" else phrase("height"),
                    now=millimetres(now, ".1f"),
                    was=millimetres(was, ".1f"),
                )
                self._builder.fault(
                    (*where, "measured"),
                    phrase(
                        "{leaves}: check the readings, or the dividers at {dividers}",
                        leaves=leaves,
                        dividers=dividers,
                    )
                    if faces
                    else phrase("{leaves}: check the readings", leaves=leaves),
                )
                return None
        return measured

    def _faces_beside(self, entry: AnyOpening, way: str) -> tuple[Mm, ...]:
        """Where the dividers beside a part are, that leave it its width or its height."""
        if not isinstance(entry, PartOpeningEntry):
            return ()
        made = self._made[entry.of]
        if way == "width":
            return made.division.verticals[max(0, entry.column - 2) : entry.column]
        return made.division.horizontals[max(0, made.rows - entry.row - 1) : made.rows - entry.row + 1]

    def _as_planned(self, entry: AnyOpening, *where: str | int) -> Opening | None:
        if isinstance(entry, OpeningEntry):
            return Opening(entry.width, entry.height, entry.depth)
        made = self._made.get(entry.of)
        if made is None:
            names = _written_names(self._builder.document.whole)
            known = ", ".join(names) or phrase("none")
            if entry.of not in names:
                text = phrase(
                    "there is no opening {name!r}; the file has {known}", name=entry.of, known=known
                )
                self._builder.fault((*where, "of"), text)
            elif where[0] == "openings" and names.index(entry.of) >= names.index(self._names[int(where[1])]):
                self._builder.fault(
                    (*where, "of"), phrase("must name an opening that stands above this one in the file")
                )
            return None
        for name, place, most in (
            ("column", entry.column, made.columns),
            ("row", entry.row, made.rows),
        ):
            if place > most:
                self._builder.fault(
                    (*where, name),
                    phrase(
                        "is {place}, but {name} has {most}: the first is 1",
                        place=place,
                        name=entry.of,
                        most=most,
                    ),
                )
                return None
        found = made.opening((entry.column, entry.row), self._covering.get(entry.of, {}))
        assert found.carcase is not None
        return replace(found, carcase=self._wholes.get(found.carcase.name, found.carcase))

    def _division(self, entry: DividersEntry | None, whole: Opening, *where: str | int) -> Division:
        if entry is None:
            return Division(0.0)
        faces: list[tuple[Mm, ...]] = []
        for count_name, own_name, size in (
            ("columns", "vertical", whole.width),
            ("rows", "horizontal", whole.height),
        ):
            count, own = getattr(entry, count_name), getattr(entry, own_name)
            if count is not None and own:
                self._builder.fault(
                    (*where, own_name),
                    phrase("is given as well as {count!r}: give one or the other", count=count_name),
                )
            faces.append(own or evenly(size, count or 1, entry.thickness))
        return Division(entry.thickness, *faces)

    def _frame(self, entry: FaceFrameEntry | None, *where: str | int) -> FaceFrame | None:
        if entry is None:
            return None
        mid_stile, mid_rail = entry.mid_stile or entry.stile, entry.mid_rail or entry.rail
        if entry.board is not None and entry.reveal is not None:
            self._builder.fault(
                (*where, "reveal"),
                phrase("is given as well as {other!r}: give one or the other", other="board"),
            )
        if entry.reveal is not None:
            return FaceFrame(entry.stile, entry.rail, entry.reveal, entry.reveal, mid_stile, mid_rail)
        if entry.board is None:
            self._builder.fault(
                where, phrase("needs 'board' or 'reveal', to say where it sits in front of the carcase")
            )
            return None
        return FaceFrame.flush_outside(entry.stile, entry.rail, entry.board, mid_stile, mid_rail)


def part_of_copy(opening: AnyOpening, copy: int) -> AnyOpening:
    """What the copy of a bank closes, the first being 0: of a divided carcase one column further to the right each."""
    if isinstance(opening, PartOpeningEntry):
        return opening.model_copy(update={"column": opening.column + copy})
    return opening


def _written_names(data: Any) -> list[str]:
    """What the rows of divided openings are called, faulty or not."""
    return [str(value_at(row, ("name",))) for row in rows_at(data, ("openings",))]


def _twice(opening: PartOpeningEntry) -> str:
    return phrase(
        "column {column}, row {row} of {name} is in use already: choose another",
        column=opening.column,
        row=opening.row,
        name=opening.of,
    )
