"""A sheet and everything that is cut from it: to scale, every cut with its place in the order of the saw.

::

    +--(1)------------------+---------+
    |  strip | strip label  | /////// |    band: heavy outline; its strips parted by dashed lines, ripped
    |  strip | strip label  | offcut  |    after routing; a ticked mark along the routed edge that is the
    |  xxxxxxxxxxxxxxxxxxxx | /////// |    parts' front end; crossed hatching on the sacrificial strips
    +-----------------------+---------+
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.band_marks import MARGIN_AT_ENDS, BandEnds, band_marks
from drawerwright.drawings.hatching import end_grain, waste
from drawerwright.drawings.labels import SIZES, first_third, fitted_label, note_letter
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.rings import (
    any_overlap,
    bounds,
    centre_line,
    distance_from,
    free_spot,
    from_ring,
    letters_aside,
)
from drawerwright.drawings.scales import drawn_to_fit, fitting_scale
from drawerwright.drawings.scene import (
    MARGIN,
    Circle,
    Extent,
    Fill,
    Ink,
    Item,
    Layer,
    Path,
    Point,
    Region,
    Scene,
    Text,
    box,
    extent,
    framed,
    together,
)
from drawerwright.drawings.sheet_dimensions import sheet_dimensions
from drawerwright.drawings.sheet_headline import sheet_headline
from drawerwright.drawings.sheet_key import grain_sample, sheet_key
from drawerwright.drawings.sheet_look import SheetLook
from drawerwright.drawings.sheet_turned import quarter_turned
from drawerwright.drawings.sheet_words import sheet_in_words
from drawerwright.sheets.patterns import Cut, Offcut, PlacedBand, PlacedLoose, SheetLayout

ABOVE, BELOW = 4.0, 5.0
"""From the drawing to the foot of its headline and to its key (mm)."""
DETAILS = 0.85
"""Sizes below a name are set smaller: they stand in the lists as well."""
LONG = 1.3
"""A sheet longer than so many times its width gets a page that lies on its side."""
KEY_SIZE: Mm = 2.4
ON_SCREEN = 1.05
"""How much longer small lettering becomes where a screen sets each letter to whole pixels."""
KEY: Mm = 140.0
"""How wide the key may become below a narrower sheet."""
NUMBER: Mm = 1.9
NARROW: Mm = 0.8
"""Kept free between a name and the end of its strip."""
RINGS_AROUND: Mm = 14.0
DIMENSIONS_AROUND: Mm = 36.0
"""Paper that the rings of cuts, and dimensions outside them, take beside a sheet, both sides together."""


def draw_sheet(
    layout: SheetLayout,
    *,
    labels: Mapping[tuple[str, int], str] | None = None,
    ends: Mapping[str, BandEnds] | None = None,
    numbers: Mapping[tuple[str, int], int] | None = None,
    is_grained: bool = True,
    called: str = "",
    at_hand: Collection[int] = (),
    title: str = phrase("Sheet"),
    style: LengthStyle | None = None,
    look: SheetLook | None = None,
) -> Scene:
    """One sheet with its bands, strips, loose parts, offcuts and cuts.

    Args:
        layout: what is cut from the sheet.
        labels: what to call a part, by its key and running number; these themselves where it is missing.
        ends: the ends and face of each band, by its family.
        numbers: what each band is called, by its family and its running number there; this number where it is missing.
        called: the sheet's number, and that of those that are cut at once with it.
        at_hand: numbers of the cuts that are made now, which stand out.
        is_grained: whether the grain runs along the sheet's length.
        style: how lengths and words are written.
        look: how it is set on its page; as on paper by default.
    """
    style, look = style or LengthStyle(), look or SheetLook()
    if look.is_standing:
        layout = quarter_turned(layout)
    paper = PAPERS[style.paper]
    is_long = layout.size.length > LONG * layout.size.width
    room = look.room or (paper.lying if is_long else paper.standing)
    grain = grain_sample(look.is_standing) if is_grained else ()

    def wide(scale: float) -> Mm:
        return max(layout.size.length * scale, min(KEY, room[0]))

    def surroundings(scale: float, reach: Extent) -> tuple[list[Item], Mm]:
        """What stands around a sheet whose items reach so far, and the level of its last line."""
        items = list(sheet_dimensions(layout, scale, style, reach)) if look.is_dimensioned else []
        # What stands left of the sheet may be higher than its headline, which begins at the sheet.
        below_headline = together(reach, extent([item for item in items if extent([item])[2] > 0.0]))
        bottom = min(reach[1], extent(items)[1]) if items else reach[1]
        if look.is_titled:
            level, length = below_headline[3] + ABOVE, layout.size.length * scale
            items += sheet_headline(layout, called, scale, is_grained, style, level, length)
        shown_grain = () if look.is_titled else grain
        level, room = bottom - BELOW, wide(scale)
        key, low = sheet_key(
            layout, level, room, style, shown_grain, size=look.key_size, edges=look.shows_edges(at_hand)
        )
        return [*items, *key], low

    def drawn(scale: float) -> Scene:
        view = _SheetView(scale, style, labels or {}, ends or {}, numbers or {}, at_hand, look)
        items = view.everything(layout)
        reach = extent(items)
        outside, low = surroundings(scale, reach)
        outside += view.footnotes(low - 5.0, wide(scale))
        return framed(
            style.say(title),
            [*outside, *items],  # rings off the sheet stand on the lines of dimensions
            reach=together(reach, extent(outside)),
            scale=scale,
            description=sheet_in_words(layout, style),
            regions=view.regions(layout),
        )

    def outer(scale: float) -> tuple[Mm, Mm]:
        """Of the sheet with what stands around it, while no ring and no letter is known."""
        sheet = (0.0, 0.0, layout.size.length * scale, layout.size.width * scale)
        left, bottom, right, top = together(sheet, extent(surroundings(scale, sheet)[0]))
        return right - left + 2 * MARGIN, top - bottom + 2 * MARGIN

    if look.is_titled:
        return drawn_to_fit(
            drawn, fitting_scale(layout.size.length, layout.size.width, *room), room, at_least=outer
        )
    # Nobody is told the scale, and a page has room below for what the letters stand for.
    around = DIMENSIONS_AROUND if look.is_dimensioned else RINGS_AROUND
    return drawn(min((room[0] - around) / layout.size.length, (room[1] - around) / layout.size.width))


class _SheetView:
    """Draws what lies on one sheet."""

    def __init__(
        self,
        scale: float,
        style: LengthStyle,
        labels: Mapping[tuple[str, int], str],
        ends: Mapping[str, BandEnds],
        numbers: Mapping[tuple[str, int], int],
        at_hand: Collection[int],
        look: SheetLook,
    ) -> None:
        self.scale = scale
        self.style = style
        self.labels = labels
        self.ends = ends
        self.numbers = numbers
        self.at_hand = frozenset(at_hand)
        self.look = look
        self.sizes = tuple(size for size in SIZES if size >= look.least_lettering) or (look.least_lettering,)
        self.is_large = look.least_lettering > SIZES[0]
        self.notes: list[str] = []
        self.lettered: dict[Point, Sequence[Point]] = {}
        """The piece on which a letter stands, by its place."""

    def _label(
        self,
        words: Sequence[str],
        corners: Sequence[Point],
        fill: Fill,
        layer: Layer = Layer.NAME,
        *,
        ends: Mm = 0.8,
        along_x: bool = True,
    ) -> list[Item]:
        """A label inside a rectangle, or a letter there and the words below the sheet."""
        details = DETAILS if self.is_large else 1.0
        if items := fitted_label(
            words, corners, fill, layer, ends=ends, along_x=along_x, sizes=self.sizes, details=details
        ):
            return items
        return self._footnote(words, corners, fill, layer)

    def _footnote(
        self, words: Sequence[str], corners: Sequence[Point], fill: Fill, layer: Layer
    ) -> list[Item]:
        """A letter, and the words below the sheet."""
        letter = note_letter(len(self.notes))
        self.notes.append(f"{letter}: {words[0]}")
        (left, bottom), (right, top) = corners[0], corners[2]
        size = min(self.look.least_lettering, max(min(right - left, top - bottom), 1.0))
        at = ((left + right) / 2, (bottom + top) / 2)
        self.lettered[at] = corners
        return [Text(at, letter, size, "middle", "middle", bold=True, layer=layer, halo=fill)]

    def footnotes(self, level: Mm, width: Mm) -> list[Item]:
        """What the letters on small pieces stand for, in lines of at most `width`."""
        size = KEY_SIZE if self.is_large else self.look.key_size
        lines: list[str] = []
        for words in self.notes:
            longer = f"{lines[-1]}; {words}" if lines else words
            if lines and text_width(longer, size) * ON_SCREEN <= width:
                lines[-1] = longer
            else:
                lines.append(words)
        return [Text((0.0, level - 1.5 * size * number), line, size) for number, line in enumerate(lines)]

    def everything(self, layout: SheetLayout) -> list[Item]:
        """The sheet with all that is cut from it."""
        length, width = layout.size.length * self.scale, layout.size.width * self.scale
        outline = box(0.0, 0.0, length, width)
        items: list[Item] = [Path(outline, Ink.NONE, closed=True, fill=Fill.PAPER)]
        for offcut in layout.offcuts:
            items += self.offcut(offcut)
        for part in layout.loose:
            items += self.loose(part)
        for band in layout.bands:
            items += self.band(band)
        words = [item for item in items if isinstance(item, Text)]
        items = [item for item in items if not isinstance(item, Text)]
        items += [self.kerf(cut) for cut in layout.cuts]
        items += [self.made_now(cut) for cut in layout.cuts if cut.order in self.at_hand]
        numbered = [cut for cut in layout.cuts if self._is_numbered(cut)]
        leaders, rings = self.cut_numbers(numbered, length, width, words)
        words = letters_aside(words, rings, self.lettered)
        # Words come after the lines: their halo parts them.
        return [*items, Path(outline, closed=True), *leaders, *words, *rings]

    def _box(self, x: Mm, y: Mm, x_extent: Mm, y_extent: Mm) -> tuple[Point, ...]:
        s = self.scale
        return box(x * s, y * s, (x + x_extent) * s, (y + y_extent) * s)

    def _size(self, length: Mm, width: Mm) -> str:
        style = self.style.in_a_row((length, width))
        return f"{style.show(length, with_unit=False)} × {style.show(width)}"

    def offcut(self, offcut: Offcut) -> list[Item]:
        """What returns to the rack is hatched and has its size; what is too small for it is left blank."""
        corners = self._box(offcut.x, offcut.y, offcut.length, offcut.width)
        if not offcut.is_kept:
            return [Path(corners, Ink.FINE, Layer.OFFCUT, closed=True)]
        items: list[Item] = [waste(corners), Path(corners, Ink.FINE, Layer.OFFCUT, closed=True)]
        sides = (offcut.length, offcut.width)
        along_grain = (
            sides[::-1] if self.look.is_standing else sides
        )  # the sheet's length, and its grain, go up
        words = [self._size(*along_grain), self.style.say(phrase("offcut"))]
        return items + self._label(words, corners, Fill.PAPER, Layer.OFFCUT)

    def loose(self, part: PlacedLoose) -> list[Item]:
        corners = self._box(part.x, part.y, part.x_extent, part.y_extent)
        words = [self._name(part.key, part.number), self._size(part.length, part.width)]
        if part.matched:
            words.append(self.style.say(part.matched))
        return [Path(corners, closed=True, fill=Fill.WOOD), *self._label(words, corners, Fill.WOOD)]

    def band(self, band: PlacedBand) -> list[Item]:
        corners = self._box(band.x, band.y, band.x_extent, band.y_extent)
        items: list[Item] = [Path(corners, Ink.NONE, closed=True, fill=Fill.WOOD_BEHIND)]
        for offset, width in band.sacrificial:
            strip = self._across(band, offset, width)
            items += [Path(strip, Ink.FINE, closed=True, fill=Fill.PAPER), end_grain(strip, 1.5)]
        for placed in band.strips:
            strip = self._across(band, placed.offset, placed.height)
            words = [self._name(placed.key, placed.number), self._size(band.length, placed.height)]
            items.append(Path(strip, Ink.NONE, closed=True, fill=Fill.WOOD))
            within, ends = self._free_of_marks(band, strip)
            items += self._label(words, within, Fill.WOOD, ends=ends, along_x=not band.turned)
        items.append(Path(corners, closed=True))
        return items + self._end_marks(band, corners)

    def regions(self, layout: SheetLayout) -> tuple[Region, ...]:
        """Every part on the sheet, by its name."""
        places = [
            (self._name(strip.key, strip.number), self._across(band, strip.offset, strip.height))
            for band in layout.bands
            for strip in band.strips
        ]
        places += [
            (self._name(part.key, part.number), self._box(part.x, part.y, part.x_extent, part.y_extent))
            for part in layout.loose
        ]
        return tuple(Region(name, name, outline) for name, outline in places)

    def _across(self, band: PlacedBand, offset: Mm, width: Mm) -> tuple[Point, ...]:
        if band.turned:
            return self._box(band.x + offset, band.y, width, band.length)
        return self._box(band.x, band.y + offset, band.length, width)

    def _free_of_marks(self, band: PlacedBand, strip: tuple[Point, ...]) -> tuple[tuple[Point, ...], Mm]:
        """Where a strip has room for its name, and what is kept free there at both ends."""
        if self.look.faces_marked:
            return strip, MARGIN_AT_ENDS
        (left, bottom), (right, top) = strip[0], strip[2]
        taken = MARGIN_AT_ENDS - NARROW  # at the end that has the band's name
        if band.turned:
            return box(left, bottom + taken, right, top), NARROW
        return box(left + taken, bottom, right, top), NARROW

    def _end_marks(self, band: PlacedBand, corners: Sequence[Point]) -> list[Item]:
        """What the saw writes on a band: its number, and which routed edge is which end of the parts."""
        number = self.numbers.get((band.family, band.number), band.number)
        name = self.style.say(phrase("band {number}", number=number))
        named = (f"{name} · {self._size(band.length, band.width)}", name)
        ends = self.ends.get(band.family, BandEnds())
        if not self.look.faces_marked:
            ends = replace(ends, high_end="", face_up="", are_shown=self.look.shows_edges(self.at_hand))
        items, is_named = band_marks(corners, band.turned, ends, named, self.style, self.look.band_size)
        if not is_named:
            items += self._footnote([name], first_third(corners), Fill.WOOD, Layer.NAME)
        return items

    def _name(self, key: str, number: int) -> str:
        return self.style.say(self.labels.get((key, number), f"{key} #{number}"))

    def kerf(self, cut: Cut) -> Item:
        """A saw cut at its true width: solid; pale and dashed when it waits for the routing."""
        corners = self._box(cut.x0, cut.y0, cut.x1 - cut.x0, cut.y1 - cut.y0)
        if cut.ripping:
            return Path(centre_line(corners), Ink.HIDDEN, Layer.SAW)
        return Path(corners, Ink.NONE, Layer.SAW, closed=True, fill=Fill.INK)

    def made_now(self, cut: Cut) -> Item:
        """A line that stands out."""
        corners = self._box(cut.x0, cut.y0, cut.x1 - cut.x0, cut.y1 - cut.y0)
        return Path(centre_line(corners), Ink.MARK, Layer.SAW)

    def _is_numbered(self, cut: Cut) -> bool:
        if self.look.only_at_hand and self.at_hand:
            return cut.order in self.at_hand
        return self.look.rips_numbered or not cut.ripping

    def cut_numbers(
        self, cuts: Iterable[Cut], length: Mm, width: Mm, taken: Sequence[Text]
    ) -> tuple[list[Item], list[Item]]:
        """A numbered ring on every cut, where it hides nothing; off the sheet where the cut reaches its edge. Where
        cuts lie close the numbers are smaller. The leaders of rings off their cuts come first."""
        ordered = sorted(cuts, key=lambda cut: cut.order)
        for size in sorted({self.look.number_size, NUMBER}, reverse=True):
            leaders, rings, boxes = self._rings(ordered, (length, width), taken, size)
            if not any_overlap(boxes, len(taken)):
                break
        return leaders, rings

    def _rings(
        self, ordered: Sequence[Cut], sheet: tuple[Mm, Mm], taken: Sequence[Text], size: Mm
    ) -> tuple[list[Item], list[Item], NDArray[np.float64]]:
        """Leaders and rings with numbers of one size, and the room of all lettering, theirs after what was `taken`."""
        boxes = np.empty((len(taken) + len(ordered), 4))
        boxes[: len(taken)] = [bounds(text.corners()) for text in taken] or np.empty((0, 4))
        items: list[Item] = []
        leaders: list[Item] = []
        for count, cut in enumerate(ordered, start=len(taken)):
            corners = self._box(cut.x0, cut.y0, cut.x1 - cut.x0, cut.y1 - cut.y0)
            start, end = centre_line(corners)
            radius = max(0.8 * size, text_width(str(cut.order), size) / 2 + 0.55)
            spot, boxes[count] = free_spot(start, end, sheet, radius, boxes[:count], MARGIN_AT_ENDS)
            is_now = cut.order in self.at_hand
            items.append(Circle(spot, radius, Ink.MARK if is_now else Ink.FINE, Layer.SAW, Fill.PAPER))
            items.append(Text(spot, str(cut.order), size, "middle", "middle", bold=is_now, layer=Layer.SAW))
            if distance_from(spot, start, end) > radius:
                near = min((start, end), key=lambda p: abs(p[0] - spot[0]) + abs(p[1] - spot[1]))
                leaders.append(Path(from_ring(spot, near, radius), Ink.FINE, Layer.SAW))
        return leaders, items, boxes
