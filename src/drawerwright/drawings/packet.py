"""The shop packet: everything for the bench on paper that is printed at 100 %.

A packet is words and drawings in the order of the work. Whoever fills it writes lengths with their units;
this module only lays out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias

from drawerwright.basics.findings import Finding, Severity, grouped
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.checkbar import draw_check_bar
from drawerwright.drawings.packet_chapters import chapters_of, is_long
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.svg import write_svg
from drawerwright.drawings.typesetting import typeset, typeset_chapters, typeset_pages

STANDING_WIDTH: Mm = 180.0
"""What a standing page holds between its margins; a wider sheet drawing gets a page that lies on its side."""

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
    elevations: tuple[Figure, ...] = ()
    carcase: tuple[PacketTable, ...] = ()
    sheets: tuple[SheetPage, ...] = ()
    cards: tuple[SetupCard, ...] = ()
    parts: PacketTable | None = None
    more: tuple[PacketTable, ...] = ()
    work: tuple[WorkPhase, ...] = field(default=())


def write_packet(packet: Packet, style: LengthStyle | None = None) -> bytes:
    """The packet as PDF, its phrases in the language and units of `style`. Drawings come as they were drawn."""
    template, data = _as_told(packet, style or LengthStyle())
    if is_long(data):
        return typeset_chapters(template, chapters_of(data), {"job": data["job"], "words": data["words"]})
    return typeset(template, data)


def packet_pages(packet: Packet, style: LengthStyle | None = None) -> tuple[bytes, ...]:
    """The pages of the same packet, each an SVG to look at on a screen."""
    return typeset_pages(*_as_told(packet, style or LengthStyle()))


def _as_told(packet: Packet, style: LengthStyle) -> tuple[str, dict[str, Any]]:
    """The template and what it shows, in the reader's words."""
    return "packet.typ", _said({**_as_data(packet, style), "words": _TEMPLATE_WORDS}, style)


_TEMPLATE_WORDS = {
    "page": phrase("page"),
    "of": phrase("of"),
    "print": phrase("print at 100 %"),
    "before_switching_on": phrase("Before you switch on"),
    "provisional": phrase("Provisional:"),
    "findings": phrase("Findings"),
    "stop": phrase("STOP"),
    "stop_first": phrase("Do not cut until this is settled."),
    "warning": Severity.WARNING.words,
    "note": Severity.NOTE.words,
    "finding_head": [phrase("Weight"), phrase("Where"), phrase("What is wrong, and what to change")],
    "cautions": phrase("Cautions"),
    "fronts_and_carcase": phrase("Fronts and carcase"),
    "cut_alike": phrase("cut alike:"),
    "true_size": phrase("Full size: lay the wood on it"),
    "parts": phrase("Parts"),
    "order_of_work": phrase("Order of work"),
}
"""The words of the template itself."""


def _said(data: Any, style: LengthStyle) -> Any:
    """Every phrase in data as its reader reads it."""
    if isinstance(data, str):
        return style.say(data)
    if isinstance(data, Mapping):
        return {name: _said(value, style) for name, value in data.items()}
    if isinstance(data, list | tuple):
        return [_said(value, style) for value in data]
    return data


def _as_data(packet: Packet, style: LengthStyle) -> dict[str, Any]:
    return {
        "cover": True,
        "numbered": True,
        "paper": PAPERS[style.paper].typst_name,
        "job": packet.job,
        "subtitle": packet.subtitle,
        "provisional": packet.provisional,
        "overview": list(packet.overview),
        "figures": [list(pair) for pair in packet.figures],
        "findings": [
            {
                "severity": str(f.severity),
                "where": f.where,
                "drawers": "" if f.where == names_in_row(f.drawers) else names_in_row(f.drawers),
                "text": f.text,
                "remedy": f.remedy,
            }
            for f in (group.as_one for group in grouped(packet.findings))
        ],
        "cautions": list(packet.cautions),
        "settings": _table(packet.settings),
        "shopping": _table(packet.shopping),
        "elevations": _figures(packet.elevations),
        "carcase": [_table(table) for table in packet.carcase],
        "sheets": [
            {
                "title": page.title,
                "drawing": _drawing(page.scene),
                "notes": list(page.notes),
                "copies": page.copies,
                "stops": list(page.stops),
                "cut_list": _table(page.cut_list),
                "lying": page.scene.width > STANDING_WIDTH,
            }
            for page in packet.sheets
        ],
        "cards": [_card(card) for card in packet.cards],
        "parts": _table(packet.parts),
        "more": [_table(table) for table in packet.more],
        "work": [
            {"title": phase.title, "steps": [[step.text, step.detail] for step in phase.steps]}
            for phase in packet.work
        ],
        "bar": _drawing(draw_check_bar(style=style)),
    }


def _card(card: SetupCard) -> dict[str, Any]:
    return {
        "title": card.title,
        "values": [list(value) for value in card.values],
        "drawing": None if card.drawing is None else _drawing(card.drawing),
        "corners": _figures(card.corners),
        "pieces": _figures([card.pieces] if card.pieces else []),
        "passes": _table(card.passes),
        "wide": card.has_wide_passes,
        "targets": _table(card.targets),
        "remedies": _table(card.remedies),
        "notes": list(card.notes),
        "cautions": list(card.cautions),
        "stops": list(card.stops),
    }


def _figures(figures: Iterable[Figure]) -> list[dict[str, Any]]:
    return [{"drawing": _drawing(figure.scene), "caption": figure.caption} for figure in figures]


def _drawing(scene: Scene) -> dict[str, Any]:
    return {
        "svg": write_svg(scene, ground=False),
        "width": scene.width,
        "height": scene.height,
        "alt": scene.description or scene.title,
    }


def _table(table: PacketTable | None) -> dict[str, Any] | None:
    if table is None or not table.rows:
        return None
    align = table.align or ("left",) + ("right",) * (len(table.head) - 1)
    return {
        "title": table.title,
        "note": table.note,
        "head": list(table.head),
        "rows": [list(row) for row in table.rows],
        "align": list(align),
        "ticks": table.ticks,
    }
