"""The cutters of a job file: the only one, or several by name, and which of them cuts a drawer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from drawerwright.basics.phrases import phrase
from drawerwright.job.file import model
from drawerwright.job.file.cutter_places import ONLY, SEVERAL
from drawerwright.job.file.cutters import STAND_IN, cutter_of
from drawerwright.job.file.ids import check_ids
from drawerwright.job.file.reading import Builder
from drawerwright.job.file.settled import settled_of
from drawerwright.job.job import JobCutter
from drawerwright.joints.bit_heights import BitHeights
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.readings import FitRange
from drawerwright.joints.table import RouterTable
from drawerwright.run.fence_plans import FenceRoutine, FenceWishes


class CutterMaker:
    """Makes the cutters of a file; every fault goes to the builder of that file.

    `names` are all that the file has, faulty or not; `made` are those that could be made.
    """

    def __init__(self, builder: Builder, entries: model.JobFile) -> None:
        self._builder = builder
        self._entries = entries
        whole = builder.document.whole
        if ONLY in whole and SEVERAL in whole:
            builder.fault(
                (SEVERAL,),
                phrase(
                    "is given as well as 'cutter': a job has one or the other. Move that "
                    "cutter here, under its name, and take 'cutter' out"
                ),
            )
        elif not whole.get(ONLY) and SEVERAL not in whole and not _needs_none(entries):
            builder.fault((ONLY,), phrase("is missing: give one cutter, or several by name under 'cutters'"))
        several = whole.get(SEVERAL)
        self.names: tuple[str, ...] = tuple(map(str, several)) if isinstance(several, dict) else ()
        if not self.names and entries.cutter is not None:
            self.names = (entries.cutter.name,)
        self.made: dict[str, Cutter] = {}
        folder = None if builder.document.file is None else Path(builder.document.file).parent
        for name, place, entry in self._places():
            found = cutter_of(
                builder, entry, name, *place, folder=folder, through=thickest_stock(entries, name)
            )
            if found is not None:
                self.made[name] = found
        check_ids(builder, SEVERAL, entries.cutters)
        self._check_choices()

    def _places(self) -> Iterator[tuple[str, tuple[str, ...], model.CutterMeasures]]:
        """Each cutter's name, where it stands, and what is said of it."""
        if self._entries.cutter is not None and not self._entries.cutters:
            yield self._entries.cutter.name, (ONLY,), self._entries.cutter
        for name, entry in self._entries.cutters.items():
            yield name, (SEVERAL, name), entry

    def _check_choices(self) -> None:
        job = self._entries
        choices = {("fences",): job.fences} | {
            (SEVERAL, name, "fences"): entry.fences for name, entry in job.cutters.items()
        }
        for place, entry in choices.items():
            if entry.plan is not None and entry.positions:
                self._builder.fault(
                    (*place, "positions"),
                    phrase("are given as well as a plan: give one or the other"),
                )
        if job.cutters and job.learnt is not None:
            self._builder.fault(
                ("learnt",), phrase("belongs to one cutter: write it under that cutter's name in 'cutters'")
            )

    def named(self, name: str | None, *location: str | int) -> Cutter:
        """The cutter that a bank or box means by the entry at `location`; one that only stands in where it cannot be
        told."""
        known = ", ".join(self.names)
        if name is None and len(self.names) > 1:
            self._builder.fault(
                location,
                phrase(
                    "is missing: the job has several cutters, so name the one for these corners: {known}",
                    known=known,
                ),
            )
        elif name is not None and self.names and name not in self.names:
            self._builder.fault(
                location, phrase("there is no cutter {name!r}; the file has {known}", name=name, known=known)
            )
        wanted = name if name is not None else next(iter(self.names), None)
        return STAND_IN if wanted is None else self.made.get(wanted, STAND_IN)

    def job_cutters(self, table: RouterTable, fit: FitRange) -> tuple[JobCutter, ...]:
        """All cutters of a file without faults, each with the entries about its use.

        Args:
            table: as the file describes it.
            fit: what counts as a fit.
        """
        return tuple(self._used(*place, table, fit) for place in self._places())

    def _used(
        self,
        name: str,
        place: tuple[str, ...],
        entry: model.CutterMeasures,
        table: RouterTable,
        fit: FitRange,
    ) -> JobCutter:
        job, cutter = self._entries, self.made[name]
        heights, fences, learnt = job.bit_heights, fence_wishes(job.fences, job.fences.flushness), job.learnt
        if isinstance(entry, model.NamedCutterEntry):
            heights, learnt = entry.bit_heights or heights, entry.learnt
            if entry.fences.plan is not None or entry.fences.positions:
                fences = fence_wishes(entry.fences, job.fences.flushness)
        settled = settled_of(learnt, cutter, table)
        return JobCutter(
            cutter,
            place,
            BitHeights(fit, replace(table, settled=settled), heights),
            fences,
            has_stale_lessons=learnt is not None and settled is None,
        )


def fence_wishes(entry: model.FenceChoiceEntry, flushness: float) -> FenceWishes:
    """How an entry wants fence positions chosen; `flushness` is the job's (mm)."""
    plan = FenceRoutine.GIVEN if entry.positions else FenceRoutine(entry.plan or FenceRoutine.FEWEST)
    return FenceWishes(plan, flushness, entry.positions)


def thickest_stock(entries: model.JobFile, cutter: str) -> float | None:
    """Nominal thickness of the thickest stock of the boxes that a cutter is for (mm); None where there are none."""
    rows: Iterable[model.BankEntry | model.BoxEntry] = (*entries.banks, *entries.boxes)
    boxes = [row.box for row in rows if row.cutter in (None, cutter)]
    boxes += [bank.box for bank in entries.banks if any(own.cutter == cutter for own in bank.single_drawers)]
    used = {name for box in boxes for name in box.model_dump().values()}
    return max((entry.nominal for name, entry in entries.stock.items() if name in used), default=None)


def _needs_none(entries: model.JobFile) -> bool:
    """Whether every bank and box has a joint that no cutter makes, and no single drawer has a cutter."""
    joints = [bank.joint for bank in entries.banks] + [box.joint for box in entries.boxes]
    singles = [own for bank in entries.banks for own in bank.single_drawers]
    return bool(joints) and None not in joints and all(own.cutter is None for own in singles)
