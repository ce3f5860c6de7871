"""What drawers weigh and carry, and what the year does to them, as plain data. Weights are kilograms."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.loads import Kg
from drawerwright.basics.phrases import plain
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.placement import BACK, RIGHT, UP
from drawerwright.drawers.seasons import movement_along
from drawerwright.job.bearing_bottom import bottom_data
from drawerwright.job.job import Job
from drawerwright.job.plain_data import Data, clean, mm
from drawerwright.strength.bottom_load import LoadedBottom
from drawerwright.strength.drawer_load import DrawerLoad, part_mass
from drawerwright.strength.groove_bearing import groove_bearing
from drawerwright.wood.sourced import least_sure

DIRECTIONS = {"width": RIGHT, "depth": BACK, "height": UP}
"""Of the drawer, by what a size in them is called."""
SEEN = 0.05
"""Movement below this (mm) is left out."""


def kilograms(load: Kg | None) -> float | None:
    """A weight as it is written into data, to ten grams."""
    return None if load is None else round(load, 2)


def duty_data(drawer: AssembledDrawer, job: Job) -> Data:
    """What one drawer weighs, carries and does over the year; null where nothing is stated."""
    duty, load = drawer.box.duty, DrawerLoad(drawer)
    bottom = load.bottom(job.sag_limit)
    return {
        "use": None if duty.use is None else str(duty.use),
        "contents": None if duty.contents is None else str(duty.contents),
        "climate": duty.climate.name,
        "climate_is_assumed": duty.stated_climate is None,
        "weight": {
            "empty": kilograms(load.empty),
            "contents": kilograms(load.contents),
            "full": kilograms(load.full),
            "parts": {each.label: kilograms(part_mass(each, duty.climate)) for each in drawer.parts},
        },
        "bottom_under_load": None if bottom is None else bottom_data(bottom),
        "groove_bearing": None if bottom is None else _bearing(drawer, bottom),
        "movement": list(_movement(drawer)),
    }


def _bearing(drawer: AssembledDrawer, loaded: LoadedBottom) -> Data | None:
    """How the bottom presses on its grooves (N/mm²)."""
    bottom = drawer.box.bottom
    bearing = None if bottom is None else groove_bearing(loaded, bottom, drawer.box.side)
    if bearing is None:
        return None
    return {
        "pressure": clean(bearing.pressure),
        "limit": clean(bearing.limit),
        "reach": mm(bearing.reach),
        "ok": bearing.holds,
        "source": plain(bearing.source.words),
    }


def _movement(drawer: AssembledDrawer) -> Iterator[Data]:
    for placed in drawer.placed:
        for name, direction in DIRECTIONS.items():
            moved = movement_along(placed, direction, drawer.box.duty.climate)
            if moved is None or moved.range < SEEN:
                continue
            yield {
                "part": placed.part.label,
                "size": name,
                "today": mm(moved.size),
                "at_dry": mm(moved.at_dry),
                "at_damp": mm(moved.at_damp),
                "moisture": {
                    "today": round(moved.moisture.today, 1),
                    "dry": round(moved.moisture.dry, 1),
                    "damp": round(moved.moisture.damp, 1),
                    "is_read": moved.moisture.is_read,
                },
                "sources": [plain(source.words) for source in moved.sources],
                "provenance": str(least_sure(*moved.sources)),
            }
