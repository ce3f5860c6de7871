"""Job files to begin with: the example, and the frame that a guided start fills."""

from __future__ import annotations

from pathlib import Path

from drawerwright.basics import usual
from drawerwright.basics.lengths import MM_PER_INCH, LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.file_units import FileUnit

BOX, BOTTOM = phrase("box panel"), phrase("bottom panel")
"""What the first two stocks are called."""
BANK = phrase("Bank")
USUAL_SIZES: dict[FileUnit, tuple[str, str, str]] = {"mm": ("3", "5", "12"), "in": ("1/8", "1/4", "1/2")}
"""Saw kerf, trim of a new sheet and sacrificial strip to begin with (common practice, no source)."""
INCH_REVEAL, INCH_GROOVE = "\n      reveal: 1/8", ", groove_depth: 1/4, groove_height: 3/8"
INCH_TABLE = "router_table:\n    shortest_piece: 6\n    #"
"""What a file in inches says where one in millimetres leaves the usual: those are round in millimetres only."""
GAUGES = phrase("What is assumed of your gauges wherever you state nothing:")


def skeleton(style: LengthStyle) -> str:
    """A cutter, a set of machines, two stocks and a bank, named in words of `style`, lengths in its unit.

    What only the woodworker knows is 0.
    """
    box, bottom = style.say(BOX), style.say(BOTTOM)
    unit = style.typed_unit
    kerf, trim, strip = USUAL_SIZES[unit]
    gauge, repeatability, calipers = (
        _typed(doubt, unit) for doubt in (usual.GAUGE, usual.REPEATABILITY, usual.CALIPERS_ZERO)
    )
    is_in_inches = unit == "in"
    reveal, groove = (INCH_REVEAL, INCH_GROOVE) if is_in_inches else ("", "")
    table, mark = (INCH_TABLE, "  #") if is_in_inches else ("# router_table:\n  #  ", "#  ")
    shown = f"shown: {{unit: {style.unit}}}\n" if style.unit != unit else ""
    return f"""\
format: 1
job: Drawers
units: {unit}
{shown}\
cutter:
  kind: drawer-lock
  mid_depth: 0
  step: 0
machine:
  saw: {{kerf: {kerf}, trim: {trim}}}
  sacrificial_strip: {{width: {strip}}}
  # {style.say(GAUGES)}
  {table} height_gauge_offset: 0 ± {gauge}
  {mark} fence_gauge_offset: 0 ± {gauge}
  {mark} repeatability: {repeatability}
  # calipers: {calipers}
stock:
  {box}:
    nominal: 0
    measured: []
    sheets:
      - {{length: 0, width: 0}}
  {bottom}:
    nominal: 0
    measured: []
    sheets:
      - {{length: 0, width: 0}}
banks:
  - name: {style.say(BANK)}
    opening: {{width: 0, height: 0, depth: 0}}
    fronts:
      style: inset
      heights: {{equal: 0}}{reveal}
    box: {{all: {box}}}
    bottom: {{stock: {bottom}{groove}}}
"""


def _typed(doubt: Mm, unit: FileUnit) -> str:
    """What is assumed (mm), as it would stand in a file of this unit."""
    return f"{doubt:g}" if unit == "mm" else f"{doubt / MM_PER_INCH:.1g}"


def example_text() -> str:
    """The example job file: from the package, or from the source tree that the package lies in."""
    packaged = Path(__file__).with_name("example.yaml")
    source = Path(__file__).parents[4] / "examples" / "music-school.yaml"
    return (packaged if packaged.is_file() else source).read_text(encoding="utf-8")
