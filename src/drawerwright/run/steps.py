"""The steps of the order of work: each machine is set up once for everything that it does in that state."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from drawerwright.basics.lengths import LengthStyle, millimetres
from drawerwright.basics.phrases import Phrase, phrase, plural
from drawerwright.drawers.assembly import AssembledDrawer, parts_of
from drawerwright.drawers.carcase import PullHole, RunnerLine
from drawerwright.drawers.front_panels import FalseFront
from drawerwright.drawers.groove_levels import groove_levels
from drawerwright.drawers.parts import Part, PartKind, Role
from drawerwright.joints.joint import expected_readings
from drawerwright.joints.plain_cuts import LearntJoint
from drawerwright.joints.table import RouterTable
from drawerwright.run.boring import hook_work, notch_work, pull_work
from drawerwright.run.edging import edging_work
from drawerwright.run.fixings import screw_slots
from drawerwright.run.front_work import front_work, scoop_work
from drawerwright.run.joint_steps import steps_on_bands, steps_on_parts
from drawerwright.run.marks import BandMark, PartName
from drawerwright.run.rail_work import RAILS_IN_A_DRAWER, rail_work
from drawerwright.run.ripping import rip_work
from drawerwright.run.sawing import Sawing, kerf_tests, saw_steps
from drawerwright.run.scraps import Scraps
from drawerwright.run.setups import SetUp
from drawerwright.run.speeds import advise_speed
from drawerwright.run.step_words import groove_title, step_lines
from drawerwright.run.times import Rates
from drawerwright.run.trimming import TRIMMED_EDGES, bottom_checks, trim_work
from drawerwright.run.work import (
    ChangeCutter,
    CutGrooves,
    CutTrialPieces,
    FitRunner,
    FixFalseFront,
    GlueUp,
    GroovePass,
    Rout,
    SetRouter,
    TakeWhole,
    Work,
)
from drawerwright.sheets.from_parts import EQUAL, StockBlanks
from drawerwright.sheets.problem import SheetPlan


@dataclass(frozen=True, slots=True)
class Step:
    """One step at one machine: its work, and the same in words.

    `setup` is the number of the router set-up that it needs, `sawing` what is told of a step at the saw.
    """

    number: int
    title: str
    machine: str
    work: tuple[Work, ...]
    lines: tuple[str, ...]
    minutes: float
    setup: int | None = None
    sawing: Sawing | None = None


@dataclass(frozen=True, slots=True)
class RunInput:
    """Everything that the order of work depends on. `blanks` belong to `plans`, stock by stock.

    `only`: the one part that is made again; its drawer is not put together then.
    """

    drawers: tuple[AssembledDrawer, ...]
    plans: tuple[SheetPlan, ...]
    blanks: tuple[StockBlanks, ...]
    setups: tuple[SetUp, ...]
    rates: Rates
    table: RouterTable
    runner_lines: tuple[RunnerLine, ...] = ()
    pull_holes: tuple[PullHole, ...] = ()
    style: LengthStyle = field(default_factory=LengthStyle)
    only: Part | None = None
    false_fronts: tuple[FalseFront, ...] = ()
    learnt_joints: tuple[LearntJoint, ...] = ()

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every part that is made."""
        if self.only is not None:
            return (self.only,)
        return (*parts_of(self.drawers), *(front.part for front in self.false_fronts))


def written_steps(given: RunInput, bands: Sequence[BandMark]) -> tuple[Step, ...]:
    """Every step from the rack to the glued drawer, in its order; `bands` are all bands of the job."""
    return _Writer(given, bands).steps()


class _Writer:
    def __init__(self, given: RunInput, bands: Sequence[BandMark]) -> None:
        self.given = given
        self.bands = bands
        self.marks = {(band.placed.family, band.placed.number): band for band in self.bands}
        self.with_marked_edge = {part for band in bands if band.marked for part in band.parts}
        self.found: list[Step] = []

    def steps(self) -> tuple[Step, ...]:
        self._cut_sheets()
        for setup in self.given.setups:
            self._change_cutter(setup)
            self._set_router(setup)
            self._cut_trial_pieces(setup)
            for role in (Role.FLAT, Role.UPRIGHT):
                self._rout(setup, role)
        if self.given.only is None or self.given.only.ends:
            self._make_joints(on_bands=True)
        self._rip()
        self._grooves()
        self._bottoms()
        self._banding()
        self._backs()
        self._bore()
        if self.given.only is None or self.given.only.ends:
            self._make_joints(on_bands=False)
        if self.given.only is None:
            self._glue()
            self._hang_rails()
            self._fit()
        return tuple(self.found)

    def _add(
        self,
        title: Phrase,
        machine: Phrase,
        work: Iterable[Work],
        minutes: float,
        setup: SetUp | None = None,
        *,
        sawing: Sawing | None = None,
    ) -> None:
        work = tuple(work)
        lines = step_lines(work, self.given.style)
        number = setup.number if setup else None
        self.found.append(Step(len(self.found) + 1, title, machine, work, lines, minutes, number, sawing))

    def _cut_sheets(self) -> None:
        is_begun = self.given.only is not None  # then what the saw takes is known
        if not is_begun and (tests := kerf_tests(self.given.plans)):
            self._add(phrase("Measure the kerf"), phrase("saw"), tests, self.given.rates.saw_setting)
        for place, (plan, blanks) in enumerate(zip(self.given.plans, self.given.blanks, strict=True)):
            for step in saw_steps(plan, blanks, self.marks, self.given.rates):
                self._add(
                    step.title,
                    phrase("saw"),
                    step.work,
                    step.minutes,
                    sawing=Sawing(
                        phrase("Cut the sheets: {stock}", stock=blanks.stock.name),
                        step.setting,
                        tuple((place, number) for number in step.sheets),
                    ),
                )

    def _before(self, setup: SetUp) -> SetUp | None:
        return self.given.setups[setup.number - 2] if setup.number > 1 else None

    def _change_cutter(self, setup: SetUp) -> None:
        """Of a job with one cutter nothing is said: it is in the router all the time."""
        before, cutter = self._before(setup), setup.cutter
        is_only = all(other.cutter.key == cutter.key for other in self.given.setups)
        if is_only or (before is not None and before.cutter.key == cutter.key):
            return
        self._add(
            phrase("Put in the cutter: {cutter}", cutter=cutter.name)
            if before is None
            else phrase("Change the cutter to {cutter}", cutter=cutter.name),
            phrase("router table"),
            [
                ChangeCutter(
                    cutter.name,
                    None if before is None else before.cutter.name,
                    cutter.diameter,
                    advise_speed(cutter, self.given.table),
                )
            ],
            self.given.rates.cutter_change,
        )

    def _set_router(self, setup: SetUp) -> None:
        before = self._before(setup)
        self._add(
            phrase("Set the cutter: set-up {number}", number=setup.number),
            phrase("router table"),
            [
                SetRouter(
                    setup.bit_height,
                    setup.fence,
                    setup.height_reading,
                    setup.fence_reading,
                    keeps_height=before is not None and before.has_height_of(setup),
                    corner=next(iter(setup.corners.values())),
                    feed=self.given.table.feed,
                )
            ],
            self.given.rates.router_setting,
            setup,
        )

    def _cut_trial_pieces(self, setup: SetUp) -> None:
        readings = (
            reading
            for setting in setup.corners.values()
            for reading in expected_readings(setting)
            if reading.piece in setup.roles(setting)
        )
        is_whole = any(len(setup.roles(setting)) == 2 for setting in setup.corners.values())
        self._add(
            phrase("Test cut: set-up {number}", number=setup.number),
            phrase("router table"),
            [CutTrialPieces(tuple(readings), is_whole, Scraps.of(setup, self.given.setups).words)],
            self.given.rates.test_cut,
            setup,
        )

    def _rout(self, setup: SetUp, role: Role) -> None:
        cuts = [cut for cut in setup.passes if cut.role is role]
        if not cuts:
            return
        rates = self.given.rates
        title = (
            phrase("Rout the flat bands: set-up {number}", number=setup.number)
            if role is Role.FLAT
            else phrase("Rout the upright bands: set-up {number}", number=setup.number)
        )
        routs = []
        for cut in cuts:
            bands = tuple(self.marks[band.family, band.number] for band in cut.bands)
            needs_backing = any(len(band.placed.sacrificial) < 2 for band in bands)
            routs.append(Rout(role, cut.edges, bands, needs_backing, cut.joint.name, cut.times))
        minutes = sum(
            cut.trips * rates.router_pass + cut.routed_length / 1000 / rates.feed_m_per_min for cut in cuts
        )
        self._add(title, phrase("router table"), routs, minutes, setup)

    def _rip(self) -> None:
        rates, title = self.given.rates, phrase("Rip the bands into parts")
        work = rip_work((layout for plan in self.given.plans for layout in plan.layouts), self.bands)
        for item in work:
            if isinstance(item, TakeWhole):
                self._add(phrase("Bands that stay whole"), phrase("saw"), [item], 0.0, sawing=Sawing(title))
                continue
            self._add(
                phrase("Rip the bands at {length}", length=millimetres(item.fence, ".1f")),
                phrase("saw"),
                [item],
                len(item.cuts) * rates.saw_cut + rates.saw_setting,
                sawing=Sawing(title, item.fence),
            )

    def _grooves(self) -> None:
        rates = self.given.rates
        settings: dict[tuple[int, ...], list[Part]] = {}
        for part in self.given.parts:
            if (groove := part.groove) is not None:
                place = tuple(round(size / EQUAL) for size in (groove.height, groove.width, groove.depth))
                settings.setdefault(place, []).append(part)
        levels = groove_levels(self.given.parts)
        for parts in settings.values():
            groove = parts[0].groove
            assert groove is not None
            fronts = {part.drawer for part in parts if part.kind is PartKind.FRONT}
            work = CutGrooves(
                groove.height,
                groove.width,
                groove.depth,
                tuple(map(self._groove_pass, parts)),
                tuple(each for each in levels if not fronts.isdisjoint(each.drawers)),
            )
            self._add(
                groove_title(groove, is_only=len(settings) == 1),
                phrase("saw or router table"),
                [work],
                rates.saw_setting + len(parts) * rates.groove_pass,
            )

    def _groove_pass(self, part: Part) -> GroovePass:
        """With its inside down and its first end ahead, a left side has its lower edge on the right, a right side and a
        front on the left. Where no edge was marked, both ends are cut alike and no part is handed."""
        name = PartName.of(part)
        if not part.is_handed or name not in self.with_marked_edge:
            return GroovePass(name, None)
        return GroovePass(name, part.end_names[0 if part.kind is PartKind.LEFT else 1])

    def _bottoms(self) -> None:
        if checks := bottom_checks(self.given.parts):
            self._add(phrase("Check the bottoms"), phrase("bench"), checks, self.given.rates.saw_setting)
        if larger := trim_work(self.given.parts):
            count = sum(len(each.parts) for each in larger)
            minutes = (
                TRIMMED_EDGES * count * self.given.rates.saw_cut + len(larger) * self.given.rates.saw_setting
            )
            self._add(phrase("Trim to size after the dry fit"), phrase("saw"), larger, minutes)

    def _banding(self) -> None:
        work = edging_work(self.given.parts)
        if work:
            metres = sum(item.length for item in work) / 1000
            self._add(
                phrase("Apply edging to the visible edges"),
                phrase("bench"),
                work,
                metres / self.given.rates.banding_m_per_min,
            )

    def _backs(self) -> None:
        rates = self.given.rates
        notches, holes = notch_work(self.given.parts), hook_work(self.given.parts)
        if notches:
            count = sum(len(each.parts) * len(each.notches) for each in notches)
            self._add(phrase("Notch the backs"), phrase("saw or band saw"), notches, count * rates.back_notch)
        if holes:
            count = sum(len(each.parts) * len(each.holes) for each in holes)
            self._add(phrase("Bore the backs"), phrase("drill"), holes, count * rates.pull_hole)

    def _bore(self) -> None:
        if scoops := scoop_work(self.given.parts):
            count = sum(len(each.parts) for each in scoops)
            self._add(phrase("Cut the scoops"), phrase("bench"), scoops, count * self.given.rates.scoop)
        if work := pull_work(self.given.drawers, self.given.pull_holes):
            self._add(
                phrase("Drill the holes for pulls"),
                phrase("drill"),
                work,
                len(work) * self.given.rates.pull_hole,
            )

    def _make_joints(self, *, on_bands: bool) -> None:
        """What corners need that no cutter makes."""
        given = self.given
        steps = (
            steps_on_bands(given.drawers, given.blanks, self.bands, given.rates, given.learnt_joints)
            if on_bands
            else steps_on_parts(given.drawers, given.rates, given.learnt_joints)
        )
        for step in steps:
            self._add(step.title, step.machine, step.work, step.minutes)

    def _glue(self) -> None:
        if not self.given.drawers:
            return
        joints: dict[str, list[AssembledDrawer]] = {}
        for drawer in self.given.drawers:
            joints.setdefault(drawer.box.joint, []).append(drawer)
        self._add(
            plural("Glue up {count} drawer", "Glue up {count} drawers", len(self.given.drawers)),
            phrase("bench"),
            [
                GlueUp(
                    tuple(drawer.box.name for drawer in drawers),
                    frozenset(drawer.box.bottom.style for drawer in drawers if drawer.box.bottom is not None),
                    joint,
                    screw_slots(drawers),
                )
                for joint, drawers in joints.items()
            ],
            len(self.given.drawers) * self.given.rates.glue_up,
        )

    def _hang_rails(self) -> None:
        if work := rail_work(drawer.box for drawer in self.given.drawers):
            count = RAILS_IN_A_DRAWER * sum(len(each.drawers) for each in work)
            self._add(
                phrase("Fix the rails for folders"), phrase("bench"), work, count * self.given.rates.rail
            )

    def _fit(self) -> None:
        fronts = front_work(self.given.drawers)
        work: list[Work] = [
            FitRunner(line.drawer, line.height, line.above_carcase) for line in self.given.runner_lines
        ]
        work += fronts
        work += [
            FixFalseFront(PartName.of(front.part), front.x, front.z) for front in self.given.false_fronts
        ]
        if work:
            self._add(
                phrase("Fit runners, fronts and pulls"),
                phrase("carcase"),
                work,
                len(self.given.runner_lines) * self.given.rates.runners
                + (sum(len(each.parts) for each in fronts) + len(self.given.false_fronts))
                * self.given.rates.applied_front,
            )
