"""Crates out of sheets of 1000 by 500 mm: jobs of which it can be reckoned by hand what so many sheets yield.

A crate of 400 by 300 by 90 mm takes two strips of 400 and two of 292.6 by 90 mm (300 less twice 15 - 11.3: 11.3 is the
cutter's engagement). With a kerf of 3 mm a column of a 500 mm wide sheet is five strips high (5 x 90 + 4 x 3 = 462); of
1000 mm a sheet gives columns of 400, 292.6 and 292.6, or two of 400. Bands are not trimmed (`trim_bands: false`), so n
crates need 2n / 5 columns of each, rounded up.

- One sheet yields two crates, and a column of 292.6 mm stays.
- Two sheets give 2 and 2 columns, so five crates (3 and 3 are 2078 mm long, more than two sheets).
- Three give 4 and 4, so ten.

A tray takes two strips of 200 and two of 142.6 by 60 mm: it fits into what two crates leave of one sheet.
"""

from __future__ import annotations

SHEET_SIZE = "length: 1000, width: 500"
CRATE = "outer: {width: 400, depth: 300, height: 90}, box: {all: ash15}"
TRAY = "outer: {width: 200, depth: 150, height: 60}, box: {all: ash15}"


def crates(count: int, *, on_hand: int | None = None, has_tray: bool = False, days: str = "") -> str:
    """The text of a job.

    Args:
        count: how many crates.
        on_hand: how many sheets there are; as many as anybody likes where nothing is said.
        has_tray: whether a tray is made beside them.
        days: which drawers on which day, as the file says it; on the last line.
    """
    limit = "" if on_hand is None else f", on_hand: {on_hand}"
    lines = (
        "format: 1",
        "job: Crates",
        "cutter: {mid_depth: 5.65, step: 3.45, diameter: 44, max_speed: 16000}",
        "machine: {saw: {kerf: 3}, router_table: {shortest_piece: 0}}",
        f"stock: {{ash15: {{nominal: 15, measured: [15.0], sheets: [{{{SHEET_SIZE}, price: 20{limit}}}]}}}}",
        "sheets: {trim_bands: false}",
        "boxes:",
        f"  - {{name: crate, count: {count}, {CRATE}}}",
        *([f"  - {{name: tray, {TRAY}}}"] if has_tray else []),
        *([f"days: {days}"] if days else []),
    )
    return "".join(f"{line}\n" for line in lines)
