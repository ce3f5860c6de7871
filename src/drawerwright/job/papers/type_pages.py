"""A page for each type of drawer: views, corner, parts, grooves, and what differs between its drawers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial

from drawerwright.basics.lengths import Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import Part, PartKind, Role
from drawerwright.drawings.axonometric_views import draw_drawer_apart
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.drawer_views import draw_drawer_front, draw_drawer_side
from drawerwright.drawings.packet import DrawerPage, PacketTable
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scales import drawn_to_fit
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.solids import drawer_solids
from drawerwright.job.papers.drawer_types import DrawerType, drawer_types
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.draft import JobDraft
from drawerwright.run.front_work import beyond_box

FRONT_ROOM: tuple[Mm, Mm] = (95.0, 70.0)
SIDE_ROOM: tuple[Mm, Mm] = (79.0, 70.0)
CORNER_ROOM: tuple[Mm, Mm] = (106.0, 113.0)
APART_ROOM: tuple[Mm, Mm] = (68.0, 100.0)
"""Paper for the four drawings of a page: two beside each other, twice."""
LARGEST = 2.5
"""Scale of the corner where it has room; it is smaller where that keeps the tables on the same page."""
LEAST_HIGH: Mm = 70.0
"""Where there is less room for it than this the tables go overleaf, whatever it is like."""
NOTES_LESS: Mm = 17.0
"""How much less than the views above it the notes and smaller lettering take of a page."""
TABLE_HEAD: Mm = 20.0
TABLE_ROW: Mm = 4.6
"""What tables take of the room for drawings on a page, about."""
VIEWS = ("front", "side", "corner", "apart")


def type_drawings(draft: JobDraft) -> Iterator[tuple[str, Callable[[], Scene]]]:
    """Name and maker of each drawing of the types of a job."""
    style = draft.job.style
    lengths = PaperLengths(style)
    for each in drawer_types(draft.assembled):
        drawer = each.shown
        parts = drawer_solids(drawer, draft.made)
        front = draw_drawer_front(drawer, parts, FRONT_ROOM, style)
        side = draw_drawer_side(drawer, parts, SIDE_ROOM, style)
        taken = max(front.height, side.height) - NOTES_LESS + _tables_high(_tables(each, lengths))
        room = PAPERS[style.paper].standing[1] - taken
        width, height = CORNER_ROOM
        corner_room = width, min(room, height) if room >= LEAST_HIGH else height
        title = phrase("Parts of {name}", name=drawer.box.name)
        makers: tuple[Callable[[], Scene], ...] = (
            partial(_as_it_is, front),
            partial(_as_it_is, side),
            partial(_corner, draft, drawer, corner_room),
            partial(draw_drawer_apart, parts, title, APART_ROOM, style),
        )
        for view, make in zip(VIEWS, makers, strict=True):
            yield f"{each.slug}-{view}", make


def _as_it_is(scene: Scene) -> Scene:
    return scene


def _corner(draft: JobDraft, drawer: AssembledDrawer, room: tuple[Mm, Mm]) -> Scene:
    """The front corner in section, its pieces called by their names."""
    cut = drawer[PartKind.LEFT].part.ends[0]
    names = phrase("front"), phrase("side")
    flat, upright = names if cut.role is Role.UPRIGHT else names[::-1]
    style, title = draft.job.style, draft.corner_name(cut.corner)
    return drawn_to_fit(
        lambda scale: draw_corner(
            draft.made[cut.corner],
            scale=scale,
            beside_figures=True,
            style=style,
            flat_name=flat,
            upright_name=upright,
            title=title,
        ),
        LARGEST,
        room,
    )


def type_pages(draft: JobDraft, drawings: Mapping[str, Scene]) -> tuple[DrawerPage, ...]:
    """The pages; `drawings` from `plan_drawings`."""
    lengths = PaperLengths(draft.job.style)
    return tuple(_page(draft, each, drawings, lengths) for each in drawer_types(draft.assembled))


def _page(
    draft: JobDraft, each: DrawerType, drawings: Mapping[str, Scene], lengths: PaperLengths
) -> DrawerPage:
    shown = each.shown
    return DrawerPage(
        title=plural("Drawer {names}", "Drawers {names}", len(each.drawers), names=each.names),
        views=tuple(drawings[f"{each.slug}-{view}"] for view in VIEWS),
        notes=(
            phrase(
                "Drawn: {name}. The section is that of {corner}.",
                name=shown.box.name,
                corner=_front_corner(draft, shown, PartKind.LEFT),
            ),
            *_other_corner(draft, shown),
            *_differences(each, lengths),
        ),
        tables=_tables(each, lengths),
    )


def _tables(each: DrawerType, lengths: PaperLengths) -> tuple[PacketTable, ...]:
    tables = _sizes(each, lengths), _front_on_box(each, lengths), _grooves(each.shown, lengths)
    return tuple(table for table in tables if table.rows)


def _tables_high(tables: Iterable[PacketTable]) -> Mm:
    """What they take of a page's height, about, where their lettering is small."""
    return sum(TABLE_HEAD + TABLE_ROW * len(table.rows) for table in tables)


def _front_corner(draft: JobDraft, drawer: AssembledDrawer, side: PartKind) -> str:
    return draft.corner_name(drawer[side].part.ends[0].corner)


def _other_corner(draft: JobDraft, drawer: AssembledDrawer) -> Iterator[Phrase]:
    """The corner on the right, where the front stands further beyond one side than beyond the other."""
    left, right = (_front_corner(draft, drawer, side) for side in (PartKind.LEFT, PartKind.RIGHT))
    if left != right:
        yield phrase("That is the one on the left; on the right is {corner}.", corner=right)


def _measures(drawer: AssembledDrawer) -> dict[str, Mm]:
    """What drawers of a type may differ in, by its words."""
    box = drawer.box
    front = drawer.shown_front
    (left, _, low), (right, _, high) = front.bounds
    measures: dict[str, Mm] = {
        phrase("Outer width"): box.width,
        phrase("Outer depth"): box.depth,
        phrase("Sides high"): box.height,
        phrase("Inside width"): box.inside_width,
        phrase("Inside depth"): box.inside_depth,
        phrase("Front wide"): right - left,
        phrase("Front high"): high - low,
        phrase("Back high"): drawer[PartKind.BACK].part.width,
    }
    bottom = drawer.find(PartKind.BOTTOM)
    if bottom is not None:
        measures[phrase("Bottom wide")] = bottom.part.length
        measures[phrase("Bottom deep")] = bottom.part.width
    return measures


def _sizes(each: DrawerType, lengths: PaperLengths) -> PacketTable:
    """A row for each size, drawers of the same sizes together."""
    rows: dict[tuple[str, ...], list[str]] = {}
    for drawer in each.drawers:
        sizes = tuple(lengths.bare_coarse(size) for size in _measures(drawer).values())
        rows.setdefault(sizes, []).append(drawer.box.name)
    return PacketTable(
        (phrase("Drawer"), *_measures(each.shown)),
        tuple((names_in_row(names), *sizes) for sizes, names in rows.items()),
        title=phrase("Finished sizes ({unit})", unit=lengths.unit),
    )


def _front_on_box(each: DrawerType, lengths: PaperLengths) -> PacketTable:
    """Where an applied front goes on its box; drawers alike in a row."""
    rows: dict[tuple[str, ...], list[str]] = {}
    for drawer in each.drawers:
        place = beyond_box(drawer)
        if place is not None:
            rows.setdefault(tuple(lengths.bare_coarse(size) for size in place), []).append(drawer.box.name)
    return PacketTable(
        (
            phrase("Drawer"),
            phrase("Beyond the left side"),
            phrase("Beyond the right side"),
            phrase("Below the sides"),
            phrase("Above the sides"),
        ),
        tuple((names_in_row(names), *place) for place, names in rows.items()),
        title=phrase("Applied front on its box ({unit})", unit=lengths.unit),
        note=phrase("Seen from the front; minus: the box stands beyond the front."),
    )


def _differences(each: DrawerType, lengths: PaperLengths) -> Iterator[str]:
    """In a sentence what is not the same in all of them."""
    if len(each.drawers) == 1:
        return
    measured = [
        {words: lengths.coarse(size) for words, size in _measures(drawer).items()} for drawer in each.drawers
    ]
    differing = [words for words in measured[0] if len({sizes[words] for sizes in measured}) > 1]
    if differing:
        yield phrase(
            "These differ from drawer to drawer: {sizes}. All else is alike.", sizes=_listed(differing)
        )
    else:
        yield phrase("All of them are alike.")


def _listed(words: list[str]) -> str:
    return joined(words, ", ")


def _grooves(drawer: AssembledDrawer, lengths: PaperLengths) -> PacketTable:
    """Groove by groove, measured on the part itself."""
    grooved: dict[tuple[str, str, str], list[Part]] = {}
    for part in drawer.parts:
        if part.groove is not None:
            groove = part.groove
            row = lengths.coarse(groove.height), lengths.fine(groove.width), lengths.coarse(groove.depth)
            grooved.setdefault(row, []).append(part)
    return PacketTable(
        (phrase("Part"), phrase("Near side above lower edge"), phrase("Width"), phrase("Depth")),
        tuple((_listed([part.kind.words for part in parts]), *row) for row, parts in grooved.items()),
        title=phrase("Grooves"),
        note=phrase(
            "On the inside face, from end to end; the height is measured from the part's own lower edge."
        ),
    )
