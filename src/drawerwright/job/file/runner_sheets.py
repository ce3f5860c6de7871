"""Runners of a job file: sheets by name, and what a bank says of its own."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from drawerwright.basics.lengths import Unit
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.runner_cuts import HookBore, Locking, RearNotch
from drawerwright.drawers.runners import Runner, RunnerLength, standing_runner
from drawerwright.job.file.reading import Builder
from drawerwright.job.file.runner_model import RunnerEntry


class RunnerMaker:
    """The runners of a file; every fault goes to its builder."""

    def __init__(
        self, builder: Builder, sheets: Mapping[str, RunnerEntry], names: Collection[str], unit: Unit
    ) -> None:
        """`sheets` could be read; `names` are all that the file has, faulty or not. `unit` says whose usual figures
        stand in for what is left out."""
        self._builder = builder
        self._sheets = sheets
        self._names = names
        self._unit = unit

    def runner(self, entry: RunnerEntry | str, *where: str | int) -> Runner:
        """The runner that a bank names or describes; one that cannot be had is a fault, and the plainest stands in."""
        if isinstance(entry, RunnerEntry):
            return runner_of(entry, self._unit)
        if entry in self._sheets:
            return runner_of(self._sheets[entry], self._unit, entry)
        if entry not in self._names:
            known = ", ".join(self._names) or phrase("none")
            self._builder.fault(
                where,
                phrase(
                    "there is no sheet of runners {name!r} under 'runners'; the file has {known}",
                    name=entry,
                    known=known,
                ),
            )
        return runner_of(RunnerEntry(), self._unit)


def runner_of(entry: RunnerEntry, unit: Unit = "mm", name: str = "") -> Runner:
    """The standing table of its kind with the figures of a sheet over it."""
    standing = standing_runner(entry.kind, unit)
    clearances = {field: value for field in standing.assumed if (value := getattr(entry, field)) is not None}
    if "side" in clearances and "inside_deduction" not in clearances:
        clearances["inside_deduction"] = None
    return replace(
        standing,
        **clearances,
        name=name,
        length=entry.length,
        lengths=tuple(RunnerLength(each.length, each.load, each.price) for each in entry.lengths),
        notch=RearNotch(**entry.notch.model_dump()) if entry.notch else None,
        bore=HookBore(**entry.bore.model_dump()) if entry.bore else None,
        locking=Locking(**entry.locking.model_dump()) if entry.locking else None,
        price=entry.price,
        assumed=standing.assumed - frozenset(clearances),
    )
