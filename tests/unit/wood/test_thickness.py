from __future__ import annotations

import math

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Severity
from drawerwright.basics.uncertain import Estimate, Origin
from drawerwright.wood.stock import Stock, stock_findings, thickness_slip
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


def test_scatter_within_a_sheet_is_told_from_what_sheets_differ_by() -> None:
    """By hand: within, squares 2 x 0.05^2 + 2 x 0.1^2 over two degrees of freedom; between, means 14.65, 14.4."""
    thickness = birch((14.6, 14.7), (14.3, 14.5)).thickness
    assert thickness.scatter == pytest.approx(math.sqrt((2 * 0.05**2 + 2 * 0.1**2) / 2))
    assert thickness.mean.uncertainty == pytest.approx(0.25 / math.sqrt(2))
    alike = birch((14.5, 14.7), (14.5, 14.7)).thickness
    assert alike.mean.uncertainty == pytest.approx(alike.scatter / 2)
    one_sheet = birch((14.6, 14.7, 14.8, 14.7)).thickness
    assert one_sheet.mean.uncertainty == pytest.approx(one_sheet.scatter / 2)


def test_published_limits_count_as_a_rectangular_distribution() -> None:
    """Limits 14.3 to 15.3 mm; a rectangular distribution has the deviation width / sqrt(12)."""
    thickness = birch().thickness
    assert thickness.mean.uncertainty == pytest.approx(1.0 / math.sqrt(12))
    assert not thickness.mean.is_assumed


def test_what_nobody_has_read_or_published_has_the_usual_doubt() -> None:
    """The figures of the table of usual doubts: 0.04 mm within a sheet, 0.2 mm of a nominal thickness."""
    one_reading = birch((14.6,)).thickness
    assert (one_reading.scatter, one_reading.mean) == (0.04, Estimate(14.6, 0.04, Origin.ASSUMED))
    assert Thickness(15, ((14.6,),), stated_scatter=0.0).mean == Estimate(14.6, 0.0)
    assert not birch((14.6, 14.7)).thickness.scatter_is_assumed
    assert Thickness(20).mean == Estimate(20, 0.2, Origin.ASSUMED)


def test_a_stated_mean_and_scatter_stand_for_readings() -> None:
    stated = Thickness(15, stated_mean=Estimate(14.62, 0.02), stated_scatter=0.04)
    assert (stated.value, stated.mean, stated.scatter) == (14.62, Estimate(14.62, 0.02), 0.04)
    assert not stated.is_provisional
    assert Thickness(15, ((14.6, 14.7),), stated_scatter=0.04).scatter == 0.04
    with pytest.raises(InvalidValueError, match="not both"):
        Thickness(15, ((14.6,),), stated_mean=Estimate(14.62))
    with pytest.raises(InvalidValueError, match="more than half off"):
        Thickness(15, stated_mean=Estimate(1.462))


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


def solid(nominal: float, *readings: float) -> Stock:
    return Stock("ash", Panel.SOLID, Thickness(nominal, (readings,)))


@pytest.mark.parametrize(("nominal", "meant"), [(150.0, "15.0 mm"), (1500.0, "15.0 mm"), (45.0, "4.5 mm")])
def test_a_thickness_of_no_joint_is_asked_about(nominal: float, meant: str) -> None:
    """15.0 without its decimal sign is 150; whoever measured it in the same way reads 150, too."""
    finding = thickness_slip(nominal, "ash")
    assert finding is not None
    assert (finding.code, finding.severity) == ("thickness-unlikely", Severity.WARNING)
    assert f"{nominal:g} mm" in finding.text
    assert "40 mm" in finding.text
    assert f"Did you mean {meant}?" in finding.remedy


def test_the_thickest_usual_stock_is_not_asked_about() -> None:
    assert thickness_slip(40.0, "ash") is None
    assert thickness_slip(15.0, "ash") is None
