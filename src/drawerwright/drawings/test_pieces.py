"""The two test pieces of a corner, loose, and where the calipers are held: a letter at each, and what they should read.

::

        |--- b ---|                      |-- e --|
      __|_________|______                |_______|___
    a |__________        |               |       /   | f
                 |       |               |      |____|___
                /        |               |           |   |
        |---c---|________|               |---d--|----|
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Degrees, LengthStyle, Mm
from drawerwright.drawers.parts import Role
from drawerwright.drawings.corner_section import FLAT_PIECE, UPRIGHT_PIECE, piece
from drawerwright.drawings.dimensioning import EVERYWHERE, Dimension, Side, dimension_rows
from drawerwright.drawings.scene import Fill, Item, Scene, Text, extent, framed
from drawerwright.joints.corner import Cuts, Outline, flat_section, upright_section
from drawerwright.joints.joint import SelfMating, expected_readings, joint_of
from drawerwright.joints.readings import CARD_KINDS, ReadingKind
from drawerwright.joints.setting import CornerSetting

PIECES_SCALE = 3.0
"""Paper per thing at which the readings of common stock have room beside each other."""
BEYOND = 0.9
"""How many thicknesses of each piece are drawn beyond its cut."""
FIGURES: Mm = 3.2
"""Height of letters and figures: read at arm's length, on a phone too."""


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where one reading is taken: on which side it is dimensioned, from where to where along that side, and how far
    across the piece the two points lie (mm of wood; None: at the edge)."""

    side: Side
    start: Mm
    end: Mm
    foot_start: Mm | None = None
    foot_end: Mm | None = None


_Place = Callable[[CornerSetting, Mm], _Spot]

# On the flat piece as it lies (end at x = 0, inner face at y = 0) and on the upright piece as it stands in the
# corner (outer face at x = 0, shoulder at y = 0): from the setting and the reading to its place.
_ON_FLAT: Mapping[ReadingKind, _Place] = {
    ReadingKind.ROOF: lambda s, value: _Spot(
        Side.LEFT, s.corner.flat_thickness - value, s.corner.flat_thickness
    ),
    ReadingKind.DEEPEST_CUT: lambda s, value: _Spot(Side.ABOVE, 0.0, value, None, s.bit_height),
    ReadingKind.SHALLOW_CUT: lambda s, value: _Spot(Side.BELOW, 0.0, value, s.bit_height),
    ReadingKind.CUT_AT_TABLE: lambda s, value: _Spot(Side.BELOW, 0.0, value, s.corner.flat_thickness),
}
_ON_UPRIGHT: Mapping[ReadingKind, _Place] = {
    ReadingKind.HEAD: lambda s, value: _Spot(Side.ABOVE, 0.0, value),
    ReadingKind.NECK: lambda s, value: _Spot(Side.BELOW, 0.0, value, None, 0.0),
    ReadingKind.TIP_TO_SLOPE: lambda s, value: _Spot(
        Side.RIGHT, s.bit_height - value, s.bit_height, (s.neck + s.head) / 2, s.head
    ),
    ReadingKind.TIP_AT_TABLE: lambda s, value: _Spot(Side.ABOVE, 0.0, value),
}


def reading_letters(joint: SelfMating) -> dict[ReadingKind, str]:
    """The letter of each reading that calipers take on the test pieces of such a joint."""
    taken = [kind for kind in joint.readings if kind in CARD_KINDS]
    return {reading: chr(ord("a") + place) for place, reading in enumerate(taken)}


def draw_test_pieces(
    setting: CornerSetting,
    *,
    scale: float = PIECES_SCALE,
    figures: bool = True,
    style: LengthStyle | None = None,
) -> dict[Role, Scene]:
    """The flat and the upright test piece, in this order, as `setting` cuts them, with the readings taken there.

    What leaves no wood to measure has no reading. Without `figures` there are only letters, for where a table
    beside the drawing has what they stand for.
    """
    style = style or LengthStyle()
    cuts = Cuts.of(setting)
    beyond = max(cuts.fence_flat, cuts.upright_thickness) + BEYOND * cuts.flat_thickness
    foot = BEYOND * cuts.upright_thickness
    upright = upright_section(cuts, 0.0, cuts.bit_height, cuts.bit_height + foot)
    return {
        Role.FLAT: _lettered(
            setting,
            FLAT_PIECE,
            flat_section(cuts, beyond),
            Fill.WOOD,
            0.0,
            _ON_FLAT,
            scale,
            figures,
            style,
        ),
        Role.UPRIGHT: _lettered(
            setting,
            UPRIGHT_PIECE,
            upright,
            Fill.WOOD_BEHIND,
            90.0,
            _ON_UPRIGHT,
            scale,
            figures,
            style,
        ),
    }


def _lettered(
    setting: CornerSetting,
    name: str,
    outline: Outline,
    fill: Fill,
    fibre: Degrees,
    places: Mapping[ReadingKind, _Place],
    scale: float,
    figures: bool,
    style: LengthStyle,
) -> Scene:
    letters = reading_letters(joint_of(setting.cutter))
    sides: dict[Side, list[Dimension]] = {side: [] for side in Side}
    in_words = []
    for reading in expected_readings(setting):
        if reading.kind not in places:
            continue
        spot = places[reading.kind](setting, reading.value)
        feet = [None if foot is None else foot * scale for foot in (spot.foot_start, spot.foot_end)]
        letter = letters[reading.kind]
        mark = f"{letter} {style.show(reading.value, fine=True)}" if figures else letter
        sides[spot.side].append(Dimension(spot.start * scale, spot.end * scale, mark, *feet))
        in_words.append(f"{letter}: {style.say(reading.what)} {style.written(reading.value, fine=True)}")
    wood = piece(outline, scale, fill, fibre)
    return with_readings(style.say(name), wood, sides, outline, scale, "; ".join(in_words))


def with_readings(
    words: str,
    wood: Sequence[Item],
    sides: Mapping[Side, Sequence[Dimension]],
    outline: Outline,
    scale: float,
    description: str,
) -> Scene:
    """One piece with its name and where its readings are taken; `outline` in mm of wood."""
    xs, ys = zip(*outline, strict=True)
    left, low, right, high = min(xs), min(ys), max(xs), max(ys)
    edges = {Side.LEFT: left, Side.BELOW: low, Side.RIGHT: right, Side.ABOVE: high}
    items: list[Item] = list(wood)
    for side, measures in sides.items():
        # What is measured up and down has its figure beside the piece: above it those of the widths stand.
        within = (low * scale, high * scale) if side in (Side.LEFT, Side.RIGHT) else EVERYWHERE
        items += dimension_rows(measures, side, edges[side] * scale, size=FIGURES, within=within)
    outer, _, _, above = extent(items)
    items.append(Text((outer, above + 3.5), words, FIGURES, bold=True))
    return framed(words, items, scale=scale, description=description)
