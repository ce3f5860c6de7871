"""What a job file says of labels, and of what small things cost."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import PaperName
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.label_grids import GRIDS, LabelGrid, standing_grid
from drawerwright.job.file.entry_types import Clearance, Entries, PositiveLength, Price, Told
from drawerwright.run.prices import Pack, PackPrices


class LabelsEntry(Entries):
    """A sheet of self-adhesive labels: a common one by the number of its labels, or the measures of another."""

    sheet: int | None = Field(default=None, ge=1)
    """How many labels are on it, if it is a common one: 21, 24 or 65 on A4, 30, 10 or 80 on Letter."""
    columns: int | None = Field(default=None, ge=1, le=40)
    """For another sheet: how many labels lie side by side."""
    rows: int | None = Field(default=None, ge=1, le=40)
    """How many lie one below the other."""
    width: PositiveLength | None = None
    """Width of a label."""
    height: PositiveLength | None = None
    """Height of a label."""
    left: Clearance = 0.0
    """From the paper's left edge to the first label."""
    top: Clearance = 0.0
    """From the paper's upper edge to the first label."""
    between_columns: Clearance = 0.0
    """Gap between labels side by side."""
    between_rows: Clearance = 0.0
    """Gap between labels below each other."""

    def grid(self, paper: PaperName) -> LabelGrid | None:
        """The sheet on this paper; None where none is chosen.

        Raises:
            InvalidValueError: there is no such sheet, half of its measures are missing, or they go beyond the paper.
        """
        own = {name: getattr(self, name) for name in ("columns", "rows", "width", "height")}
        missing = [name for name, value in own.items() if value is None]
        if self.sheet is not None:
            if given := sorted(self.model_fields_set - {"sheet"}):
                raise InvalidValueError(
                    phrase("says how large a sheet is that 'sheet' has already chosen: take one of them out"),
                    entry=(given[0],),
                )
            return standing_grid(paper, self.sheet)
        if not self.model_fields_set:
            return None
        if self.columns is None or self.rows is None or self.width is None or self.height is None:
            raise InvalidValueError(
                phrase("a sheet of your own needs {missing} as well", missing=", ".join(missing))
            )
        apart = self.between_columns, self.between_rows
        return LabelGrid(paper, self.columns, self.rows, self.width, self.height, self.left, self.top, apart)


class ScrewPackEntry(Entries):
    """A box of screws."""

    price: Price | None = None
    """Price of a box."""
    count: int = Field(default=100, ge=1)
    """How many screws are in it."""


class EdgingRollEntry(Entries):
    """A roll of edging."""

    price: Price | None = None
    """Price of a roll."""
    length: PositiveLength
    """How much edging is on it."""


class GlueBottleEntry(Entries):
    """A bottle of glue."""

    price: Price | None = None
    """Price of a bottle."""
    grams: Annotated[float, Field(gt=0), Told("number", unit="g")]
    """How much glue is in it."""


class PricesEntry(Entries):
    """What things cost that come in packs; sheets, runners and pulls have their price where they stand."""

    screws: ScrewPackEntry | None = None
    """A box of screws, of whichever length."""
    edging: EdgingRollEntry | None = None
    """A roll of edging, of whichever width."""
    glue: GlueBottleEntry | None = None
    """A bottle of wood glue."""

    def prices(self) -> PackPrices:
        """The same as values."""
        screws, edging, glue = self.screws, self.edging, self.glue
        return PackPrices(
            None if screws is None else Pack(screws.price, screws.count),
            None if edging is None else Pack(edging.price, edging.length),
            None if glue is None else Pack(glue.price, glue.grams),
        )


def common_label_sheets() -> tuple[tuple[int, str], ...]:
    """The labels on each common sheet, and its paper.

    >>> common_label_sheets()[0]
    (21, 'A4')
    """
    names: dict[PaperName, str] = {"a4": "A4", "letter": "Letter"}
    return tuple((grid.count, names[paper]) for paper, grids in GRIDS.items() for grid in grids)
