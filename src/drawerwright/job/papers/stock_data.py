"""What stock a plan cuts, as plain data: its thickness, and of solid wood what it is taken for."""

from __future__ import annotations

from drawerwright.job.plain_data import Data, mm
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel


def stock_data(stock: Stock) -> Data:
    thickness = stock.thickness
    spread, published = thickness.spread, thickness.published
    return {
        "name": stock.name,
        "id": stock.key,
        "panel": str(stock.panel),
        "grain": str(stock.grain),
        **_wood(stock),
        "nominal": mm(thickness.nominal),
        "thickness": mm(thickness.value),
        "provisional": thickness.is_provisional,
        "thickness_uncertainty": mm(thickness.mean.uncertainty),
        "scatter": mm(thickness.scatter),
        "assumed": [
            name
            for name, is_assumed in (
                ("thickness", thickness.mean.is_assumed),
                ("scatter", thickness.scatter_is_assumed),
            )
            if is_assumed
        ],
        "measured_from": mm(spread[0]) if spread else None,
        "measured_to": mm(spread[1]) if spread else None,
        "published": {"low": published.low, "high": published.high, "source": published.source}
        if published
        else None,
    }


def _wood(stock: Stock) -> Data:
    """What solid wood is taken for; null where that is not stated, or no matter."""
    taken, is_solid = stock.species, stock.panel is Panel.SOLID
    return {
        "species": None if taken is None else taken.name,
        "species_said": stock.species_said or None,
        "species_could_be": list(stock.species_could_be),
        "cut": str(stock.sawn) if is_solid else None,
        "moisture_read": stock.moisture,
    }
