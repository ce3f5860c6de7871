"""Rails for folders out of their entry: in which drawers they hang, and what is usual of them."""

from __future__ import annotations

from drawerwright.basics.lengths import Unit
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.hangers import USUAL_RAILS, Hangers
from drawerwright.job.file.hangers_model import BankHangersEntry, HangersEntry
from drawerwright.job.file.reading import Builder


class HangerMaker:
    """Makes rails; every fault goes to the builder."""

    def __init__(self, builder: Builder, unit: Unit) -> None:
        """`unit`: in which the job is shown, which says what is usual."""
        self._builder = builder
        self._usual = USUAL_RAILS["mm" if unit == "mm" else "in"]

    def hangers(self, entry: HangersEntry | None) -> Hangers | None:
        """The rails of a drawer that has some."""
        if entry is None:
            return None
        usual = self._usual
        return Hangers(
            entry.span,
            usual.rail if entry.rail is None else entry.rail,
            usual.below if entry.below is None else entry.below,
            usual.drop if entry.drop is None else entry.drop,
            entry.direction == "across",
        )

    def in_bank(self, entry: BankHangersEntry | None, bank: Bank, *where: str | int) -> dict[str, Hangers]:
        """The rails of each drawer of a bank that has some, by its name."""
        found = self.hangers(entry)
        if entry is None or found is None:
            return {}
        numbers = bank.drawer_numbers
        for place, number in enumerate(entry.drawers):
            if number not in numbers:
                self._builder.fault(
                    (*where, "drawers", place),
                    phrase(
                        "is {number}, but the bank has no such drawer: it has {numbers}",
                        number=number,
                        numbers=", ".join(map(str, numbers)) or phrase("none"),
                    ),
                )
        return {bank.front_name(number): found for number in entry.drawers or numbers if number in numbers}
