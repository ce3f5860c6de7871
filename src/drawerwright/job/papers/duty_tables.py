"""The packet's tables of what drawers weigh and carry, whether their joints suit that, and how far their wood moves."""

from __future__ import annotations

from drawerwright.basics.loads import Kg, WrittenLoad
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.placement import BACK, UP, Direction
from drawerwright.drawers.seasons import YearsMovement, moisture_words, movement_along
from drawerwright.drawings.packet import PacketTable
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.corner_strengths import ESTIMATE
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.joints_for_use import joints_for_use
from drawerwright.strength.drawer_load import DrawerLoad
from drawerwright.wood.movement import source_words
from drawerwright.wood.sourced import Source
from drawerwright.wood.thickness import Panel


def duty_tables(draft: JobDraft, lengths: PaperLengths) -> tuple[PacketTable, ...]:
    """Those of them that have rows."""
    return tuple(
        table for table in (_weights(draft, lengths), _joints(draft), _movement(draft, lengths)) if table.rows
    )


def _weights(draft: JobDraft, lengths: PaperLengths) -> PacketTable:
    """Weights, and how far each bottom sags; only where a load is stated, alike drawers in one row."""
    alike: dict[tuple[str, ...], list[str]] = {}
    sources: dict[Source, None] = {}
    for drawer in draft.assembled:
        load = DrawerLoad(drawer)
        if load.contents is None:
            continue
        bottom = load.bottom(draft.job.sag_limit)
        sag = limit = ""
        if bottom is not None:
            sag, limit = lengths.coarse(bottom.deflection), lengths.coarse(bottom.sag_limit)
            sources |= dict.fromkeys(bottom.board.sources)
        row = (_weight(load.empty), _weight(load.contents), _weight(load.full), sag, limit)
        alike.setdefault(row, []).append(drawer.box.name)
    return PacketTable(
        (
            phrase("Drawer"),
            phrase("Empty"),
            phrase("Contents"),
            phrase("Together"),
            phrase("Bottom sags"),
            phrase("Limit"),
        ),
        tuple((names_in_row(names), *row) for row, names in alike.items()),
        title=phrase("Weights and bottoms"),
        note=phrase(
            "A calculated comparison, not a rating: no drawer was tested. Source: {source}.",
            source=source_words(tuple(sources)),
        )
        if sources
        else "",
    )


def _joints(draft: JobDraft) -> PacketTable:
    """Whether the joint of loaded drawers is enough for their use, and which others would be."""
    return PacketTable(
        (phrase("Drawer"), phrase("Use"), phrase("Contents"), phrase("Joint"), phrase("Enough for its use?")),
        tuple(
            (
                names_in_row(each.drawers),
                each.use.words,
                each.load_words,
                each.present.choice.words,
                each.words,
            )
            for each in joints_for_use(draft)
        ),
        title=phrase("Joints and their use"),
        note=joined(
            [
                ESTIMATE,
                phrase("What another joint takes in time and sheets: Which joint? on the Drawers page."),
            ],
            " ",
        ),
        align=("left", "left", "right", "left", "left"),
    )


def _weight(load: Kg | None) -> str:
    return "" if load is None else Phrase("{load}", {"load": WrittenLoad(load)})


_MOVING: tuple[tuple[PartKind, Direction], ...] = (
    (PartKind.APPLIED_FRONT, UP),
    (PartKind.FRONT, UP),
    (PartKind.LEFT, UP),
    (PartKind.BOTTOM, BACK),
)
"""What is shown: heights of fronts and sides, and how deep a bottom is."""


def _movement(draft: JobDraft, lengths: PaperLengths) -> PacketTable:
    """How far solid parts move from today to both ends of the year; alike parts in one row."""
    alike: dict[tuple[str, ...], list[str]] = {}
    sources: dict[Source, None] = {}
    for drawer in draft.assembled:
        for kind, moved in moving_parts(drawer):
            row = (
                phrase("sides") if kind is PartKind.LEFT else kind.words,
                lengths.coarse(moved.size),
                joined([lengths.signed(moved.at_dry), lengths.signed(moved.at_damp)], " / "),
                joined([drawer.box.duty.climate.words, moisture_words(moved)], ": "),
            )
            alike.setdefault(row, []).append(drawer.box.name)
            sources |= dict.fromkeys(moved.sources)
    return PacketTable(
        (
            phrase("Drawer"),
            phrase("Part"),
            phrase("Size today"),
            phrase("Dry season / damp season"),
            phrase("Climate"),
        ),
        tuple((names_in_row(list(dict.fromkeys(names))), *row) for row, names in alike.items()),
        title=phrase("How far the wood moves"),
        note=phrase("Across the grain. Sources: {sources}.", sources=source_words(tuple(sources)))
        if sources
        else "",
        align=("left", "left", "right", "right", "left"),
    )


def moving_parts(drawer: AssembledDrawer) -> list[tuple[PartKind, YearsMovement]]:
    """The solid parts of a drawer that are shown to move, each with how far."""
    found = []
    for kind, direction in _MOVING:
        placed = drawer.find(kind)
        if placed is None or placed.part.stock.panel is not Panel.SOLID:
            continue
        moved = movement_along(placed, direction, drawer.box.duty.climate)
        if moved is not None:
            found.append((kind, moved))
    return found
