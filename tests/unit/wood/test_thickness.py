from __future__ import annotations

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.wood.stock import Stock, stock_findings
from drawerwright.wood.thickness import Panel, Thickness, published_range


def birch(*sheets: tuple[float, ...]) -> Stock:
    return Stock(
        "birch", Panel.BIRCH_PLYWOOD, Thickness(15, sheets, published_range(Panel.BIRCH_PLYWOOD, 15))
    )


def codes(stock: Stock) -> list[str]:
    return [finding.code for finding in stock_findings(stock)]


def test_measured_beats_nominal() -> None:
    stock = birch((14.6, 14.7), (14.5,))
    assert stock.thickness.value == pytest.approx(14.6)
    assert stock.thickness.spread == (14.5, 14.7)
    assert not stock.thickness.is_provisional
    assert stock.thickness.estimate.uncertainty == pytest.approx(0.1)


def test_unmeasured_stock_is_provisional_and_shows_the_published_range() -> None:
    stock = birch()
    assert stock.thickness.is_provisional
    assert stock.thickness.value == 14.9
    (finding,) = stock_findings(stock)
    assert finding.code == "thickness-not-measured"
    assert "14.3 to 15.3" in finding.text


def test_uneven_sheets_are_found() -> None:
    assert codes(birch((14.4, 14.75))) == ["thickness-uneven"]
    assert codes(birch((14.4, 14.4), (14.65, 14.65))) == ["sheets-differ"]
    assert codes(birch((15.6, 15.6))) == ["thickness-outside-published"]


def test_a_reading_in_the_wrong_unit_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="check the reading and its unit"):
        birch((0.575,))
