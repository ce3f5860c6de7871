"""What is done at the saw in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import Phrase, phrase, plural
from drawerwright.drawers.parts import PartEnd
from drawerwright.run.cautions import stack_words
from drawerwright.run.marks import numbers_in_row, parts_named, sheets_in_row
from drawerwright.run.work import (
    CheckSheet,
    CutSheet,
    FetchSheet,
    MeasureKerf,
    Rip,
    RipCut,
    SetSaw,
    TakeWhole,
)
from drawerwright.sheets.sheet_stock import SheetSize


def fetch_lines(sheets: Sequence[FetchSheet]) -> list[Phrase]:
    """Which sheets come from the rack, and how what comes of them is marked."""
    of_size: dict[SheetSize, list[int]] = {}
    for sheet in sheets:
        of_size.setdefault(sheet.size, []).append(sheet.number)
    return [
        *(
            plural(
                "{label}: this is sheet {numbers}. Write the number on it.",
                "{label}: these are sheets {numbers}. Write the number on each.",
                len(numbers),
                label=size.label,
                numbers=numbers_in_row(numbers),
            )
            for size, numbers in of_size.items()
        ),
        *_stack_lines([stack for stack in dict.fromkeys(sheet.stack for sheet in sheets) if len(stack) > 1]),
        phrase(
            "Set fence or stop once and make its cuts on all sheets. Mark what comes free: bands and "
            "parts as listed, any other piece with sheet and cut; 2/5 is what cut 5 took off sheet 2."
        ),
    ]


def _stack_lines(stacks: Sequence[tuple[int, ...]]) -> list[Phrase]:
    if not stacks:
        return []
    named = sheets_in_row([number for stack in stacks for number in stack], stacks)
    return [phrase("Stack and cut together: {stacks}.", stacks=named), stack_words()]


def kerf_lines(tests: Sequence[MeasureKerf], style: LengthStyle) -> list[Phrase]:
    """How the kerf is measured."""
    return [
        line
        for test in tests
        for line in (
            phrase("Take a strip of scrap with two straight edges and measure its width with calipers."),
            plural(
                "Make {count} lengthwise cut in it. Let narrow strips fall free beside the blade, and use a "
                "push stick.",
                "Make {count} lengthwise cuts in it. Let narrow strips fall free beside the blade, and use a "
                "push stick.",
                test.cuts,
            ),
            phrase(
                "Push all pieces together and measure again: they must be {lost} narrower. If not, enter both widths "
                "as the kerf test and plan again.",
                lost=style.written(test.lost, fine=True),
            ),
        )
    ]


def check_lines(sheets: Sequence[CheckSheet], style: LengthStyle) -> list[Phrase]:
    """What the first sheets must measure."""
    return [
        phrase(
            "Check sheet {number} before you go on: at least {length} by {width}, both diagonals alike.",
            number=sheet.number,
            length=style.written(sheet.length),
            width=style.written(sheet.width),
        )
        for sheet in sheets
    ]


def saw_setting_lines(settings: Sequence[SetSaw], style: LengthStyle) -> list[Phrase]:
    """Where fence or stop stand."""
    return [
        phrase("Set the crosscut stop to {length}.", length=style.written(setting.length))
        if setting.is_crosscut
        else phrase("Set the rip fence to {length}.", length=style.written(setting.length))
        for setting in settings
    ]


def cut_lines(sheets: Sequence[CutSheet]) -> list[Phrase]:
    """The cuts of one setting on all sheets, and the marks of what they free."""
    alike: dict[tuple[int, ...], list[int]] = {}
    for sheet in sheets:
        if sheet.cuts:
            alike.setdefault(tuple(cut.order for cut in sheet.cuts), []).append(sheet.number)
    stacks = tuple(dict.fromkeys(sheet.stack for sheet in sheets))
    return [
        *(_cuts_in_words(on_sheets, stacks, numbers) for numbers, on_sheets in alike.items()),
        *(
            plural(
                "Sheet {sheet}: cut {cuts} trims a band to its length.",
                "Sheet {sheet}: cuts {cuts} trim bands to their length.",
                len(sheet.trims),
                sheet=sheet.number,
                cuts=numbers_in_row(sheet.trims),
            )
            for sheet in sheets
            if sheet.trims
        ),
        *_marks(sheets),
    ]


def _cuts_in_words(
    sheets: Sequence[int], stacks: Sequence[tuple[int, ...]], numbers: Sequence[int]
) -> Phrase:
    cuts = plural("cut {numbers}", "cuts {numbers}", len(numbers), numbers=numbers_in_row(numbers))
    return plural(
        "Sheet {sheets}: {cuts}.",
        "Sheets {sheets}: {cuts} on each.",
        len(sheets),
        sheets=sheets_in_row(sheets, stacks),
        cuts=cuts,
    )


def _marks(sheets: Sequence[CutSheet]) -> list[Phrase]:
    lines = []
    bands = [band for sheet in sheets for band in sheet.bands]
    edged = [band.number for band in bands if band.placed.sacrificial]
    plain = [band.number for band in bands if not band.placed.sacrificial]
    if edged:
        lines.append(
            plural(
                "Band {bands}: write the number on it, mark the inside face (up as drawn) and cross out the "
                "sacrificial strips.",
                "Bands {bands}: write the number on each, mark the inside face (up as drawn) and cross out the "
                "sacrificial strips.",
                len(edged),
                bands=numbers_in_row(edged),
            )
        )
    if plain:
        lines.append(
            plural(
                "Band {bands}: write the number on it and mark the inside face (up as drawn).",
                "Bands {bands}: write the number on each and mark the inside face (up as drawn).",
                len(plain),
                bands=numbers_in_row(plain),
            )
        )
    marked: dict[PartEnd, list[int]] = {}
    for band in bands:
        if band.marked is not None:
            marked.setdefault(band.marked, []).append(band.number)
    for end, numbers in marked.items():
        lines.append(
            plural(
                "On band {bands} mark the whole {edge} too, as drawn.",
                "On bands {bands} mark the whole {edge} too, as drawn.",
                len(numbers),
                bands=numbers_in_row(numbers),
                edge=end.edge_words,
            )
        )
    loose = [mark.part for sheet in sheets for mark in sheet.loose]
    if loose:
        lines.append(phrase("Label the loose parts: {parts}.", parts=parts_named(loose)))
    return lines


def rip_lines(rips: Sequence[Rip], style: LengthStyle) -> list[Phrase]:
    """What comes off which band at which setting."""
    lines = []
    for rip in rips:
        lines.append(phrase("Set the rip fence to {length}.", length=style.written(rip.fence)))
        waste = [cut.band.number for cut in rip.cuts if cut.frees is None]
        if waste:
            lines.append(
                plural(
                    "Rip one sacrificial strip off band {bands}.",
                    "Rip one sacrificial strip off each of bands {bands}.",
                    len(waste),
                    bands=numbers_in_row(waste),
                )
            )
        strips = [cut for cut in rip.cuts if cut.frees is not None]
        if strips:
            lines.append(phrase("Write the part's name on the inside face of every strip."))
        if any(len(cut.band.placed.sacrificial) == 1 for cut in rip.cuts):
            lines.append(
                phrase("Start at the end without a crossed-out strip: that end runs along the fence.")
            )
        lines += [_ripped(list(cuts)) for _, cuts in groupby(strips, key=lambda cut: cut.band.number)]
    return lines


def _ripped(cuts: Sequence[RipCut]) -> Phrase:
    """The strips that come off one band at one setting."""
    band = cuts[0].band.number
    parts = parts_named(cut.frees for cut in cuts if cut.frees is not None)
    left = cuts[-1].leaves
    if left is None:
        return phrase("Band {band}: {parts}.", band=band, parts=parts)
    return phrase(
        "Band {band}: {parts}; the rest is {left}.", band=band, parts=parts, left=parts_named([left])
    )


def whole_lines(items: Sequence[TakeWhole]) -> list[Phrase]:
    """Bands that are parts already."""
    return [
        phrase("Do not rip band {band}: it is {part}.", band=band.number, part=parts_named(band.parts))
        for item in items
        for band in item.bands
    ]
