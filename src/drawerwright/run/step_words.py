"""The work of a step in words: short, and with everything that is needed to do it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby
from typing import Any

from drawerwright.basics.lengths import LengthStyle, Mm, WrittenLength, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.basics.told_lengths import WrittenRun
from drawerwright.drawers.bottom import Groove
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.joints.feed_words import feed_words
from drawerwright.joints.joint import joint_named
from drawerwright.joints.setting_words import play_words
from drawerwright.run.boring import hook_lines, notch_lines
from drawerwright.run.cutter_words import change_words
from drawerwright.run.front_work import false_front_lines, front_lines, scoop_lines
from drawerwright.run.joint_words import glue_lines, joint_lines
from drawerwright.run.marks import PartName, numbers_in_row, parts_named
from drawerwright.run.rail_work import rail_lines
from drawerwright.run.saw_words import (
    check_lines,
    cut_lines,
    fetch_lines,
    kerf_lines,
    rip_lines,
    saw_setting_lines,
    whole_lines,
)
from drawerwright.run.setups import Edges
from drawerwright.run.trimming import trim_lines
from drawerwright.run.work import (
    BandEdges,
    Bore,
    BoreBacks,
    ChangeCutter,
    CheckBottoms,
    CheckSheet,
    CutBandEdges,
    CutGrooves,
    CutScoops,
    CutSheet,
    CutTrialPieces,
    FetchSheet,
    FitRunner,
    FixFalseFront,
    GlueUp,
    HangRails,
    MakeJoints,
    MeasureKerf,
    NotchBacks,
    Rip,
    Rout,
    ScrewOnFronts,
    SetRouter,
    SetSaw,
    TakeWhole,
    TrimParts,
    Work,
)


def step_lines(work: Sequence[Work], style: LengthStyle) -> tuple[Phrase, ...]:
    """What a step says, line by line."""
    return _Words(style).lines(work)


def groove_title(groove: Groove, *, is_only: bool) -> Phrase:
    """What the step of a groove is called; of several, so that they are told apart."""
    if is_only:
        return phrase("Cut the grooves")
    return phrase(
        "Cut the grooves {width} wide, {depth} deep, {height} up",
        width=millimetres(groove.width),
        depth=millimetres(groove.depth, ".1f"),
        height=millimetres(groove.height, ".1f"),
    )


class _Words:
    def __init__(self, style: LengthStyle) -> None:
        self.style = style
        self.says: dict[type, Callable[[Any], list[Phrase]]] = {
            MeasureKerf: lambda tests: kerf_lines(tests, style),
            FetchSheet: fetch_lines,
            CheckSheet: lambda sheets: check_lines(sheets, style),
            SetSaw: lambda settings: saw_setting_lines(settings, style),
            CutSheet: cut_lines,
            ChangeCutter: self.change_cutter,
            SetRouter: self.set_router,
            CutTrialPieces: self.trial_pieces,
            Rout: self.rout,
            CutBandEdges: self.cut_band_edges,
            Rip: lambda rips: rip_lines(rips, style),
            TakeWhole: whole_lines,
            CutGrooves: self.grooves,
            CheckBottoms: self.bottoms,
            TrimParts: lambda items: trim_lines(items, style),
            BandEdges: self.banding,
            Bore: self.bore,
            NotchBacks: lambda items: notch_lines(items, style),
            CutScoops: lambda items: scoop_lines(items, style),
            BoreBacks: lambda items: hook_lines(items, style),
            MakeJoints: joint_lines,
            GlueUp: glue_lines,
            FitRunner: self.runners,
            ScrewOnFronts: lambda items: front_lines(items, style),
            FixFalseFront: lambda items: false_front_lines(items, style),
            HangRails: lambda items: rail_lines(items, style),
        }

    def lines(self, work: Sequence[Work]) -> tuple[Phrase, ...]:
        """Consecutive work of one kind makes one line."""
        said = [line for kind, items in groupby(work, key=type) for line in self.says[kind](list(items))]
        return tuple(dict.fromkeys(said))

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
                *feed_words(setting.feed),
            ]
        return lines

    def _play(self, setting: SetRouter) -> list[Phrase]:
        what = "" if setting.keeps_height else play_words(setting.corner, self.style)
        return [Phrase("{what}.", {"what": what})] if what else []

    def trial_pieces(self, cuts: Sequence[CutTrialPieces]) -> list[Phrase]:
        lines = [line for cut in cuts for line in cut.scraps]
        lines.append(phrase("Measure the cuts with calipers."))
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

    def cut_band_edges(self, cuts: Sequence[CutBandEdges]) -> list[Phrase]:
        """Bands that are cut alike together, under what is cut."""
        return [
            line
            for words, alike in groupby(cuts, key=lambda cut: cut.words)
            for line in (words, *self.rout(list(alike)))
        ]

    def rout(self, routs: Sequence[Rout | CutBandEdges]) -> list[Phrase]:
        joint = joint_named(routs[0].joint)
        how = joint.holds_flat if routs[0].role is Role.FLAT else joint.holds_upright
        if any(rout.edges is Edges.BOTH for rout in routs):
            lines = [phrase("Run each band {how}; turn it end for end for the second edge.", how=how)]
        else:
            lines = [phrase("Run each band {how}.", how=how)]
        times = max(rout.times for rout in routs)
        if times > 1:
            lines.append(
                phrase(
                    "Reach the full depth in {count} passes: packing on the fence first, none for the last.",
                    count=times,
                )
            )
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
                goes_in = (_goes_in(kind, first[kind]) for kind in PartKind if kind in first)
                lines.append(
                    phrase(
                        "With the inside face down and the fence on the right, {goes_in}.",
                        goes_in=joined(goes_in, ", "),
                    )
                )
        return lines

    def bottoms(self, sizes: Sequence[CheckBottoms]) -> list[Phrase]:
        is_one = sum(len(size.parts) for size in sizes) == 1
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
            phrase("Check it against the dry-fitted box.")
            if is_one
            else phrase("Check one against a dry-fitted drawer before you trim the rest."),
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
                    "right side has it on the right; a front has its left end on the right."
                )
            )
        in_all = WrittenRun(sum(item.length for item in items))
        return [
            *lines,
            phrase("{edging} of edging; trim it flush before you glue up.", edging=in_all),
        ]

    def bore(self, holes: Sequence[Bore]) -> list[Phrase]:
        fronts: dict[PartName, list[Bore]] = {}
        for hole in holes:
            fronts.setdefault(hole.part, []).append(hole)
        alike: dict[tuple[object, ...], list[PartName]] = {}
        for part, bored in fronts.items():
            written = (
                each for hole in bored for each in (*map(str, map(self._coarse, _hole(hole))), hole.diameter)
            )
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
                        diameter=self.style.bought(diameter),
                    )
                )
        return lines

    def runners(self, runners: Sequence[FitRunner]) -> list[Phrase]:
        return [
            phrase("Runner lines above the opening's lower edge:"),
            *(
                Phrase("{drawer}: {height}", {"drawer": line.drawer, "height": self._coarse(line.height)})
                if line.height == line.above_carcase
                else phrase(
                    "{drawer}: {height}, {above_carcase} above the carcase's lower edge inside",
                    drawer=line.drawer,
                    height=self._coarse(line.height),
                    above_carcase=self._coarse(line.above_carcase),
                )
                for line in runners
            ),
        ]

    def _fine(self, value: Mm) -> WrittenLength:
        return self.style.written(value, fine=True)

    def _coarse(self, value: Mm) -> WrittenLength:
        return self.style.written(value)


def _hole(hole: Bore) -> tuple[Mm, Mm, Mm, Mm]:
    return hole.from_left, hole.above_lower, hole.diameter, hole.front_width


def _goes_in(kind: PartKind, end: Phrase) -> Phrase:
    """Which end of a part goes over the groove cutter first."""
    if kind is PartKind.LEFT:
        return phrase("a left side goes in {end} first", end=end)
    if kind is PartKind.RIGHT:
        return phrase("a right side goes in {end} first", end=end)
    return phrase("a front goes in {end} first", end=end)
