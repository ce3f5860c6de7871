"""From a checked job file to a `Job`: what its entries mean together.

What pydantic cannot see (an unknown stock, heights that do not fill the opening) is found here, and again all
of it at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase
from drawerwright.basics.told_lengths import SizeWords
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawings.label_grids import LabelGrid
from drawerwright.job.file import model, shop_model, stock_model
from drawerwright.job.file.day_lists import listed_days
from drawerwright.job.file.drawer_names import bank_mark, drawers_named, numbered_boxes
from drawerwright.job.file.drawers import DrawerMaker
from drawerwright.job.file.duties import DutyMaker
from drawerwright.job.file.fronts_maker import kept_overlay
from drawerwright.job.file.hanger_maker import HangerMaker
from drawerwright.job.file.ids import check_ids
from drawerwright.job.file.job_cutters import CutterMaker
from drawerwright.job.file.kerf_tested import kerf_test
from drawerwright.job.file.likes import like_faults, with_likes
from drawerwright.job.file.opening_maker import OpeningMaker, part_of_copy
from drawerwright.job.file.parting import PartingRules
from drawerwright.job.file.reading import Builder, Document, check_whole, field_name, in_file_order
from drawerwright.job.file.runner_sheets import RunnerMaker
from drawerwright.job.file.unit_doubts import unit_findings, unlikely_units
from drawerwright.job.job import Job
from drawerwright.joints.plain_cuts import LearntJoint
from drawerwright.joints.readings import FitRange
from drawerwright.joints.registry import kind_names
from drawerwright.joints.table import RouterTable, usual_gauge_step
from drawerwright.run.fence_joints import fence_joints
from drawerwright.run.fence_plans import FenceRoutine
from drawerwright.run.routines import forced_plan
from drawerwright.run.times import Rates
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.grid import planned_length
from drawerwright.sheets.kerf_test import KerfTest
from drawerwright.sheets.problem import SheetPreferences
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize, told_once
from drawerwright.strength.sag_limit import SagLimit
from drawerwright.wood.species import find_species
from drawerwright.wood.stock import Grain, Stock
from drawerwright.wood.thickness import Panel, Thickness, published_range

JOBS_REMEMBERED = 24
"""A page asks for the same job several times, and then it is planned."""
LEAST_RANGE: Mm = 0.01
"""The narrowest range that a caliper can tell, where the job asks for none."""


_PARTING = PartingRules(
    rows=frozenset({"banks", "boxes"}),
    plain=frozenset({"machine", "sheets", "fit", "rates", "sag", "shown", "prices", "labels"}),
    named=frozenset({"stock", "runners", "cutters", "climates"}),
    apart=frozenset({"count", "sheets", "offcuts", "pull", "scoop", "banding", "grain_upright"})
    | {"hangers", "load", "contents", "use", "climate", "match", "match_direction"},
)


def read_job(text: str, file: str | None = None) -> Job:
    """Read a job file's text.

    Args:
        text: the text.
        file: its path, for messages and for files that lie beside it; without one, naming such a file is a fault.

    Raises:
        FaultyInputError: with every fault of the text, each with line and field; those of single entries and
            those that show only when entries are seen together.
    """
    return _job_alone(text, kind_names()) if file is None else job_of(Document(text, file))


@lru_cache(maxsize=JOBS_REMEMBERED)
def _job_alone(text: str, _joints: tuple[str, ...]) -> Job:
    """The job of a text that no file lies beside: where the same kinds of joint are known, it always says the same."""
    return job_of(Document(text))


def job_of(document: Document) -> Job:
    """The job that the entries of a file say, as `read_job` gives it."""
    likes = [(entry, document.fault(entry, message)) for entry, message in like_faults(document.data)]
    document.data = with_likes(document.data)
    try:
        job = check_whole(document, model.JobFile, model.PartialJobFile, _Builder, _PARTING).job()
    except FaultyInputError as error:  # what a bank lacks because nothing is like it is not said again
        lacking = tuple(field_name(entry[:2]) for entry, _fault in likes)
        others = (fault for fault in error.found if not fault.field.startswith(lacking or ("\0",)))
        units = (
            document.fault(found.entry, joined((found.text, found.remedy), " "))
            for found in unlikely_units(document.whole, model.JobFile)
        )
        raise FaultyInputError(
            in_file_order([*(fault for _entry, fault in likes), *units, *others]), error.locations
        ) from None
    except InvalidValueError as error:  # of values that only show together that they cannot be meant
        raise FaultyInputError((document.fault(error.entry, str(error)),)) from None
    if likes:
        raise FaultyInputError(in_file_order(fault for _entry, fault in likes))
    return job


def table_of(entry: shop_model.RouterTableEntry, usual_step: Mm) -> RouterTable:
    """The router table that a file describes; gauges of which it says nothing have marks at the usual step (mm)."""
    return RouterTable(
        tallest_upright=entry.tallest_upright,
        height_gauge=entry.height_gauge_offset,
        fence_gauge=entry.fence_gauge_offset,
        largest_fence_setting=entry.largest_fence_setting,
        feed=entry.feed,
        repeatability=entry.repeatability,
        speeds=tuple(sorted(entry.speeds)),
        height_gauge_step=entry.height_gauge_step or usual_step,
        fence_gauge_step=entry.fence_gauge_step or usual_step,
    )


class _Builder(Builder):
    """Builds what it can on the way in; `job` gives the whole or raises."""

    def __init__(self, entries: model.JobFile, document: Document) -> None:
        super().__init__(document)
        self.entries = entries
        self.stock: dict[str, Stock] = {}
        self.cutters = CutterMaker(self, entries)
        for name, entry in entries.stock.items():
            with self.at("stock", name, readings=("measured",), stated_mean=("mean",)):
                self.stock[name] = self._stock(name, entry)
        check_ids(self, "stock", entries.stock)
        if not self.names("banks") and not self.names("boxes"):
            self.fault((), phrase("has no drawers: add at least one entry under 'banks' or 'boxes'"))
        unit = entries.shown.style(entries.units).unit
        runners = RunnerMaker(self, entries.runners, self.names("runners"), unit)
        duties = DutyMaker(self, entries, self.names("climates"))
        rows = [(n, copy) for n, entry in enumerate(entries.banks) for copy in range(entry.count)]
        closed = [
            (n, part_of_copy(entries.banks[n].opening, copy), kept_overlay(entries.banks[n].fronts))
            for n, copy in rows
        ]
        openings = OpeningMaker(self, entries.openings, closed)
        hangers = HangerMaker(self, unit)
        maker = DrawerMaker(
            self, self.stock, self.names("stock"), self.cutters, runners, duties, openings, hangers
        )
        self.open_openings = tuple(openings.findings())
        self.banks = tuple(
            bank
            for place, (n, copy) in enumerate(rows)
            if (bank := maker.bank(n, entries.banks[n], copy, bank_mark(place)))
        )
        is_made = any(entry.drawer for entry in entries.banks) or self.names("boxes")
        if entries.banks and self.document.is_whole and not is_made:
            self.fault(("banks",), phrase("have false fronts only: at least one drawer or box is needed"))
        self.boxes = self._boxes(maker)
        self._lay_in_trays()
        self.preferences = SheetPreferences()
        with self.at("sheets", "later_aims"):
            self.preferences = SheetPreferences(entries.sheets.later_aims, entries.sheets.trim_bands)
        self.least_offcut = LeastOffcut()
        with self.at("sheets", "least_offcut", "width"):
            self.least_offcut = LeastOffcut.of(**entries.sheets.least_offcut.model_dump())
        self.labels: LabelGrid | None = None
        with self.at("labels"):
            self.labels = entries.labels.grid(entries.shown.style(entries.units).paper)
        self.learnt_joints = tuple(self._learnt_joints())
        self.saw = self._saw(entries.machine.saw)
        self._check_fit_range(entries.fit)
        self._check_names()
        self.days = listed_days(self, entries.days, with_likes(document.whole))

    def _boxes(self, maker: DrawerMaker) -> tuple[DrawerBox, ...]:
        """Plain boxes; one may lie in a drawer that stands before it."""
        named = drawers_named(with_likes(self.document.whole), "banks")
        known: dict[str, DrawerBox | None] = dict.fromkeys(named)
        known |= {box.name: box for bank in self.banks for box in bank.boxes}
        for front in (front for bank in self.banks for front in bank.false_fronts):
            known.pop(front.name, None)
        made: list[DrawerBox] = []
        for number, entry in enumerate(self.entries.boxes):
            boxes = maker.boxes(number, entry, known)
            known |= dict.fromkeys(numbered_boxes(entry.name, entry.count))
            known |= {box.name: box for box in boxes}
            made += boxes
        return tuple(made)

    def _lay_in_trays(self) -> None:
        """Every drawer knows the trays that lie in it; one lies in a drawer before it, so the last is the innermost."""
        inside: dict[str, list[DrawerBox]] = {}

        def filled(box: DrawerBox) -> DrawerBox:
            found = replace(box, trays=tuple(reversed(inside.get(box.name, ()))))
            inside.setdefault(box.inside, []).append(found)
            return found

        self.boxes = tuple(reversed([filled(box) for box in reversed(self.boxes)]))
        self.banks = tuple(replace(bank, boxes=tuple(map(filled, bank.boxes))) for bank in self.banks)

    def _learnt_joints(self) -> Iterator[LearntJoint]:
        for number, entry in enumerate(self.entries.learnt_joints):
            known = [setting.figure for setting in entry.joint.joint.settings]
            for name in entry.off:
                if name not in known:
                    self.fault(
                        ("learnt_joints", number, "off", name),
                        phrase(
                            "a {kind} joint has no setting {name!r}; it has {known}",
                            kind=entry.joint.joint.name,
                            name=name,
                            known=", ".join(known),
                        ),
                    )
            yield LearntJoint(entry.joint, entry.off)

    def _saw(self, entry: shop_model.SawEntry) -> Saw:
        """The saw; a kerf that was measured counts before the one that was stated."""
        place = ("machine", "saw", "kerf_test")
        test: KerfTest | None = None
        before, after = entry.kerf_test.before, entry.kerf_test.after
        with self.at(*place):
            test = kerf_test(entry.kerf_test)
        if (before is None) is not (after is None):
            self.fault(
                (*place, "before" if before is None else "after"),
                phrase("is missing: the kerf follows from the widths before and after the cuts"),
            )
        return Saw(
            self._planned(entry.kerf if test is None else test.kerf),
            self._planned(entry.trim),
            entry.stack,
            entry.cutting_height,
            test,
        )

    def _check_names(self) -> None:
        """Labels, steps and holes tell parts apart by the names of their drawers."""
        taken = {box.name for bank in self.banks for box in bank.boxes}
        taken |= {front.name for bank in self.banks for front in bank.false_fronts}
        for number, entry in enumerate(self.entries.boxes):
            names = numbered_boxes(entry.name, entry.count)
            twice = next((name for name in names if name in taken), None)
            if twice is not None:
                self.fault(
                    ("boxes", number, "name"),
                    phrase(
                        "makes a second drawer called {name}: rename one, since parts are named after their "
                        "drawer",
                        name=twice,
                    ),
                )
            taken.update(names)

    def names(self, section: str) -> Sequence[str]:
        """What the text has in a section, faulty or not."""
        found = self.document.whole.get(section)
        return [str(name) for name in found] if isinstance(found, dict | list) else []

    def job(self) -> Job:
        entries = self.entries
        if self.faults:
            raise FaultyInputError(in_file_order(self.faults))
        router = entries.machine.router_table
        strip = entries.machine.sacrificial_strip
        table = table_of(router, usual_gauge_step(entries.shown.style(entries.units).unit))
        fit = _fit_range(entries.fit)
        job = Job(
            name=entries.job,
            style=entries.shown.style(entries.units),
            cutters=self.cutters.job_cutters(table, fit),
            table=table,
            saw=self.saw,
            band_rules=BandRules(
                self._planned(strip.width),
                strip.ends,
                self._planned(router.shortest_piece),
                None if router.longest_band is None else self._planned(router.longest_band),
            ),
            stock=self.stock,
            sheet_sizes={name: self._sizes(name, entry) for name, entry in entries.stock.items()},
            banks=self.banks,
            boxes=self.boxes,
            fit_range=fit,
            calipers=entries.machine.calipers,
            preferences=self.preferences,
            least_offcut=self.least_offcut,
            sheets_time_limit=entries.sheets.time_limit,
            days=self.days,
            rates=Rates(**entries.rates.model_dump()),
            prices=entries.prices.prices(),
            labels=self.labels,
            learnt_joints=self.learnt_joints,
            sag_limit=SagLimit(**entries.sag.model_dump()),
            doubts=(
                *unlikely_units(self.document.whole, model.JobFile),
                *unit_findings(self.document.data, model.JobFile),
                *self.open_openings,
            ),
        )
        self._check_fences(job)
        if self.faults:
            raise FaultyInputError(in_file_order(self.faults))
        return job

    def _check_fences(self, job: Job) -> None:
        """What the job forces on the fence must be something that its corners bear."""
        for cutter in job.cutters_in_use:
            if cutter.fences.plan is FenceRoutine.FEWEST:
                continue
            forced = "positions" if cutter.fences.plan is FenceRoutine.GIVEN else "plan"
            own = self.document.data
            for step in cutter.place_of("fences"):
                own = own.get(step) or {}
            place = cutter.place_of("fences") if forced in own else ("fences",)
            with self.at(*place, forced):
                joints = fence_joints(job.corners_of(cutter), job.table.largest_fence_setting)
                forced_plan(tuple(dict.fromkeys(joints.values())), cutter.fences)

    def _check_fit_range(self, entry: model.FitEntry) -> None:
        if entry.most_play < entry.least_play:
            self.fault(
                ("fit", "most_play"),
                phrase(
                    "{most_play} is less than the least play of {least_play}",
                    most_play=millimetres(entry.most_play, "g"),
                    least_play=millimetres(entry.least_play, "g"),
                ),
            )

    @staticmethod
    def _stock(name: str, entry: stock_model.StockEntry) -> Stock:
        sheets = [reading for reading in entry.measured if isinstance(reading, tuple)]
        loose_readings = tuple(reading for reading in entry.measured if not isinstance(reading, tuple))
        readings = (*sheets, *([loose_readings] if loose_readings else []))
        published = published_range(entry.panel, entry.nominal)
        thickness = Thickness(entry.nominal, tuple(readings), published, entry.mean, entry.scatter)
        if entry.species is not None and entry.panel is not Panel.SOLID:
            raise InvalidValueError(
                phrase("belongs to solid wood: write 'panel: solid', or take it out"), entry=("species",)
            )
        species = None if entry.species is None else find_species(entry.species)
        return Stock(
            name,
            entry.panel,
            thickness,
            entry.grain,
            entry.id or "",
            species,
            entry.cut,
            entry.moisture,
            species_said=entry.species or "",
        )

    def _planned(self, length: Mm) -> Mm:
        """A length as the sheet planner takes it, beside parts in steps of the unit that sizes are shown in."""
        return planned_length(length, self.entries.shown.style(self.entries.units).typed_unit)

    def _sizes(self, name: str, entry: stock_model.StockEntry) -> tuple[SheetSize, ...]:
        def size(sheet: stock_model.SheetEntry, is_offcut: bool) -> SheetSize:
            along, across = self._planned(sheet.length), self._planned(sheet.width)
            if entry.grain is Grain.WIDTH:
                along, across = across, along
            size = SizeWords(sheet.length, sheet.width)
            label = sheet.label or phrase("{name} {size}", name=name, size=size)
            on_hand = stock_model.ONE_OFFCUT if is_offcut and sheet.on_hand is None else sheet.on_hand
            return SheetSize(label, along, across, sheet.price, on_hand, is_offcut)

        return told_once(
            [size(sheet, False) for sheet in entry.sheets] + [size(sheet, True) for sheet in entry.offcuts]
        )


def _fit_range(entry: model.FitEntry) -> FitRange:
    """A range of nothing is widened to what calipers can tell."""
    return FitRange(
        entry.least_play,
        max(entry.most_play, entry.least_play + LEAST_RANGE),
        max(entry.flushness, LEAST_RANGE),
    )
