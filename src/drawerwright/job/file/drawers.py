"""The drawers of a job file: boxes of given sizes, and banks whose openings become boxes."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import Bank, DrawerPlace, FrontStyle, Pull
from drawerwright.drawers.bottom import USUAL_GROOVE_HEIGHT, Bottom
from drawerwright.drawers.box import AppliedFront, Banding, DrawerBox
from drawerwright.drawers.front_panels import FalseFront
from drawerwright.drawers.hangers import Hangers
from drawerwright.drawers.runner_cuts import RearCuts
from drawerwright.drawers.runners import Runner
from drawerwright.job.file import model
from drawerwright.job.file.drawer_names import numbered_boxes
from drawerwright.job.file.duties import DutyMaker
from drawerwright.job.file.fronts_maker import FrontMaker, stated_overlay
from drawerwright.job.file.hanger_maker import HangerMaker
from drawerwright.job.file.job_cutters import CutterMaker
from drawerwright.job.file.opening_maker import OpeningMaker, part_of_copy
from drawerwright.job.file.openings_model import OpeningEntry
from drawerwright.job.file.reading import Builder
from drawerwright.job.file.runner_sheets import RunnerMaker
from drawerwright.job.file.single_drawers import OwnWays, SingleDrawerMaker
from drawerwright.job.file.single_drawers_model import SINGLE_DRAWERS, SingleDrawerEntry
from drawerwright.job.job import BankOfBoxes
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import ChosenJoint
from drawerwright.wood.stock import Stock


class DrawerMaker:
    """Makes boxes from the entries of a file; every fault goes to the builder of that file."""

    def __init__(
        self,
        builder: Builder,
        stock: Mapping[str, Stock],
        stock_names: Collection[str],
        cutters: CutterMaker,
        runners: RunnerMaker,
        duties: DutyMaker,
        openings: OpeningMaker,
        hangers: HangerMaker,
    ) -> None:
        """`stock` could be built; `stock_names` are all that the file has, faulty or not."""
        self._builder = builder
        self._stock = stock
        self._stock_names = stock_names
        self._cutters = cutters
        self._runners = runners
        self._duties = duties
        self._openings = openings
        self._hangers = hangers
        self._fronts = FrontMaker(builder)
        self._singles = SingleDrawerMaker(builder, duties, self._made_by)

    def _named_stock(self, name: str | None, *location: str | int) -> Stock | None:
        if name is None:
            self._builder.fault(location, phrase("is missing: name the stock, or give one for 'all'"))
        elif name not in self._stock_names:
            known = ", ".join(self._stock_names) or phrase("none")
            self._builder.fault(
                location, phrase("there is no stock {name!r}; the file has {known}", name=name, known=known)
            )
        return self._stock.get(name) if name else None

    def _made_by(
        self, entry: model.BankEntry | model.BoxEntry | SingleDrawerEntry, *where: str | int
    ) -> Cutter | ChosenJoint:
        """What makes the corners of a bank or box."""
        if entry.joint is None:
            cutter = self._cutters.named(entry.cutter, *where, "cutter")
            if not cutter.mating.makes_corners:
                self._builder.fault(
                    (*where, "cutter"),
                    phrase(
                        "names a cutter of kind {kind}, which cuts no corners: name another",
                        kind=cutter.kind,
                    ),
                )
            return cutter
        if entry.cutter is not None:
            self._builder.fault(
                (*where, "joint"),
                phrase("is given as well as 'cutter': name a cutter, or a joint that needs none, not both"),
            )
        return entry.joint

    def _materials(self, entry: model.MaterialsEntry, *where: str | int) -> tuple[Stock, Stock, Stock] | None:
        found = []
        for piece in ("front", "sides", "back"):
            own = getattr(entry, piece)
            key = piece if own is not None or entry.all is None else "all"
            found.append(self._named_stock(own if own is not None else entry.all, *where, "box", key))
        front, sides, back = found
        return (front, sides, back) if front and sides and back else None

    def _bottom(
        self, entry: model.BottomEntry | None, *where: str | int, runner: Runner | None = None
    ) -> Bottom | None:
        if entry is None:
            return None
        stock = self._named_stock(entry.stock, *where, "bottom", "stock")
        if stock is None:
            return None
        return Bottom(
            entry.style,
            stock,
            groove_depth=entry.groove_depth,
            groove_height=_groove_height(entry, runner),
            groove_play=entry.groove_play,
            clearance=entry.clearance,
            oversize=entry.oversize,
        )

    def boxes(
        self, index: int, entry: model.BoxEntry, known: Mapping[str, DrawerBox | None]
    ) -> list[DrawerBox]:
        """The boxes that an entry of `boxes` asks for, none where it is faulty. `known` are the drawers before it, None
        where one is faulty."""
        where = ("boxes", index)
        made_by = self._made_by(entry, *where)
        materials = self._materials(entry.box, *where)
        bottom = self._bottom(entry.bottom, *where)
        duty = self._duties.duty(entry, *where)
        boxes: list[DrawerBox] = []
        width, depth = self._outer(entry, known, *where)
        if materials is None or width is None or depth is None:
            return boxes
        front, sides, back = materials
        outer = {size: ("outer", size) for size in ("width", "depth")}
        with self._builder.at(*where, **outer):
            boxes += [
                DrawerBox(
                    name,
                    width,
                    depth,
                    entry.outer.height,
                    entry.front_height or entry.outer.height,
                    front,
                    sides,
                    back,
                    made_by,
                    bottom,
                    lip=entry.lip,
                    lip_right=entry.lip_right,
                    orientation=entry.orientation,
                    banding=_banding(entry.banding),
                    duty=duty,
                    inside=entry.inside or "",
                    hangers=self._hangers.hangers(entry.hangers),
                )
                for name in numbered_boxes(entry.name, entry.count)
            ]
        return boxes

    def _outer(
        self, entry: model.BoxEntry, known: Mapping[str, DrawerBox | None], *where: str | int
    ) -> tuple[Mm | None, Mm | None]:
        """Outer width and depth: as stated, or as they fill the drawer that it lies in."""
        drawer: DrawerBox | None = None
        if entry.inside is not None:
            if entry.inside not in known:
                self._builder.fault(
                    (*where, "inside"),
                    phrase(
                        "names no drawer that stands before it in the file: choose from {known}",
                        known=", ".join(known) or phrase("none"),
                    ),
                )
            drawer = known.get(entry.inside)
        sizes: list[Mm | None] = []
        for name in ("width", "depth"):
            stated: Mm | None = getattr(entry.outer, name)
            if stated is None and drawer is not None:
                inside = drawer.inside_width if name == "width" else drawer.inside_depth
                stated = inside - entry.tray_clearance
            elif stated is None and entry.inside is None:
                self._builder.fault((*where, "outer", name), phrase("is missing"))
            sizes.append(stated)
        width, depth = sizes
        return width, depth

    def bank(self, index: int, entry: model.BankEntry, copy: int, mark: str) -> BankOfBoxes | None:
        """A bank with its boxes, one of the copies (from 0) of an entry of `banks`; None where that is faulty."""
        where = ("banks", index)
        made_by = self._made_by(entry, *where)
        materials = self._materials(entry.box, *where)
        runner = self._runners.runner(entry.runner, *where, "runner")
        bottom = self._bottom(entry.bottom, *where, runner=runner)
        rest = OwnWays(made_by, self._duties.duty(entry, *where))
        applied: Stock | None = None
        is_applied = entry.fronts.style is FrontStyle.APPLIED
        if is_applied:
            applied = self._named_stock(entry.fronts.stock, *where, "fronts", "stock")
        elif entry.fronts.stock is not None:
            self._builder.fault(
                (*where, "fronts", "stock"),
                phrase(
                    "belongs to applied fronts; a front that is {style} is part of the box and uses its stock",
                    style=entry.fronts.style,
                ),
            )
        rule = self._fronts.height_rule(entry.fronts.heights, *where, "fronts", "heights")
        opening = self._openings.opening(part_of_copy(entry.opening, copy), *where, "opening")
        if rule is None or opening is None:
            return None
        shown = applied or (materials[0] if materials and not is_applied else None)
        bank = Bank(
            name=numbered_boxes(entry.name, entry.count)[copy],
            mark=mark,
            opening=opening,
            style=entry.fronts.style,
            heights=rule,
            reveal=entry.fronts.reveal,
            overlay=self._fronts.overlay(entry.fronts, opening, *where, "fronts", "overlay"),
            runner=runner,
            front_thickness=shown.thickness.value if shown else 0.0,
            side_thickness=materials[1].thickness.value if materials else 0.0,
            side_heights=self._fronts.side_heights(entry, rule, *where, "side_height"),
            below_sides=bottom.below_sides if bottom else 0.0,
            pull=Pull(**entry.fronts.pull.model_dump()) if entry.fronts.pull else None,
            scoop=self._fronts.scoop(entry.fronts, *where, "fronts", "scoop"),
            stated_overlay=stated_overlay(entry.fronts),
            false_fronts=self._fronts.false_numbers(entry, rule, *where),
        )
        singles = self._singles.ways(entry.single_drawers, bank, rest, *where, SINGLE_DRAWERS)
        rails = self._hangers.in_bank(entry.hangers, bank, *where, "hangers")
        if not self._goes_in(bank, *where) or materials is None or shown is None:
            return None
        boxes: list[DrawerBox] | None = None
        is_whole = isinstance(entry.opening, OpeningEntry)
        sizes = {size: ("opening", size) if is_whole else ("opening",) for size in ("width", "depth")}
        sizes["heights"] = ("fronts", "heights")
        with self._builder.at(*where, **sizes):
            boxes = [
                self._bank_box(
                    bank,
                    place,
                    entry,
                    materials,
                    singles.get(place.name, rest),
                    bottom,
                    applied,
                    rails.get(place.name),
                )
                for place in bank.places()
            ]
        match = self._fronts.match(entry.fronts, bank, *where, "fronts")
        if boxes is None:
            return None
        return BankOfBoxes(bank, tuple(boxes), match, index, tuple(_false_fronts(bank, entry, shown)))

    def _goes_in(self, bank: Bank, *where: str | int) -> bool:
        """Whether the fronts fill their field and the runners have room: known without the stock of the boxes, but for
        what fronts inside the opening take of its depth."""
        before = len(self._builder.told)
        with self._builder.at(*where, "fronts", "heights"):
            bank.front_places()
        if bank.front_thickness or not bank.is_inside:
            with self._builder.at(*where):
                _ = bank.runner_length
        return len(self._builder.told) == before

    @staticmethod
    def _bank_box(
        bank: Bank,
        place: DrawerPlace,
        entry: model.BankEntry,
        materials: tuple[Stock, Stock, Stock],
        ways: OwnWays,
        bottom: Bottom | None,
        applied: Stock | None,
        hangers: Hangers | None,
    ) -> DrawerBox:
        front, box = place.front, place.box
        shows = bank.style is not FrontStyle.APPLIED
        return DrawerBox(
            place.name,
            box.width,
            box.depth,
            box.height,
            front.height if shows else box.height,
            *materials,
            ways.made_by,
            bottom,
            lip=place.beside_box[0] if shows else 0.0,
            lip_right=place.beside_box[1] if shows else 0.0,
            orientation=entry.orientation,
            applied=AppliedFront(
                applied,
                front.width,
                front.height,
                entry.fronts.grain_upright,
                beside=place.beside_box[0],
                below=place.below_box,
                oversize=entry.fronts.oversize,
            )
            if applied is not None
            else None,
            banding=_banding(entry.banding),
            front_below=place.below_box if shows else 0.0,
            scoop=bank.scoop,
            rear=RearCuts(bank.runner.notch, bank.runner.bore),
            duty=ways.duty,
            hangers=hangers,
        )


def _false_fronts(bank: Bank, entry: model.BankEntry, stock: Stock) -> Iterator[FalseFront]:
    """The fronts without a drawer, of the stock that shows on the others."""
    for shown in bank.shown_fronts():
        if not shown.has_drawer:
            front = shown.front
            panel = AppliedFront(
                stock, front.width, front.height, entry.fronts.grain_upright, oversize=entry.fronts.oversize
            )
            yield FalseFront(shown.name, panel, _banding(entry.banding), front.x, front.z, bank.inner_face)


def _banding(entry: model.BandingEntry | None) -> Banding:
    return Banding() if entry is None else Banding(entry.thickness, entry.applied_front, entry.box_top)


def _groove_height(entry: model.BottomEntry, runner: Runner | None) -> Mm:
    """As stated; else the usual one, or as high as the runner wants the bottom, if that is higher."""
    if entry.groove_height is not None:
        return entry.groove_height
    recess = None if runner is None else runner.bottom_recess
    return max(USUAL_GROOVE_HEIGHT, recess or 0.0)
