"""The drawings of a plan, by file name."""

from __future__ import annotations

from drawerwright.drawings.corner import draw_corner
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.setup import draw_setup
from drawerwright.drawings.sheet import BandEnds, draw_sheet
from drawerwright.job.planning import JobPlan, StockPlan
from drawerwright.wood.stock import Grain


def plan_drawings(plan: JobPlan) -> dict[str, Scene]:
    """Every drawing of a plan: corners, banks, sheets and set-ups, keyed by a name fit for a file."""
    style = plan.job.style
    scenes: dict[str, Scene] = {}
    for number, corner in enumerate(plan.corners, start=1):
        scenes[f"corner-{number}"] = draw_corner(corner.setting, style=style, title=corner.name)
    for bank in plan.job.banks:
        scenes[f"bank-{bank.bank.mark}"] = draw_elevation(bank.bank, style=style)
    for stock in plan.stocks:
        for number in range(1, len(stock.sheets.layouts) + 1):
            scenes[sheet_drawing_name(plan, stock, number)] = draw_plan_sheet(plan, stock, number)
    for setup in plan.run.setups:
        scenes[f"setup-{setup.number}"] = draw_setup(setup, style=style)
    return scenes


def draw_plan_sheet(plan: JobPlan, stock: StockPlan, number: int) -> Scene:
    """Sheet `number` (from 1) of a stock, every piece with its part's label."""
    blanks = stock.blanks
    labels = {
        (key, place): part.label
        for key, members in blanks.members.items()
        for place, part in enumerate(members, start=1)
    }
    ends = {
        family.key: BandEnds(
            low_end="front end" if family.has_marked_front_edge else "",
            high_end="back end" if family.has_marked_front_edge else "",
            face_up="inside face up",
            marked="front end" if family.has_marked_front_edge else None,
        )
        for family in blanks.families
    }
    return draw_sheet(
        stock.sheets.layouts[number - 1],
        labels=labels,
        ends=ends,
        is_grained=blanks.stock.grain is not Grain.NONE,
        title=f"{blanks.stock.name}: sheet {number} of {len(stock.sheets.layouts)}",
        style=plan.job.style,
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
