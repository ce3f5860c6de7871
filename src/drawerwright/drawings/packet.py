"""What the shop packet holds: everything for the bench on paper that is printed at 100 %.

A packet is words and drawings in the order of the work. Whoever fills it writes lengths with their units;
`drawerwright.drawings.printing` lays it out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from drawerwright.basics.findings import Finding
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.title_block import Issue

Align: TypeAlias = Literal["left", "right", "center"]


@dataclass(frozen=True, slots=True)
class PacketTable:
    """A table: one head that repeats on every page, rows of text.

    `align` for each column; the first stands left, the others right where it is empty. `ticks` puts a box to
    tick before every row.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""
    note: str = ""
    align: tuple[Align, ...] = ()
    ticks: bool = False

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.head):
                raise ValueError(f"a row of {len(row)} fields in a table of {len(self.head)} columns: {row}")


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with a line below it. Its size on paper is exactly the scene's."""

    scene: Scene
    caption: str = ""


@dataclass(frozen=True, slots=True)
class SetupCard:
    """One set-up on one page.

    `values` are the figures to dial in, the most important first: label, value, and what stands small below it.
    `drawing` shows the pieces at the machine; `corners` are drawn at true size, to lay the wood on. `targets` are the
    caliper readings to expect, `pieces` shows where they are taken, `remedies` what to do when one is off. `stops` says
    why nothing may be cut yet; then STOP is written across the card.
    """

    title: str
    values: tuple[tuple[str, ...], ...]
    drawing: Scene | None = None
    corners: tuple[Figure, ...] = ()
    pieces: Figure | None = None
    passes: PacketTable | None = None
    targets: PacketTable | None = None
    remedies: PacketTable | None = None
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()
    has_wide_passes: bool = False
    """Beside which there is no room for the notes: they stand below."""


@dataclass(frozen=True, slots=True)
class SheetPage:
    """One sheet on one page, which lies or stands as the drawing does; `copies` that are cut alike, `stops` as on a
    card."""

    title: str
    scene: Scene
    notes: tuple[str, ...] = ()
    copies: int = 1
    stops: tuple[str, ...] = ()
    cut_list: PacketTable | None = None
    """What is cut from this and the following sheets, on a page before them."""


@dataclass(frozen=True, slots=True)
class DrawerPage:
    """A type of drawer on one page: its views, what is to be said of them, tables."""

    title: str
    views: tuple[Scene, ...]
    notes: tuple[str, ...] = ()
    tables: tuple[PacketTable, ...] = ()


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One step to tick off, with what has to be known for it."""

    text: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class WorkPhase:
    """Steps that belong together: at the saw, a set-up, glue-up."""

    title: str
    steps: tuple[WorkStep, ...]


@dataclass(frozen=True, slots=True)
class Packet:
    """Everything that is printed for one job. Empty sections are left out."""

    job: str
    issue: Issue = field(default_factory=Issue)
    subtitle: str = ""
    provisional: str = ""
    """Why the figures are provisional; empty when everything was measured."""
    overview: tuple[str, ...] = ()
    figures: tuple[tuple[str, str], ...] = ()
    """Label and value of the main figures of the job."""
    findings: tuple[Finding, ...] = ()
    cautions: tuple[str, ...] = ()
    settings: PacketTable | None = None
    shopping: PacketTable | None = None
    views: tuple[Scene, ...] = ()
    """The whole piece at a glance, side by side on the first page."""
    elevations: tuple[Figure, ...] = ()
    carcase: tuple[PacketTable, ...] = ()
    types: tuple[DrawerPage, ...] = ()
    sheets: Sequence[SheetPage] = ()
    """May be made when they are asked for: there may be hundreds."""
    cards: tuple[SetupCard, ...] = ()
    parts: PacketTable | None = None
    more: tuple[PacketTable, ...] = ()
    work: tuple[WorkPhase, ...] = field(default=())
    after: tuple[DrawerPage, ...] = ()
    """What is needed at the bench once the parts are cut."""
