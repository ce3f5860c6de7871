"""The work of a step in words: short, and with everything that is needed to do it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby
from typing import Any

from drawerwright.basics.lengths import LengthStyle, Mm, WrittenLength
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.joints.joint import self_mating
from drawerwright.joints.setting_words import play_words
from drawerwright.run.cutter_words import change_words
from drawerwright.run.joint_words import glue_lines, joint_lines
from drawerwright.run.marks import PartName, numbers_in_row, parts_named
from drawerwright.run.setups import Edges
from drawerwright.run.work import (
    BandEdges,
    Bore,
    ChangeCutter,
    CheckBottoms,
    CutGrooves,
    CutSheet,
    CutTrialPieces,
    FitRunner,
    GlueUp,
    MakeJoints,
    Rip,
    RipCut,
    Rout,
    ScrewOnFronts,
    SetRouter,
    TakeWhole,
    Work,
)


def step_lines(work: Sequence[Work], style: LengthStyle) -> tuple[Phrase, ...]:
    """What a step says, line by line."""
    return _Words(style).lines(work)


class _Words:
    def __init__(self, style: LengthStyle) -> None:
        self.style = style
        self.says: dict[type, Callable[[Any], list[Phrase]]] = {
            CutSheet: self.cut_sheets,
            ChangeCutter: self.change_cutter,
            SetRouter: self.set_router,
            CutTrialPieces: self.trial_pieces,
            Rout: self.rout,
            Rip: self.rip,
            TakeWhole: self.take_whole,
            CutGrooves: self.grooves,
            CheckBottoms: self.bottoms,
            BandEdges: self.banding,
            Bore: self.bore,
            MakeJoints: joint_lines,
            GlueUp: glue_lines,
            FitRunner: self.runners,
            ScrewOnFronts: self.fronts,
        }

    def lines(self, work: Sequence[Work]) -> tuple[Phrase, ...]:
        """Consecutive work of one kind makes one line."""
        said = [line for kind, items in groupby(work, key=type) for line in self.says[kind](list(items))]
        return tuple(dict.fromkeys(said))

    def cut_sheets(self, sheets: Sequence[CutSheet]) -> list[Phrase]:
        lines = []
        for sheet in sheets:
            lines.append(
                plural(
                    "{label}: {count} cut in the order numbered on the sheet drawing.",
                    "{label}: {count} cuts in the order numbered on the sheet drawing.",
                    len(sheet.cuts),
                    label=sheet.size.label,
                )
            )
            if sheet.bands:
                numbers = numbers_in_row(band.number for band in sheet.bands)
                lines.append(
                    plural(
                        "Band {bands}: write the number on it, mark the inside face (up as drawn) and cross out the "
                        "sacrificial strips.",
                        "Bands {bands}: write the number on each, mark the inside face (up as drawn) and cross out the "
                        "sacrificial strips.",
                        len(sheet.bands),
                        bands=numbers,
                    )
                    if any(band.placed.sacrificial for band in sheet.bands)
                    else plural(
                        "Band {bands}: write the number on it and mark the inside face (up as drawn).",
                        "Bands {bands}: write the number on each and mark the inside face (up as drawn).",
                        len(sheet.bands),
                        bands=numbers,
                    )
                )
            fronted = [band.number for band in sheet.bands if band.has_front_edge]
            if fronted:
                lines.append(
                    plural(
                        "On band {bands} mark the whole front edge too, as drawn.",
                        "On bands {bands} mark the whole front edge too, as drawn.",
                        len(fronted),
                        bands=numbers_in_row(fronted),
                    )
                )
            if sheet.loose:
                lines.append(
                    phrase(
                        "Label the loose parts: {parts}.",
                        parts=parts_named(loose.part for loose in sheet.loose),
                    )
                )
        return lines

    def change_cutter(self, changes: Sequence[ChangeCutter]) -> list[Phrase]:
        return [line for change in changes for line in change_words(change, self.style)]

    def set_router(self, settings: Sequence[SetRouter]) -> list[Phrase]:
        lines = []
        for setting in settings:
            height = self._fine(setting.bit_height)
            lines += [
                phrase("Leave the bit height at {bit_height}.", bit_height=height)
                if setting.keeps_height
                else phrase(
                    "Set the bit height to {bit_height} (gauge shows {height_reading}).",
                    bit_height=height,
                    height_reading=self._fine(setting.height_reading),
                ),
                *self._play(setting),
                phrase(
                    "Set the fence to {fence} (scale shows {fence_reading}): that is how far "
                    "the cutter's largest radius stands out of the fence face.",
                    fence=self._fine(setting.fence),
                    fence_reading=self._fine(setting.fence_reading),
                ),
            ]
        return lines

    def _play(self, setting: SetRouter) -> list[Phrase]:
        what = "" if setting.keeps_height else play_words(setting.corner, self.style)
        return [Phrase("{what}.", {"what": what})] if what else []

    def trial_pieces(self, cuts: Sequence[CutTrialPieces]) -> list[Phrase]:
        lines = [
            phrase(
                "Use two scraps of the measured stock, wide enough to hold, and measure the cuts "
                "with calipers."
            )
        ]
        lines += [
            Phrase(
                "{piece}: {what} {size}",
                {"piece": reading.piece, "what": reading.what, "size": self._fine(reading.value)},
            )
            for cut in cuts
            for reading in cut.readings
        ]
        if any(cut.is_whole for cut in cuts):
            lines.append(
                phrase(
                    "Push the two together: the corner must close by hand, with a trace of play for the glue."
                )
            )
        return lines

    def rout(self, routs: Sequence[Rout]) -> list[Phrase]:
        joint = self_mating(routs[0].joint)
        how = joint.holds_flat if routs[0].role is Role.FLAT else joint.holds_upright
        if any(rout.edges is Edges.BOTH for rout in routs):
            lines = [phrase("Run each band {how}; turn it end for end for the second edge.", how=how)]
        else:
            lines = [phrase("Run each band {how}.", how=how)]
        if joint.passes > 1:
            lines.append(phrase("Reach the full depth in {count} passes.", count=joint.passes))
        lines += [
            plural(
                "Band {bands}: {edges}. {length} wide, {stock}: {parts}.",
                "Bands {bands}: {edges}. {length} wide, {stock}: {parts}.",
                len(rout.bands),
                bands=numbers_in_row(band.number for band in rout.bands),
                length=self._coarse(rout.bands[0].placed.length),
                stock=rout.bands[0].stock,
                parts=parts_named(part for band in rout.bands for part in band.parts),
                edges=rout.edges.words,
            )
            for rout in routs
        ]
        if any(rout.needs_backing for rout in routs):
            lines.append(
                phrase(
                    "If the trailing end has no sacrificial strip, back the band with a scrap "
                    "to take the tear-out."
                )
            )
        return lines

    def rip(self, rips: Sequence[Rip]) -> list[Phrase]:
        lines = [
            phrase(
                "Rip all the bands together, in the order numbered on the sheet drawings. "
                "Write the part's name on the inside face of every strip."
            )
        ]
        if any(len(cut.band.placed.sacrificial) == 1 for rip in rips for cut in rip.cuts):
            lines.append(
                phrase("Start at the end without a crossed-out strip: that end runs along the fence.")
            )
        for rip in rips:
            fence = self._coarse(rip.fence)
            waste = [cut.band.number for cut in rip.cuts if cut.frees is None]
            if waste:
                lines.append(
                    plural(
                        "Fence {fence}: rip one sacrificial strip off band {bands}.",
                        "Fence {fence}: rip one sacrificial strip off each of bands {bands}.",
                        len(waste),
                        fence=fence,
                        bands=numbers_in_row(waste),
                    )
                )
            strips = [cut for cut in rip.cuts if cut.frees is not None]
            if strips:
                bands = [
                    self._ripped(list(cuts)) for _, cuts in groupby(strips, key=lambda cut: cut.band.number)
                ]
                lines.append(phrase("Fence {fence}. {bands}", fence=fence, bands=joined(bands, " ")))
        return lines

    @staticmethod
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

    def take_whole(self, items: Sequence[TakeWhole]) -> list[Phrase]:
        return [
            phrase("Do not rip band {band}: it is {part}.", band=band.number, part=parts_named(band.parts))
            for item in items
            for band in item.bands
        ]

    def grooves(self, settings: Sequence[CutGrooves]) -> list[Phrase]:
        lines = []
        for groove in settings:
            parts = [each.part for each in groove.passes]
            lines += [
                phrase(
                    "Groove {width} wide and {depth} deep, its near side {height} from the lower edge; "
                    "inside face down, lower edge to the fence.",
                    width=self._fine(groove.width),
                    depth=self._coarse(groove.depth),
                    height=self._coarse(groove.height),
                ),
                plural(
                    "{count} part at this setting: {parts}.",
                    "{count} parts at this setting: {parts}.",
                    len(parts),
                    parts=parts_named(parts),
                ),
                *(levels.sentence for levels in groove.levels),
            ]
            first = {each.part.kind: each.first.words for each in groove.passes if each.first is not None}
            if first:
                lines.append(
                    phrase(
                        "Sides are handed: with the inside face down and the fence on the right, a left side goes in "
                        "{left} first, a right side {right} first.",
                        left=first[PartKind.LEFT],
                        right=first[PartKind.RIGHT],
                    )
                )
        return lines

    def bottoms(self, sizes: Sequence[CheckBottoms]) -> list[Phrase]:
        return [
            *(
                phrase(
                    "{parts}: {length} by {width}.",
                    parts=parts_named(size.parts),
                    length=self._coarse(size.length),
                    width=self._coarse(size.width),
                )
                for size in sizes
            ),
            phrase("Check one against a dry-fitted drawer before you trim the rest."),
        ]

    def banding(self, items: Sequence[BandEdges]) -> list[Phrase]:
        lines = []
        for item in items:
            edging: dict[str, Any] = {
                "thickness": self._coarse(item.thickness),
                "parts": parts_named(item.parts),
            }
            lines.append(
                phrase("All round, {thickness} thick: {parts}.", **edging)
                if item.is_all_round
                else phrase("Upper edge, {thickness} thick: {parts}.", **edging)
            )
        if any(item.is_handed for item in items):
            lines.append(
                phrase(
                    "With its inside towards you and the upper edge up, a left side has its front end on the left, a "
                    "right side on the right."
                )
            )
        metres = sum(item.length for item in items) / 1000
        return [
            *lines,
            phrase("{metres:.1f} m of edging; trim it flush before you glue up.", metres=metres),
        ]

    def bore(self, holes: Sequence[Bore]) -> list[Phrase]:
        fronts: dict[PartName, list[Bore]] = {}
        for hole in holes:
            fronts.setdefault(hole.part, []).append(hole)
        alike: dict[tuple[object, ...], list[PartName]] = {}
        for part, bored in fronts.items():
            written = (str(self._coarse(size)) for hole in bored for size in _hole(hole))
            alike.setdefault((part.kind, *written), []).append(part)
        lines = [phrase("Drill through the front, seen from outside as it hangs:")]
        for parts in alike.values():
            for (above, diameter), row in groupby(fronts[parts[0]], key=lambda hole: _hole(hole)[1:3]):
                lefts = [Phrase("{left}", {"left": self._coarse(hole.from_left)}) for hole in row]
                lines.append(
                    phrase(
                        "{parts}, {wide} wide: {lefts} from the left edge, {above} above the lower edge; drill "
                        "{diameter}.",
                        parts=parts_named(parts),
                        wide=self._coarse(fronts[parts[0]][0].front_width),
                        lefts=joined(lefts, ", "),
                        above=self._coarse(above),
                        diameter=self._coarse(diameter),
                    )
                )
        return lines

    def runners(self, runners: Sequence[FitRunner]) -> list[Phrase]:
        return [
            phrase("Runner lines above the opening's lower edge:"),
            *(
                Phrase("{drawer}: {height}", {"drawer": line.drawer, "height": self._coarse(line.height)})
                for line in runners
            ),
        ]

    def fronts(self, items: Sequence[ScrewOnFronts]) -> list[Phrase]:
        return [
            plural(
                "Screw on {count} applied front from inside; set the reveals with shims.",
                "Screw on {count} applied fronts from inside; set the reveals with shims.",
                sum(len(item.parts) for item in items),
            )
        ]

    def _fine(self, value: Mm) -> WrittenLength:
        return self.style.written(value, fine=True)

    def _coarse(self, value: Mm) -> WrittenLength:
        return self.style.written(value)


def _hole(hole: Bore) -> tuple[Mm, Mm, Mm, Mm]:
    return hole.from_left, hole.above_lower, hole.diameter, hole.front_width
