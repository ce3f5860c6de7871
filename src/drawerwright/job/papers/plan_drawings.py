"""The drawings of a plan, by file name."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial

from drawerwright.basics.later import MadeOnce
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawings.back import draw_back
from drawerwright.drawings.band_marks import BandEnds
from drawerwright.drawings.carcase_elevation import draw_carcase
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.jig_card import draw_jig
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.scoop_template import draw_scoop
from drawerwright.drawings.setup import draw_setup
from drawerwright.drawings.sheet import draw_sheet
from drawerwright.drawings.sheet_look import SheetLook
from drawerwright.job.papers.bench_cards import bench_corners
from drawerwright.job.papers.gluing_page import gluing_drawings
from drawerwright.job.papers.plan_views import overview_drawings
from drawerwright.job.papers.sticks_page import block_drawings, stick_drawings
from drawerwright.job.papers.type_pages import type_drawings
from drawerwright.job.planning.job_plan import JobPlan, StockPlan
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.run.boring import alike_backs
from drawerwright.run.front_work import scooped
from drawerwright.run.marks import sheets_in_row
from drawerwright.sheets.from_parts import BandFamily

Watch = Callable[[int, int], None]
"""Told how many of how many drawings are made; what it raises ends the drawing."""


def plan_drawings(plan: JobPlan, watch: Watch | None = None) -> dict[str, Scene]:
    """Every drawing of a plan: corners, banks, sheets and set-ups, keyed by a name fit for a file."""
    to_draw = drawn_when_asked(plan)
    scenes = {}
    for done, name in enumerate(to_draw):
        if watch is not None:
            watch(done, len(to_draw))
        scenes[name] = to_draw[name]
    return scenes


def drawn_when_asked(plan: JobPlan) -> MadeOnce[Scene]:
    """The same, each drawn when it is first asked for."""
    style = plan.job.style
    to_draw: dict[str, Callable[[], Scene]] = dict(overview_drawings(plan.draft)) | dict(
        type_drawings(plan.draft)
    )
    to_draw |= dict(gluing_drawings(plan.draft))
    to_draw |= dict(stick_drawings(plan.draft))
    to_draw |= dict(block_drawings(plan))
    for number, corner in enumerate(plan.corners, start=1):
        to_draw[f"corner-{number}"] = partial(draw_corner, corner.setting, style=style, title=corner.name)
    for number, plain in enumerate(plan.draft.plain_corners, start=1):
        to_draw[f"plain-corner-{number}"] = partial(
            draw_corner,
            plain.keyed.made,
            style=style,
            title=plain.name,
            parting=plan.strengths.marked(plain.key).line,
        )
    for bench in bench_corners(plan.draft):
        if strips := plain_joint(bench.made.kind).jig(bench.made, bench.tallest):
            title = phrase("Jig: {corner}", corner=bench.corner.name)
            to_draw[bench.drawing_name] = partial(draw_jig, strips, title, style)
    for number, (carcase, banks) in enumerate(plan.job.carcases, start=1):
        to_draw[f"carcase-{number}"] = partial(
            draw_carcase, carcase, banks, fibres=plan.job.fibres, style=style
        )
    for bank in plan.job.banks:
        drawers = plan.draft.drawers_of(bank)
        to_draw[f"bank-{bank.bank.mark}"] = partial(
            draw_elevation, bank.bank, drawers, style=style, fibre=bank.fibre, trays=plan.job.boxes
        )
    for number, alike in enumerate(alike_backs(plan.parts), start=1):
        to_draw[f"back-{number}"] = partial(draw_back, alike, style=style)
    for number, (scoop, fronts) in enumerate(scooped(plan.parts).items(), start=1):
        to_draw[f"scoop-{number}"] = partial(draw_scoop, scoop, fronts, style=style)
    for stock in plan.stocks:
        artist = SheetArtist(plan, stock)
        for number in range(1, len(stock.sheets.layouts) + 1):
            to_draw[sheet_drawing_name(plan, stock, number)] = partial(artist.draw, number)
    for setup in plan.run.setups:
        to_draw[f"setup-{setup.number}"] = partial(draw_setup, setup, style=style, feed=plan.job.table.feed)
    return MadeOnce(to_draw)


class SheetArtist:
    """Draws the sheets of one stock, every piece with its part's label."""

    def __init__(self, plan: JobPlan, stock: StockPlan) -> None:
        self._stock, self._style = stock, plan.job.style
        blanks = stock.blanks
        self._ends = {family.key: _band_ends(family) for family in blanks.families}
        self._labels = {
            (key, place): part.label
            for key, members in blanks.members.items()
            for place, part in enumerate(members, start=1)
        }
        self._numbers = {(band.placed.family, band.placed.number): band.number for band in plan.run.bands}
        self._stacks = {number: stack for stack in stock.sheets.stacks for number in stack}

    def draw(self, number: int, *, at_hand: Collection[int] = (), look: SheetLook | None = None) -> Scene:
        """Sheet `number` (from 1); the cuts `at_hand` stand out; `look` is how it is set on its page."""
        stock = self._stock
        return draw_sheet(
            stock.sheets.layouts[number - 1],
            labels=self._labels,
            ends=self._ends,
            numbers=self._numbers,
            is_grained=stock.blanks.stock.has_grain,
            called=self._called(number),
            at_hand=at_hand,
            title=phrase(
                "{stock}: sheet {number} of {count}",
                stock=stock.blanks.stock.name,
                number=number,
                count=len(stock.sheets.layouts),
            ),
            style=self._style,
            look=look,
        )

    def name(self, number: int) -> Phrase:
        """What the headline of sheet `number` calls it, without the scale."""
        return joined((self._called(number), self._stock.sheets.layouts[number - 1].size.label), " · ")

    def _called(self, number: int) -> Phrase:
        stack = self._stacks[number]
        if len(stack) == 1:
            return phrase("sheet {number}", number=number)
        return phrase(
            "sheet {number} · {count} stacked: {sheets}",
            number=number,
            count=len(stack),
            sheets=sheets_in_row(stack, [stack]),
        )


def sheet_drawing_name(plan: JobPlan, stock: StockPlan, number: int) -> str:
    """Under which name the drawing of sheet `number` of a stock stands in `plan_drawings`.

    Names of stock that differ only in signs which files do not take are told apart by the stock's place.
    """
    slugs = [_slug(each.blanks.stock.name) for each in plan.stocks]
    place = next(place for place, each in enumerate(plan.stocks) if each is stock)
    slug = slugs[place]
    if slugs.count(slug) > 1:
        slug = f"{slug}-stock{place + 1}"
    return f"sheet-{slug}-{number}"


def _slug(name: str) -> str:
    return "".join(sign if sign.isalnum() else "-" for sign in name.casefold()).strip("-") or "stock"


def _band_ends(family: BandFamily) -> BandEnds:
    face_up = phrase("inside face up")
    if family.marked is None:
        return BandEnds(face_up=face_up)
    low, high = (end.words for end in family.parts[0].end_names)
    return BandEnds(low, high, face_up, marked=low)
