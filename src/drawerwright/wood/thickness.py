"""How thick stock is: as sold, as measured, and as its maker says it may be."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache
from importlib import resources

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.measures import MeasureOrNone, holds_measures, measure
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate, Origin


class Panel(StrEnum):
    """Kinds of material with or without published thickness limits."""

    BIRCH_PLYWOOD = "birch-plywood"
    US_PLYWOOD = "us-plywood"
    HARDWOOD_PLYWOOD = "hardwood-plywood"
    PLYWOOD = "plywood"
    SOLID = "solid"
    MDF = "mdf"
    OTHER = "other"


_CALLED: dict[str, str] = {
    Panel.BIRCH_PLYWOOD: phrase("birch plywood"),
    Panel.US_PLYWOOD: phrase("US plywood"),
    Panel.HARDWOOD_PLYWOOD: phrase("hardwood plywood"),
    Panel.PLYWOOD: phrase("plywood"),
    Panel.MDF: phrase("MDF"),
}


def board_words(name: str) -> str:
    """What a kind of panel is called where people read; the name of a wood as it is.

    >>> board_words("birch-plywood"), board_words("maple, sugar")
    ('birch plywood', 'maple, sugar')
    """
    return _CALLED.get(name, name)


@dataclass(frozen=True, slots=True)
class ThicknessRange:
    """Published limits (mm) of a nominal thickness; `typical` is the mean where one is published."""

    low: Mm
    high: Mm
    typical: Mm | None
    source: str


SAME_NOMINAL: Mm = 0.3
"""Two nominal thicknesses closer than this are one board, sold in mm and in inches."""


_SOURCES: dict[str, str] = {
    source: source
    for source in (
        phrase(
            "published birch plywood datasheet with average / lower / upper thickness limits (recalled to equal the "
            "limits in the Finnish plywood industry handbook), undated"
        ),
        phrase("a plywood mill's published size and layer-count table, undated"),
        phrase("US Voluntary Product Standard PS 1 (Structural Plywood), thickness table at 9 % MC"),
    )
}
"""The sources that the table names, for readers of other languages."""


@cache
def _published() -> tuple[tuple[str, str, Mm, ThicknessRange], ...]:
    text = resources.files("drawerwright.wood").joinpath("data/panel_thickness.csv").read_text("utf-8")
    return tuple(
        (
            row["panel"],
            row["finish"],
            float(row["nominal_mm"]),
            ThicknessRange(
                low=float(row["low_mm"]),
                high=float(row["high_mm"]),
                typical=float(row["mean_mm"]) if row["mean_mm"] else None,
                source=_SOURCES.get(row["source"], row["source"]),
            ),
        )
        for row in csv.DictReader(text.splitlines())
        if row["high_mm"] and row["finish"] != "unsanded"
    )


def published_range(panel: Panel, nominal: Mm) -> ThicknessRange | None:
    """Published thickness limits of sanded stock, or None when none are known for this kind and size.

    For birch plywood the series that states a mean comes first. `Panel.PLYWOOD` uses the general limits for
    sanded panels, +(0.2 + 0.03 t) / -(0.4 + 0.03 t) mm (EN 315:2000, recalled and not read; they agree with
    a mill's table and with GB/T 9846).

    >>> published_range(Panel.BIRCH_PLYWOOD, 18).low
    17.1
    """
    if panel is Panel.PLYWOOD and nominal >= 3:
        return ThicknessRange(
            low=round(nominal - 0.4 - 0.03 * nominal, 2),
            high=round(nominal + 0.2 + 0.03 * nominal, 2),
            typical=None,
            source=phrase("EN 315:2000, sanded panels (from memory)"),
        )
    rows = [row for row in _published() if row[0] == panel and abs(row[2] - nominal) <= SAME_NOMINAL]
    if not rows:
        return None
    return min(rows, key=lambda row: (abs(row[2] - nominal), row[3].typical is None))[3]


@lru_cache
def _in_row(readings: tuple[tuple[Mm, ...], ...]) -> tuple[Mm, ...]:
    """The readings of all sheets: known, since every size of a job asks for them."""
    return tuple(value for sheet in readings for value in sheet)


@lru_cache
def _mean(values: tuple[Mm, ...]) -> Mm:
    return math.fsum(values) / len(values)


@holds_measures
class Thickness:
    """The thickness of one stock.

    `readings` holds the caliper readings of each sheet (mm); empty until somebody has measured. `stated_mean` is
    a mean that is known otherwise (a plain number has the usual doubt of a caliper reading), `stated_scatter` how far
    single places of a sheet stand off its mean (standard deviation, mm); it goes before what the readings show, which
    are often few.
    """

    nominal: Mm
    readings: tuple[tuple[Mm, ...], ...] = ()
    published: ThicknessRange | None = None
    stated_mean: MeasureOrNone = measure(usual=usual.CALIPER_READING, default=None)
    stated_scatter: Mm | None = None

    def __post_init__(self) -> None:
        if not self.nominal > 0:
            raise InvalidValueError(
                phrase(
                    "the nominal thickness must be more than 0, not {nominal}",
                    nominal=millimetres(self.nominal, "g"),
                )
            )
        if self.stated_mean is not None and self._all:
            raise InvalidValueError(phrase("give the readings or a mean, not both"))
        name = "stated_mean" if self.stated_mean else "readings"
        for value in (*self._all, *([self.stated_mean.value] if self.stated_mean else [])):
            if not 0.5 * self.nominal < value < 1.5 * self.nominal:
                raise InvalidValueError(
                    phrase(
                        "a measured thickness of {value} cannot belong to stock of {nominal} nominal (more "
                        "than half off): check the reading and its unit",
                        value=millimetres(value, "g"),
                        nominal=millimetres(self.nominal, "g"),
                    ),
                    entry=(name,),
                )

    @property
    def _all(self) -> tuple[Mm, ...]:
        return _in_row(self.readings)

    @property
    def is_provisional(self) -> bool:
        """True until it has been measured: every setting that rests on it may change."""
        return not self._all and self.stated_mean is None

    @property
    def value(self) -> Mm:
        """The thickness to use (mm): mean of the readings or as stated, else published, else nominal."""
        if self._all:
            return _mean(self._all)
        if self.stated_mean is not None:
            return self.stated_mean.value
        if self.published is not None:
            if self.published.typical is not None:
                return self.published.typical
            return (self.published.low + self.published.high) / 2
        return self.nominal

    @property
    def spread(self) -> tuple[Mm, Mm] | None:
        """Smallest and largest reading (mm), None when there is none."""
        return (min(self._all), max(self._all)) if self._all else None

    @property
    def sheet_means(self) -> tuple[Mm, ...]:
        """Mean of each measured sheet (mm)."""
        return tuple(math.fsum(sheet) / len(sheet) for sheet in self.readings if sheet)

    @property
    def scatter(self) -> Mm:
        """How far single places of one sheet stand off its mean (standard deviation, mm).

        As stated, else from the readings of all sheets that have at least two, pooled; else the usual one.
        """
        if self.stated_scatter is not None:
            return self.stated_scatter
        if self.scatter_is_assumed:
            return usual.SCATTER
        sheets = [(sheet, math.fsum(sheet) / len(sheet)) for sheet in self.readings if len(sheet) > 1]
        squares = math.fsum((value - mean) ** 2 for sheet, mean in sheets for value in sheet)
        freedom = sum(len(sheet) - 1 for sheet, _ in sheets)
        return math.sqrt(squares / freedom)

    @property
    def scatter_is_assumed(self) -> bool:
        """Whether nobody has stated a scatter, nor read one sheet at two places."""
        return self.stated_scatter is None and all(len(sheet) < 2 for sheet in self.readings)

    @property
    def mean(self) -> Estimate:
        """The mean thickness of the sheet that is cut next, with its standard uncertainty (mm).

        Measured: what the scatter leaves open in the mean of so many readings, or what the sheets' means differ by
        where that is more. Published: the limits as a rectangular distribution (JCGM 100:2008, 4.3.7). Of stock that
        nobody has measured or published, the usual stands in.
        """
        if self.stated_mean is not None:
            return self.stated_mean
        means = self.sheet_means
        if len(means) > 1:
            middle = math.fsum(means) / len(means)
            between = math.sqrt(math.fsum((mean - middle) ** 2 for mean in means) / (len(means) - 1))
            return Estimate(self.value, max(between, self.scatter / math.sqrt(len(self._all))))
        if self._all:
            origin = Origin.ASSUMED if self.scatter_is_assumed else Origin.STATED
            return Estimate(self.value, self.scatter / math.sqrt(len(self._all)), origin)
        if self.published is not None:
            return Estimate(self.value, (self.published.high - self.published.low) / math.sqrt(12))
        return Estimate.given(self.value, None, usual=usual.NOMINAL)
