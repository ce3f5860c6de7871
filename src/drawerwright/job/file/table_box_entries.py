"""What a table says of a box itself, of a plain one and of one in a bank alike: its stock and its bottom."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from drawerwright.drawers.bottom import BottomStyle

PIECES = ("front", "sides", "back")
"""Fields that `stock` fills where they are empty."""
_BOTTOM = {
    "bottom": "style",
    "bottom_stock": "stock",
    "groove_depth": "groove_depth",
    "groove_height": "groove_height",
    "groove_play": "groove_play",
    "clearance": "clearance",
    "bottom_oversize": "oversize",
}
"""Fields of a bottom by their entries in the job file."""
BOX_ENTRIES: dict[str, tuple[str, ...]] = {
    "stock": ("box", "all"),
    **{name: ("box", name) for name in PIECES},
    **{name: ("bottom", entry) for name, entry in _BOTTOM.items()},
    "edging": ("banding", "thickness"),
    "orientation": ("orientation",),
    "cutter": ("cutter",),
    "joint": ("joint",),
}
"""The entry of a box or a bank that each field is."""


def put_box(entry: dict[str, Any], values: Mapping[str, Any], stock: str) -> None:
    """Stock, bottom and orientation into the entry of a box or a bank; what the table does not say is left out."""
    entry["box"] = _stocks(values, stock)
    bottom = {name: values[field] for field, name in _BOTTOM.items() if field in values}
    if bottom:
        if bottom.get("style") == BottomStyle.FIXED:  # it has no groove, and what is said of one is of no use
            bottom = {name: value for name, value in bottom.items() if not name.startswith("groove")}
        entry["bottom"] = bottom
    if "orientation" in values:
        entry["orientation"] = values["orientation"]


def without_stock(given: Collection[str], stock: str) -> list[str]:
    """The fields for which nothing names a stock; `stock` where it is all of them."""
    unnamed = [] if stock or "stock" in given else [name for name in PIECES if name not in given]
    return ["stock"] if len(unnamed) == len(PIECES) else unnamed


def _stocks(values: Mapping[str, Any], stock: str) -> dict[str, str]:
    """`all` where every piece has one stock, else what each piece has."""
    whole = values.get("stock") or stock
    pieces = {name: values.get(name) or whole for name in PIECES}
    named = {name: value for name, value in pieces.items() if value}
    if len(set(pieces.values())) == 1 and named:
        return {"all": pieces["front"]}
    return named
