"""Published figures: each row of a table with its source, and whether anybody has seen it there."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import resources

from drawerwright.basics.phrases import Phrase, joined, phrase


class Provenance(StrEnum):
    """How a figure came here."""

    READ = "read"
    """It was seen in a document, most often one that quotes the source."""
    MEMORY = "memory"
    """It was recalled and not seen."""
    ASSUMED = "assumed"
    """Nobody has published it as far as is known here: a careful guess stands in."""

    @property
    def words(self) -> Phrase:
        """What stands behind a source."""
        return _WORDS[self]


_WORDS = {
    Provenance.READ: phrase("read"),
    Provenance.MEMORY: phrase("from memory"),
    Provenance.ASSUMED: phrase("assumed, no source"),
}
_FROM_BEST = tuple(Provenance)


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure stands, and how it came here."""

    title: str
    provenance: Provenance

    def __str__(self) -> str:
        return str(self.words)

    @property
    def words(self) -> Phrase:
        """Title and provenance; a guess has no title."""
        if self.provenance is Provenance.ASSUMED:
            return joined((self.title, self.provenance.words), ": ")
        return phrase("{title} ({how})", title=self.title, how=self.provenance.words)


def least_sure(*sources: Source) -> Provenance:
    """What a result may claim that rests on all of these."""
    return max((source.provenance for source in sources), key=_FROM_BEST.index)


@dataclass(frozen=True, slots=True)
class SourcedRow:
    """A row of a table: its numbers by column, None where the table has none, and their source."""

    name: str
    cells: Mapping[str, str]
    source: Source

    def __getitem__(self, column: str) -> float | None:
        text = self.cells[column]
        return float(text) if text else None

    def number(self, column: str) -> float:
        """A number that every row has."""
        return float(self.cells[column])


@cache
def sourced_rows(table: str) -> tuple[SourcedRow, ...]:
    """The rows of a table of this package, in its order."""
    text = resources.files("drawerwright.wood").joinpath(f"data/{table}.csv").read_text("utf-8")
    return tuple(
        SourcedRow(row["name"], row, Source(row["source"], Provenance(row["provenance"])))
        for row in csv.DictReader(text.splitlines())
    )


@cache
def sourced_table(table: str) -> Mapping[str, SourcedRow]:
    """The rows of a table by their names, for tables that have one row a name."""
    return {row.name: row for row in sourced_rows(table)}
