"""Draw the picture of `scanning.md`: how a slice lies on the sheet, and where the camera is held."""

from __future__ import annotations

from pathlib import Path as File

from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Scene, Strokes, Text, box, framed, moved
from drawerwright.drawings.slice_sheet import sheet_marks
from drawerwright.drawings.svg import write_svg
from drawerwright.joints.corner import Cuts, flat_section
from drawerwright.joints.profile import drawer_lock_profile

PICTURES = File(__file__).parent / "pictures" / "scanning"
SCALE = 0.45


def draw() -> None:
    """Write the picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    (PICTURES / "photo.svg").write_text(write_svg(photo()), "utf-8")


def photo() -> Scene:
    """From above, the sheet with a slice on it; beside it, sheet, slice and camera from the side (not to scale)."""
    items: list[Item] = [*_from_above(), *moved(_from_the_side(), 76.0, -26.0)]
    return framed(
        "How to photograph a slice",
        items,
        description="A slice in the middle of the dark field, and a camera level above it, 40 cm or more away.",
    )


def _from_above() -> list[Item]:
    found: list[Item] = []
    for item in sheet_marks():
        if isinstance(item, Path):
            points = tuple((x * SCALE, y * SCALE) for x, y in item.points)
            found.append(Path(points, item.ink, item.layer, item.closed, item.fill))
    cuts = Cuts(drawer_lock_profile(5.6, 3.4, 55.0), 14.6, 14.6, 11.2, 9.0, 9.0)
    outline = flat_section(cuts, 34.0)
    slice_ = tuple(((x - 17.0) * SCALE * 1.3, (y - 7.3) * SCALE * 1.3) for x, y in outline)
    found.append(Path(slice_, Ink.OUTLINE, Layer.WOOD, closed=True, fill=Fill.WOOD))
    found.append(Text((0.0, -29.0), "slice in the middle, sawn face up", 2.6, "middle", "top"))
    return found


def _from_the_side() -> list[Item]:
    return [
        Path(((-30.0, 0.0), (36.0, 0.0)), Ink.OUTLINE),
        Path(box(-3.0, 0.0, 9.0, 3.0), Ink.OUTLINE, closed=True, fill=Fill.WOOD),
        Path(box(-6.0, 48.0, 12.0, 51.0), Ink.OUTLINE, closed=True, fill=Fill.STEEL),
        Path(box(1.4, 46.6, 4.6, 48.0), Ink.OUTLINE, closed=True, fill=Fill.INK),
        Path(((3.0, 46.0), (3.0, -3.0)), Ink.AXIS, Layer.DIMENSION),
        Strokes((((3.0, 46.0), (-26.0, 0.0)), ((3.0, 46.0), (32.0, 0.0))), Ink.FINE, Layer.DIMENSION),
        Strokes(
            (
                ((38.0, 3.0), (38.0, 46.6)),
                ((9.5, 3.0), (39.5, 3.0)),
                ((36.5, 46.6), (39.5, 46.6)),
                ((-6.0, 0.0), (-6.0, 3.0)),
                ((-7.5, 3.0), (-3.5, 3.0)),
            ),
            Ink.FINE,
            Layer.DIMENSION,
        ),
        Text((39.5, 25.0), "40 cm or more", 2.6, "start", "middle"),
        Text((-9.0, 4.2), "slice height", 2.6, "end", "base"),
        Text((14.0, 49.5), "level, straight above", 2.6, "start", "middle"),
        Text((3.0, -4.0), "from the side", 2.6, "middle", "top"),
    ]


if __name__ == "__main__":
    draw()
