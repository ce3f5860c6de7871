"""What a job file says its drawers have to carry, and where they stand."""

from __future__ import annotations

from collections.abc import Collection

from drawerwright.basics.phrases import phrase
from drawerwright.drawers.duty import Duty
from drawerwright.job.file import climate_model, model
from drawerwright.job.file.reading import Builder
from drawerwright.job.file.single_drawers_model import SingleDrawerEntry
from drawerwright.wood.moisture import CLIMATES, Air, Climate


class DutyMaker:
    """The duties of a file's drawers; every fault goes to its builder."""

    def __init__(self, builder: Builder, entries: model.JobFile, names: Collection[str]) -> None:
        """`names` are all the climates that the file has, faulty or not."""
        self._builder = builder
        self._use = entries.use
        self._climates = dict(CLIMATES)
        for name, entry in entries.climates.items():
            with builder.at("climates", name):
                self._climates[name] = Climate(name, _air(entry.dry), _air(entry.damp))
        self._named = {*self._climates, *names}
        self._climate = self._climate_of(entries.climate, "climate")

    def duty(self, entry: model.BankEntry | model.BoxEntry, *where: str | int) -> Duty:
        """What an entry says of its drawers, and the job of all of them."""
        self._check_load(entry, *where)
        climate = self._climate_of(entry.climate, *where, "climate")
        return Duty(entry.load, entry.contents, entry.use or self._use, climate or self._climate)

    def own_duty(self, entry: SingleDrawerEntry, rest: Duty, *where: str | int) -> Duty:
        """What an entry says of one drawer; what it leaves out is as for the rest of its bank."""
        self._check_load(entry, *where)
        says_load = entry.load is not None or entry.contents is not None
        load, contents = (entry.load, entry.contents) if says_load else (rest.load, rest.contents)
        return Duty(load, contents, entry.use or rest.use, rest.stated_climate)

    def _check_load(
        self, entry: model.BankEntry | model.BoxEntry | SingleDrawerEntry, *where: str | int
    ) -> None:
        if entry.load is not None and entry.contents is not None:
            self._builder.fault(
                (*where, "contents"),
                phrase(
                    "is given as well as 'load': what fills a drawer says what it weighs, so give one of them"
                ),
            )

    def _climate_of(self, name: str | None, *where: str | int) -> Climate | None:
        if name is not None and name not in self._named:
            self._builder.fault(
                where,
                phrase(
                    "there is no climate {name!r}; known are {names}",
                    name=name,
                    names=", ".join(sorted(self._named)),
                ),
            )
        return None if name is None else self._climates.get(name)


def _air(entry: climate_model.AirEntry) -> Air:
    return Air(entry.temperature, entry.humidity)
