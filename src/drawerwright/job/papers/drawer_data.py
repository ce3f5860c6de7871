"""The drawers of a plan as plain data: sizes, where every part sits, what each carries and how its wood moves."""

from __future__ import annotations

from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import DrawerPlace
from drawerwright.job.papers.duty_data import duty_data
from drawerwright.job.plain_data import Data, mm
from drawerwright.job.planning.job_plan import JobPlan


def drawers_data(plan: JobPlan) -> list[Data]:
    """Every drawer of a plan."""
    places: dict[str, DrawerPlace] = {}
    for bank in plan.job.banks:
        for place in bank.bank.places():
            places.setdefault(place.name, place)
    return [_drawer(drawer, places.get(drawer.box.name), plan) for drawer in plan.draft.assembled]


def _drawer(drawer: AssembledDrawer, place: DrawerPlace | None, plan: JobPlan) -> Data:
    """One drawer with the place of every part in its frame, and of this frame in the opening of its bank."""
    box = drawer.box
    origin = None if place is None else place.origin(box)
    return {
        "name": box.name,
        "width": mm(box.width),
        "depth": mm(box.depth),
        "height": mm(box.height),
        "front_height": mm(box.front_height),
        "front_below": mm(box.front_below),
        "inside_width": mm(box.inside_width),
        "inside_depth": mm(box.inside_depth),
        "lip": mm(box.lips[0]),
        "lip_right": mm(box.lips[1]),
        "in_opening": None if origin is None else [mm(place) for place in origin],
        "parts": [
            {
                "part": each.part.label,
                "corner": [mm(place) for place in each.place.corner],
                "along": list(each.place.along),
                "across": list(each.place.across),
                "through": list(each.place.through),
            }
            for each in drawer.placed
        ],
        **duty_data(drawer, plan.job),
    }
