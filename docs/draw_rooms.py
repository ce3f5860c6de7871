"""Draw the rooms of the program from the import contract that `make test` checks: `make tables`."""

from __future__ import annotations

import tomllib
from html import escape
from pathlib import Path

HERE = Path(__file__).parent
PICTURE = HERE / "pictures" / "rooms.svg"
CONTRACT = "Rooms: each imports only rooms below it"
WIDE, HIGH, GAP, EDGE = 460, 30, 8, 12
"""Width of a layer, its height, the gap between two, and the margin, in units of the picture."""


def layers() -> list[list[str]]:
    """The rooms of each layer from the top down."""
    project = tomllib.loads((HERE.parent / "pyproject.toml").read_text("utf-8"))
    (contract,) = (each for each in project["tool"]["importlinter"]["contracts"] if each["name"] == CONTRACT)
    found = [[room.strip() for room in layer.split(":")] for layer in contract["layers"]]
    return [rooms for rooms in found if rooms != ["__main__"]]  # the command's own door, no room


def picture() -> str:
    """The drawing: a box for each room, siblings side by side."""
    found = layers()
    high = len(found) * (HIGH + GAP) - GAP + 2 * EDGE
    wide = WIDE + 2 * EDGE
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" '
        'font-family="sans-serif" font-size="14" fill="#1d1d1b" text-anchor="middle">'
    ]
    for row, rooms in enumerate(found):
        top, each = EDGE + row * (HIGH + GAP), (WIDE - GAP * (len(rooms) - 1)) / len(rooms)
        for column, room in enumerate(rooms):
            left = EDGE + column * (each + GAP)
            box = f'x="{left:g}" y="{top}" width="{each:.2f}" height="{HIGH}"'
            lines.append(f'<rect {box} fill="#f3ecdc" stroke="#1d1d1b"/>')
            lines.append(f'<text x="{left + each / 2:.2f}" y="{top + HIGH / 2 + 5:g}">{escape(room)}</text>')
    return "\n".join([*lines, "</svg>"]) + "\n"


if __name__ == "__main__":
    PICTURE.write_text(picture(), "utf-8")
