"""The shop packet laid out on pages."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from drawerwright.basics.findings import Severity, grouped
from drawerwright.basics.later import MadeLater
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import phrase
from drawerwright.basics.unbroken import NO_BREAK, unbroken
from drawerwright.drawings.checkbar import draw_check_bar
from drawerwright.drawings.lettered import lettered
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.packet import DrawerPage, Figure, Packet, PacketTable, SetupCard, SheetPage
from drawerwright.drawings.packet_chapters import chapters_of, is_long
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scales import scale_name
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.svg import write_svg
from drawerwright.drawings.title_block import Issue, block_data
from drawerwright.drawings.typesetting import Told, typeset, typeset_chapters, typeset_pages, untold


@dataclass(frozen=True, slots=True)
class ToldPacket:
    """A packet in its reader's words and units, to be set as PDF and as pictures. Drawings come as they were drawn."""

    data: Mapping[str, Any]
    """What the template shows."""

    @classmethod
    def of(cls, packet: Packet, style: LengthStyle | None = None) -> ToldPacket:
        """Its phrases in the language and units of `style`."""
        style = style or LengthStyle()
        return cls(said_data({**_as_data(packet, style), "words": _TEMPLATE_WORDS}, style))

    def pdf(self, told: Told = untold) -> bytes:
        """The packet as PDF; `told`: how far it is, where it is set in several pieces."""
        if is_long(self.data):
            binding = {"job": self.data["job"], "block": self.data["block"]}
            return typeset_chapters(_TEMPLATE, list(chapters_of(self.data)), binding, told)
        return typeset(_TEMPLATE, self.data)

    def pages(self) -> tuple[bytes, ...]:
        """The pages of the same packet, each an SVG to look at on a screen; none of one that is too long to be set at
        once, which `page_pictures` shows."""
        return () if is_long(self.data) else typeset_pages(_TEMPLATE, self.data)


def write_full_pages(scenes: Sequence[Scene], title: str, style: LengthStyle) -> bytes:
    """Scenes as large as their paper, each on a page without margins, as PDF."""
    data = {
        "title": title,
        "language": style.wording.language,
        "pages": [drawing_data(scene, style) for scene in scenes],
        "day": Issue().day.isoformat(),
    }
    return typeset("full-pages.typ", data)


KERNED = 0.1
"""What pairs of letters that are set a little further apart make a word wider; figures have none (found in B612)."""
_TEMPLATE = "packet.typ"
_TEMPLATE_WORDS = {
    "overview": phrase("Overview"),
    "before_switching_on": phrase("Before you switch on"),
    "provisional": phrase("Provisional:"),
    "findings": phrase("Findings"),
    "stop": phrase("STOP"),
    "stop_first": phrase("Do not cut until this is settled."),
    "warning": Severity.WARNING.words,
    "note": Severity.NOTE.words,
    "finding_head": [phrase("Kind"), phrase("Where"), phrase("What is wrong, and what to change")],
    "cautions": phrase("Cautions"),
    "fronts_and_carcase": phrase("Fronts and carcase"),
    "cut_alike": phrase("cut alike:"),
    "true_size": phrase("Full size: lay the wood on it"),
    "parts": phrase("Parts"),
    "order_of_work": phrase("Order of work"),
}
"""The words of the template itself."""


class _Drawn(str):
    """A drawing's markup: long, and no sentence."""

    __slots__ = ()


def said_data(data: Any, style: LengthStyle) -> Any:
    """Every phrase in data as its reader reads it; drawings are written already."""
    if isinstance(data, _Drawn):
        return data
    if isinstance(data, str):
        return unbroken(style.say(data))
    if isinstance(data, Mapping):  # a drawing's numbers are no figures of a text
        return {name: value if name == "svg" else said_data(value, style) for name, value in data.items()}
    if isinstance(data, MadeLater):
        return data.each(partial(said_data, style=style))
    if isinstance(data, list | tuple):
        return [said_data(value, style) for value in data]
    return data


def _as_data(packet: Packet, style: LengthStyle) -> dict[str, Any]:
    return {
        "cover": True,
        "numbered": True,
        "paper": PAPERS[style.paper].typst_name,
        "job": packet.job,
        "block": block_data(packet.issue, style),
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
        "settings": _table(packet.settings, style),
        "shopping": _table(packet.shopping, style),
        "views": [drawing_data(scene, style) for scene in packet.views],
        "elevations": _figures(packet.elevations, style),
        "carcase": [_table(table, style) for table in packet.carcase],
        "types": [_drawer_page(page, style) for page in packet.types],
        "after": [_drawer_page(page, style) for page in packet.after],
        "sheets": MadeLater([partial(_sheet_page, packet, at, style) for at in range(len(packet.sheets))]),
        "cards": [_card(card, style) for card in packet.cards],
        "parts": _table(packet.parts, style),
        "more": [_table(table, style) for table in packet.more],
        "work": [
            {"title": phase.title, "steps": [[step.text, step.detail] for step in phase.steps]}
            for phase in packet.work
        ],
        "bar": drawing_data(draw_check_bar(style=style), style, has_scale=False),
    }


def _sheet_page(packet: Packet, at: int, style: LengthStyle) -> dict[str, Any]:
    page = packet.sheets[at]
    return {
        "title": page.title,
        **_sheet_drawing(page, style),
        "notes": list(page.notes),
        "copies": page.copies,
        "stops": list(page.stops),
        "cut_list": _table(page.cut_list, style),
        "lying": page.scene.width > PAPERS[style.paper].standing[0],
    }


def _sheet_drawing(page: SheetPage, style: LengthStyle) -> dict[str, Any]:
    """A sheet's drawing; where STOP is written across it, its lettering apart, which stands on those letters."""
    if not page.stops:
        return {"drawing": drawing_data(page.scene, style), "lettering": None}
    below, above = lettered(page.scene)
    return {"drawing": drawing_data(below, style), "lettering": drawing_data(above, style)}


def _drawer_page(page: DrawerPage, style: LengthStyle) -> dict[str, Any]:
    return {
        "title": page.title,
        "views": [drawing_data(scene, style) for scene in page.views],
        "notes": list(page.notes),
        "tables": [_table(table, style) for table in page.tables],
    }


def _card(card: SetupCard, style: LengthStyle) -> dict[str, Any]:
    return {
        "title": card.title,
        "values": [list(value) for value in card.values],
        "drawing": None if card.drawing is None else drawing_data(card.drawing, style),
        "corners": _figures(card.corners, style),
        "pieces": _figures([card.pieces] if card.pieces else [], style),
        "passes": _table(card.passes, style),
        "wide": card.has_wide_passes,
        "targets": _table(card.targets, style),
        "remedies": _table(card.remedies, style),
        "notes": list(card.notes),
        "cautions": list(card.cautions),
        "stops": list(card.stops),
    }


def _figures(figures: Iterable[Figure], style: LengthStyle) -> list[dict[str, Any]]:
    return [{"drawing": drawing_data(figure.scene, style), "caption": figure.caption} for figure in figures]


def drawing_data(scene: Scene, style: LengthStyle, *, has_scale: bool = True) -> dict[str, Any]:
    """A drawing as a template takes it in, with its scale in words."""
    return {
        "svg": _Drawn(write_svg(scene, ground=False)),
        "width": scene.width,
        "height": scene.height,
        "alt": style.say(scene.description or scene.title),
        "scale": scale_name(scene.scale, style.decimal_sign) if has_scale else "",
    }


def _table(table: PacketTable | None, style: LengthStyle) -> dict[str, Any] | None:
    if table is None or not table.rows:
        return None
    align = table.align or ("left",) + ("right",) * (len(table.head) - 1)
    rows = said_data(table.rows, style)
    columns = list(zip(*rows, strict=True))
    return {
        "title": table.title,
        "note": table.note,
        "head": list(table.head),
        "rows": rows,
        "naturals": [max(map(_ems, cells)) for cells in columns],
        "leasts": [max(_ems(word) for cell in cells for word in cell.split(" ")) for cells in columns],
        "align": list(align),
        "ticks": table.ticks,
    }


def _ems(text: str) -> float:
    """How wide a text is in letters of size 1, at the most."""
    kerned = KERNED if any(map(str.isalpha, text)) else 0.0
    return text_width(text.replace(NO_BREAK, " "), 1.0) + kerned
