"""Job files to begin with: the example, and the frame that a guided start fills."""

from __future__ import annotations

from pathlib import Path

from drawerwright.basics import usual
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase

BOX, BOTTOM = phrase("box"), phrase("bottom")
"""What the first two stocks are called."""
BANK = phrase("Bank")
GAUGES = phrase("How well you know your gauges. While nothing is said here, this is assumed:")


def skeleton(style: LengthStyle) -> str:
    """A cutter, a set of machines, two stocks and a bank, named in words of `style`.

    What only the woodworker knows is 0.
    """
    box, bottom = style.say(BOX), style.say(BOTTOM)
    return f"""\
format: 1
job: Drawers
cutter:
  kind: drawer-lock
  mid_depth: 0
  step: 0
machine:
  saw: {{kerf: 3, trim: 5}}
  sacrificial_strip: {{width: 12}}
  # {style.say(GAUGES)}
  # router_table:
  #   height_gauge_offset: 0 ± {usual.GAUGE:g}
  #   fence_gauge_offset: 0 ± {usual.GAUGE:g}
  #   repeatability: {usual.REPEATABILITY:g}
  # calipers: {usual.CALIPERS_ZERO:g}
stock:
  {box}:
    nominal: 0
    measured: []
    sheets:
      - {{length: 0, width: 0}}
  {bottom}:
    nominal: 0
    sheets:
      - {{length: 0, width: 0}}
banks:
  - name: {style.say(BANK)}
    opening: {{width: 0, height: 0, depth: 0}}
    fronts:
      style: inset
      heights: {{equal: 0}}
    box: {{all: {box}}}
    bottom: {{stock: {bottom}}}
"""


def example_text() -> str:
    """The example job file: from the package, or from the source tree that the package lies in."""
    packaged = Path(__file__).with_name("example.yaml")
    source = Path(__file__).parents[4] / "examples" / "music-school.yaml"
    return (packaged if packaged.is_file() else source).read_text(encoding="utf-8")
