"""Ripping: the numbered cuts of all sheets, gathered by the setting of the saw's fence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawerwright.basics.lengths import Mm
from drawerwright.run.marks import BandMark, PartName
from drawerwright.run.work import Rip, RipCut, TakeWhole
from drawerwright.sheets.cut_list import SAME_SETTING, ripping_settings
from drawerwright.sheets.patterns import Cut, PlacedBand, SheetLayout


def rip_work(layouts: Iterable[SheetLayout], bands: Sequence[BandMark]) -> tuple[Rip | TakeWhole, ...]:
    """All bands ripped into their parts; on each sheet the cuts come in the order of their numbers.

    Args:
        layouts: every sheet, in the order in which `bands` lie on them.
        bands: every band of these sheets.
    """
    marked = iter(bands)
    sheets = tuple(layouts)
    made: dict[tuple[int, int], RipCut] = {}
    whole = []
    for number, layout in enumerate(sheets, start=1):
        for band in [next(marked) for _ in layout.bands]:
            cuts = _cuts_of(band.placed, layout.cuts)
            made |= {(number, rip.number): rip for rip in _named(band, cuts)}
            if not cuts:
                whole.append(band)
    rips = tuple(
        Rip(setting.length, tuple(made[each.sheet, n] for each in setting.sheets for n in each.numbers))
        for setting in ripping_settings(sheets)
        if setting.length is not None
    )
    return (*rips, *([TakeWhole(tuple(whole))] if whole else []))


def _cuts_of(band: PlacedBand, cuts: Sequence[Cut]) -> list[Cut]:
    """The ripping cuts that lie in a band, from its beginning on."""
    near, along = (SAME_SETTING, lambda cut: cut.x0 if band.turned else cut.y0)
    return sorted(
        (
            cut
            for cut in cuts
            if cut.ripping
            and band.x - near <= cut.x0
            and cut.x1 <= band.x + band.x_extent + near
            and band.y - near <= cut.y0
            and cut.y1 <= band.y + band.y_extent + near
        ),
        key=along,
    )


def _named(band: BandMark, cuts: Sequence[Cut]) -> list[RipCut]:
    """What each cut frees: the stretches of a band come off one by one, and the last of them is what is left."""
    placed = band.placed
    stretches: list[tuple[Mm, PartName | None]] = [(offset, None) for offset, _ in placed.sacrificial]
    stretches += [(strip.offset, part) for strip, part in zip(placed.strips, band.parts, strict=True)]
    parts = [part for _, part in sorted(stretches, key=lambda stretch: stretch[0])]
    rips = [RipCut(band, cut.order, frees) for cut, frees in zip(cuts, parts, strict=False)]
    if rips and len(parts) > len(cuts):
        last = rips[-1]
        rips[-1] = RipCut(band, last.number, last.frees, parts[-1])
    return rips
