"""Single drawers of a bank that carry something else than the rest, or have another joint."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.duty import Duty
from drawerwright.job.file.duties import DutyMaker
from drawerwright.job.file.reading import Builder
from drawerwright.job.file.single_drawers_model import SingleDrawerEntry
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import ChosenJoint


@dataclass(frozen=True, slots=True)
class OwnWays:
    """What makes the corners of a drawer, and what it has to carry."""

    made_by: Cutter | ChosenJoint
    duty: Duty


class SingleDrawerMaker:
    """The ways of single drawers; every fault goes to the builder of the file."""

    def __init__(
        self,
        builder: Builder,
        duties: DutyMaker,
        made_by: Callable[..., Cutter | ChosenJoint],
    ) -> None:
        """`made_by` finds what an entry with a cutter or a joint means, told where that stands."""
        self._builder = builder
        self._duties = duties
        self._made_by = made_by

    def ways(
        self, entries: tuple[SingleDrawerEntry, ...], bank: Bank, rest: OwnWays, *where: str | int
    ) -> Mapping[str, OwnWays]:
        """By its name, each drawer of a bank that differs from the rest.

        Args:
            entries: what the file says of them.
            bank: with its fronts.
            rest: the ways of its other drawers.
            where: the list stands.
        """
        numbers = bank.drawer_numbers
        found: dict[str, OwnWays] = {}
        for place, entry in enumerate(entries):
            at, name = (*where, place), bank.front_name(entry.number)
            if entry.number not in numbers:
                self._builder.fault(
                    (*at, "number"),
                    phrase(
                        "is {number}, but the bank has no such drawer: it has {numbers}",
                        number=entry.number,
                        numbers=", ".join(map(str, numbers)) or phrase("none"),
                    ),
                )
            elif name in found:
                self._builder.fault(
                    (*at, "number"),
                    phrase(
                        "is {number} a second time: put everything about a drawer in one row",
                        number=entry.number,
                    ),
                )
            found[name] = OwnWays(
                rest.made_by if entry.joint is None and entry.cutter is None else self._made_by(entry, *at),
                self._duties.own_duty(entry, rest.duty, *at),
            )
        return found
