"""The scraps of a test cut: of which stock each is, and which is kept for a set-up that makes the other half."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.parts import Role
from drawerwright.run.setups import SetUp


@dataclass(frozen=True, slots=True)
class Scraps:
    """What is cut for the test cut of a set-up.

    `stocks`: of each way of holding a piece, the stocks that are cut so. `kept_for`: the later set-ups that make the
    other half of a corner. `mated_with`: the earlier ones that made it.
    """

    stocks: tuple[tuple[Role, tuple[str, ...]], ...] = ()
    kept_for: tuple[int, ...] = ()
    mated_with: tuple[int, ...] = ()

    @classmethod
    def of(cls, setup: SetUp, setups: Iterable[SetUp]) -> Scraps:
        """The scraps of one of these set-ups."""
        stocks = {
            role: tuple(dict.fromkeys(cut.family.stock.name for cut in setup.passes if cut.role is role))
            for role in Role
        }
        halves = [
            other.number
            for key, setting in setup.corners.items()
            if len(setup.roles(setting)) == 1
            for other in setups
            if other.number != setup.number and key in other.corners
        ]
        return cls(
            tuple((role, names) for role, names in stocks.items() if names),
            tuple(sorted({number for number in halves if number > setup.number})),
            tuple(sorted({number for number in halves if number < setup.number})),
        )

    @property
    def words(self) -> tuple[Phrase, ...]:
        """What to take, what to keep and what to try it with."""
        if not self.stocks:
            return ()
        taken = joined(
            [
                phrase("{piece} from {stocks}", piece=role.words, stocks=names_in_row(names))
                for role, names in self.stocks
            ],
            "; ",
        )
        lines = [phrase("Scraps, wide enough to hold: {scraps}.", scraps=taken)]
        if self.kept_for:
            lines.append(phrase("Keep the scrap for set-up {numbers}.", numbers=_row(self.kept_for)))
        if self.mated_with:
            lines.append(
                phrase("Try it with the scrap kept from set-up {numbers}.", numbers=_row(self.mated_with))
            )
        return tuple(lines)


def _row(numbers: tuple[int, ...]) -> str:
    return ", ".join(map(str, numbers))
