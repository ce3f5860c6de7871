"""Tables on the terminal, whatever its width: where columns find no room, each row becomes some lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.box import SIMPLE_HEAD
from rich.console import Console, ConsoleOptions, RenderableType
from rich.padding import Padding
from rich.table import Table

INDENT = 2
UNBOUNDED = 1000
"""Columns of a terminal in which any table finds room."""


def terminal() -> Console:
    """The terminal. Names are the user's: a bracket in one is a bracket, not markup."""
    return Console(highlight=False, markup=False)


class Listing:
    """Rows below heads. A terminal too narrow for the longest word of each column gets one line for each cell."""

    def __init__(self, title: str, heads: Sequence[str], *, words: Sequence[str] = ()) -> None:
        """Begin a listing.

        Args:
            title: what stands above it.
            heads: of the columns; the first one names the row.
            words: those of the heads whose cells are words, not figures, as the first one's are.
        """
        self._title = title
        self._heads = tuple(heads)
        self._words = {self._heads[0], *words}
        self._rows: list[tuple[str, ...]] = []

    def add_row(self, *cells: str) -> None:
        """One more row, with a cell for each head."""
        self._rows.append(cells)

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> Iterator[RenderableType]:
        table = Table(title=self._title, title_justify="left", box=SIMPLE_HEAD, pad_edge=False)
        for head in self._heads:
            table.add_column(head, justify="left" if head in self._words else "right")
        for row in self._rows:
            table.add_row(*row)
        room = options.max_width
        if console.measure(table, options=options.update(max_width=UNBOUNDED)).minimum <= room:
            yield table
        else:
            yield from self._lines()

    def _lines(self) -> Iterator[RenderableType]:
        yield ""
        yield self._title
        for name, *cells in self._rows:
            yield name
            for head, cell in zip(self._heads[1:], cells, strict=True):
                if cell.strip():
                    yield Padding(f"{head} {cell}".strip(), (0, 0, 0, INDENT))
        yield ""
