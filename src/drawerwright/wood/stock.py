"""Stock: material on the rack, of one kind and one thickness."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm
from drawerwright.wood.thickness import Panel, Thickness


class Grain(StrEnum):
    """Which way the fibre of the face runs on a sheet."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


SHEETS_DIFFER: Mm = 0.15
"""Sheets whose means differ by more need settings of their own: a glued corner has about this much room."""
SPREAD_LARGE: Mm = 0.3
"""Readings further apart than this show as a step at some corners, whatever the setting."""


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of board: its name in the job, what it is, how thick, and how its grain runs."""

    name: str
    panel: Panel
    thickness: Thickness
    grain: Grain = Grain.LENGTH


def stock_findings(stock: Stock) -> tuple[Finding, ...]:
    """What is doubtful about a stock's thickness: not measured, uneven, out of the published limits."""
    found = []
    thickness = stock.thickness
    where = f"stock {stock.name}"
    if thickness.is_provisional:
        limits = thickness.published
        known = (
            f"published limits are {limits.low:g} to {limits.high:g} mm ({limits.source})"
            if limits
            else "no published limits are known for it"
        )
        found.append(
            Finding(
                "thickness-not-measured",
                Severity.WARNING,
                where,
                f"{thickness.nominal:g} mm nominal is not measured yet; {known}. All settings and lengths "
                f"that rest on {thickness.value:.2f} mm are provisional.",
                "Measure each sheet at several places with calipers and enter the readings.",
            )
        )
        return tuple(found)
    low, high = thickness.spread or (thickness.value, thickness.value)
    if high - low > SPREAD_LARGE:
        found.append(
            Finding(
                "thickness-uneven",
                Severity.WARNING,
                where,
                f"readings run from {low:.2f} to {high:.2f} mm, more than {SPREAD_LARGE:g} mm apart.",
                "Sort the sheets, or cut the pieces of one corner from one sheet.",
            )
        )
    means = thickness.sheet_means
    if len(means) > 1 and max(means) - min(means) > SHEETS_DIFFER:
        found.append(
            Finding(
                "sheets-differ",
                Severity.WARNING,
                where,
                f"the sheets' means run from {min(means):.2f} to {max(means):.2f} mm.",
                "Enter them as separate stocks, so that each gets settings of its own.",
            )
        )
    limits = thickness.published
    if limits is not None and not limits.low <= thickness.value <= limits.high:
        found.append(
            Finding(
                "thickness-outside-published",
                Severity.NOTE,
                where,
                f"the mean {thickness.value:.2f} mm lies outside the published {limits.low:g} to "
                f"{limits.high:g} mm ({limits.source}).",
                "Check the calipers' zero and the nominal thickness; what is measured is used.",
            )
        )
    return tuple(found)
