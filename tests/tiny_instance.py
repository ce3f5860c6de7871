"""An instance of the published format that is solved at once."""

from typing import Any

DRAWERS: dict[str, Any] = {
    "name": "four kinds",
    "sheet": {"length": 2440, "width": 1220, "count": None},
    "kerf": 3.2,
    "stages": 2,
    "cut_type": "exact",
    "exact": True,
    "first_cut": "across_length",
    "rotation": False,
    "objective": "min_sheets",
    "items": [
        {"length": 450, "width": 100, "demand": 8},
        {"length": 450, "width": 150, "demand": 4},
        {"length": 520, "width": 116, "demand": 6},
    ],
}
