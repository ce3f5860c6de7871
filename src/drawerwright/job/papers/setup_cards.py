"""The set-up cards of a packet: what to dial in, what is cut there, what the test cut shows, and what then helps."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import astuple, replace

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.basics.told_lengths import WrittenRun
from drawerwright.drawers.parts import Role
from drawerwright.drawings.corner_section import FULL_SIZE, draw_corner
from drawerwright.drawings.packet import Figure, PacketTable, SetupCard
from drawerwright.drawings.scene import Layer, Scene, side_by_side
from drawerwright.drawings.test_pieces import draw_test_pieces, reading_letters
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.planning.odds_words import card_words
from drawerwright.job.planning.stops import setup_stops
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.feed_words import feed_words
from drawerwright.joints.joint import joint_of
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.setting import CornerSetting, is_one_setting
from drawerwright.joints.setting_words import play_words
from drawerwright.joints.targets import INCH_REMEDY_OFFS, REMEDY_OFFS, card_targets, remedy_table
from drawerwright.run.marks import numbers_in_row
from drawerwright.run.scraps import Scraps
from drawerwright.run.setups import SetUp

PIECES_SCALE = 1.0


def setup_cards(plan: JobPlan, drawings: Mapping[str, Scene]) -> tuple[SetupCard, ...]:
    """A card for each set-up of the router table, in the order of work; `drawings` from `plan_drawings`."""
    cards = _Cards(plan, drawings)
    return tuple(cards.card(setup) for setup in plan.run.setups)


class _Cards:
    def __init__(self, plan: JobPlan, drawings: Mapping[str, Scene]) -> None:
        self.plan = plan
        self.drawings = drawings
        self.lengths = PaperLengths(plan.job.style)

    def card(self, setup: SetUp) -> SetupCard:
        marks = {(band.placed.family, band.placed.number): band.number for band in self.plan.run.bands}
        passes = [
            (
                cut.role.words,
                numbers_in_row(marks[band.family, band.number] for band in cut.bands),
                self.lengths.coarse(cut.family.length),
                cut.family.stock.name,
                cut.edges.words,
                Phrase("{run}", {"run": WrittenRun(cut.routed_length, digits=2)}),
            )
            for cut in setup.passes
        ]
        stops = setup_stops(self.plan, setup)
        return SetupCard(
            title=self._title(setup),
            values=(
                (
                    phrase("Bit height"),
                    self.lengths.fine(setup.bit_height),
                    play_words(_first(setup), self.plan.job.style),
                ),
                (phrase("Height gauge shows"), self.lengths.fine(setup.height_reading)),
                (phrase("Fence setting"), self.lengths.fine(setup.fence)),
                (phrase("Fence scale shows"), self.lengths.fine(setup.fence_reading)),
            ),
            drawing=self.drawings[f"setup-{setup.number}"],
            corners=self._true_sizes(setup),
            pieces=self._pieces(setup),
            passes=PacketTable(
                (
                    phrase("Piece"),
                    phrase("Bands"),
                    phrase("Band width"),
                    phrase("Stock"),
                    phrase("Edges"),
                    phrase("Routed"),
                ),
                tuple(passes),
                title=phrase("What is cut here"),
                align=("left", "right", "right", "left", "left", "right"),
            ),
            targets=self._targets(setup),
            # Where nothing may be cut yet, nobody asks for odds or mends a test cut, and the card has no room to spare.
            remedies=None if stops else self._remedies(_first(setup)),
            cautions=self._change(setup),
            notes=(
                *feed_words(self.plan.job.table.feed),
                *self._lips(setup),
                *(() if stops else self._tried(setup)),
                *self._holding(setup),
            ),
            stops=stops,
        )

    def _title(self, setup: SetUp) -> Phrase:
        if len(self.plan.job.cutters_in_use) == 1:
            return phrase("Set-up {number}", number=setup.number)
        return phrase("Set-up {number}: {cutter}", number=setup.number, cutter=setup.cutter.name)

    def _change(self, setup: SetUp) -> tuple[str, ...]:
        """Where a cutter is put in."""
        first = next(other for other in self.plan.run.setups if other.cutter.key == setup.cutter.key)
        if len(self.plan.job.cutters_in_use) == 1 or setup.number != first.number:
            return ()
        return (phrase("Put in {cutter} first, as the order of work says.", cutter=setup.cutter.name),)

    def _pieces(self, setup: SetUp) -> Figure:
        """Both test pieces, lettered as the readings of `_targets` are; where only one of them is cut here, the other
        is what it is tried with."""
        style, cut_here = self.plan.job.style, setup.pictured
        first = next(iter(cut_here.values()))
        scenes = []
        for role in Role:
            corner = cut_here.get(role, first)
            scene = draw_test_pieces(corner, scale=PIECES_SCALE, figures=False, style=style)[role]
            if role not in cut_here:  # its readings stand on the card that cuts it
                kept = tuple(item for item in scene.items if item.layer is not Layer.DIMENSION)
                scene = replace(scene, items=kept)
            scenes.append(scene)
        words = phrase("Where to hold the calipers")
        return Figure(side_by_side(style.say(words), scenes, gap=3.0), words)

    def _lips(self, setup: SetUp) -> tuple[str, ...]:
        """What to mind of the lips that are cut here."""
        cautions = (
            joint_of(setting.cutter).lip_caution(setting, self.plan.job.style)
            for setting in setup.corners.values()
            if Role.FLAT in setup.roles(setting)
        )
        return tuple(dict.fromkeys(filter(None, cautions)))

    def _holding(self, setup: SetUp) -> Iterator[Phrase]:
        """In how many passes the pieces that are cut here are cut, and how they are kept to table and fence."""
        count = max(cut.times for cut in setup.passes)
        yield plural(
            "{count} pass for each edge, {depth} deep.",
            "{count} passes for each edge, {depth} deep each: packing on the fence first, none for the last.",
            count,
            depth=self.lengths.fine(setup.fence / count),
        )
        if Role.FLAT in setup.pictured:
            yield phrase("Flat: feather board over the band ahead of the cutter, push block behind it.")
        if Role.UPRIGHT in setup.pictured:
            yield phrase("Upright: tall fence, feather board against the foot of the band, push block low.")

    def _odds(self, setup: SetUp) -> tuple[str, ...]:
        """How sure the first cut is, for the corner of the set-up with the poorest odds."""
        job = self.plan.job
        poorest = min(setup.corners, key=lambda key: self.plan.odds.of(key).odds.both)
        first, *more = card_words(
            self.plan.odds.of(poorest), job.cutter_of(setup.cutter.key).table, job.style
        )
        if len(setup.corners) > 1:
            first = joined((self.plan.draft.corner(poorest).name, first), ": ")
        return (first, *more)

    def _tried(self, setup: SetUp) -> Iterator[str]:
        """What goes with the test cut: how sure it is, what follows from it, and of what it is made."""
        yield from self._odds(setup)
        yield from self._then(setup)
        yield from Scraps.of(setup, self.plan.run.setups).words

    def _then(self, setup: SetUp) -> Iterator[Phrase]:
        """What holds after a test cut of which the job knows nothing yet: the paper outlives it."""
        if self.plan.job.cutter_of(setup.cutter.key).table.settled is None:
            yield phrase(
                "After the test cut set what it asks for. Height gauge: ________ Fence scale: ________"
            )

    def _targets(self, setup: SetUp) -> PacketTable:
        """The readings of the test pieces; where two corners share one, the narrower range holds. Where corners differ
        in a reading, as those of unequal stock do, each has its row and is named there."""
        ranges: dict[tuple[str, str, str, str], tuple[Mm, Mm]] = {}
        corners: dict[tuple[str, str, str, str], list[str]] = {}
        letters = reading_letters(joint_of(_first(setup).cutter))
        for corner, setting in setup.corners.items():
            for target in card_targets(setting, self.plan.job.fit_range):
                if target.reading.piece in setup.roles(setting):
                    key = (
                        letters[target.reading.kind],
                        str(target.reading.piece),
                        str(target.reading.what),
                        self.lengths.bare(target.reading.value),
                    )
                    low, high = ranges.get(key, (target.low, target.high))
                    ranges[key] = (max(low, target.low), min(high, target.high))
                    corners.setdefault(key, []).append(self.plan.draft.corner(corner).name)
        rows = Counter(letter for letter, *_rest in ranges)
        return PacketTable(
            ("", phrase("Piece"), phrase("Reading"), phrase("Expect"), phrase("Fits within")),
            tuple(
                (
                    letter,
                    piece,
                    what if rows[letter] == 1 else _at(what, corners[letter, piece, what, value]),
                    value,
                    phrase("{low} to {high}", low=self.lengths.bare(low), high=self.lengths.bare(high)),
                )
                for (letter, piece, what, value), (low, high) in sorted(
                    ranges.items(), key=lambda row: row[0][0]
                )
            ),
            title=phrase("Test cut ({unit})", unit=self.lengths.unit),
            note=phrase("Each range holds as long as everything else is right."),
            align=("left", "left", "left", "right", "right"),
        )

    def _remedies(self, setting: CornerSetting) -> PacketTable | None:
        """What to change when the roof or the deepest cut is off, where there is a roof to read."""
        if ReadingKind.ROOF not in joint_of(setting.cutter).readings:
            return None
        offs = REMEDY_OFFS if self.lengths.unit == "mm" else INCH_REMEDY_OFFS
        return PacketTable(
            (phrase("Off by"), phrase("Roof: move bit"), phrase("Corner"), phrase("Cut: move fence")),
            tuple(
                (
                    self.lengths.bare(row.off),
                    self.lengths.bare(row.bit_height_change),
                    self._corner_then(row.play, row.proud),
                    self.lengths.bare(row.fence_change_by_cut),
                )
                for row in remedy_table(setting, offs)
            ),
            title=phrase("If roof or deepest cut is off, adjust by ({unit})", unit=self.lengths.unit),
            note=phrase("Minus lowers the bit, or draws the cutter back into the fence."),
        )

    def _corner_then(self, play: Mm, proud: Mm) -> str:
        if is_one_setting(play, 0.0) and is_one_setting(proud, 0.0):
            return phrase("closes")
        if play > 0:
            return phrase("play {play}", play=self.lengths.bare(play))
        return phrase("proud {proud}", proud=self.lengths.bare(proud))

    def _true_sizes(self, setup: SetUp) -> tuple[Figure, ...]:
        """Every corner that has a piece cut here; those that look alike at true size have one drawing."""
        alike: list[tuple[CornerSetting, CornerKey, list[str]]] = []
        for key, setting in setup.corners.items():
            name = self.plan.draft.corner(key).name
            names = next((names for drawn, _, names in alike if _looks_as(setting, drawn)), None)
            if names is None:
                alike.append((setting, key, [name]))
            else:
                names.append(name)
        return tuple(self._true_size(setting, key, joined(names, "; ")) for setting, key, names in alike)

    def _true_size(self, setting: CornerSetting, key: CornerKey, name: str) -> Figure:
        """The corner with the line along which it parts first."""
        style, marked = self.plan.job.style, self.plan.strengths.marked(key)
        scene = draw_corner(
            setting, scale=FULL_SIZE, annotated=False, title=name, style=style, parting=marked.line
        )
        return Figure(scene, marked.caption(name))


def _at(what: str, corners: Sequence[str]) -> Phrase:
    """A reading with the corners that it holds for."""
    return phrase("{what} ({corners})", what=what, corners=joined(corners, "; "))


def _looks_as(one: CornerSetting, other: CornerSetting) -> bool:
    """Whether no eye tells two corners apart that are drawn at true size."""
    measures = (
        (setting.bit_height, setting.fence_flat, setting.fence_upright, *astuple(setting.corner))
        for setting in (one, other)
    )
    return all(is_one_setting(here, there) for here, there in zip(*measures, strict=True))


def _first(setup: SetUp) -> CornerSetting:
    """What holds for every corner of a set-up can be read off any of them."""
    return next(iter(setup.corners.values()))
