"""Lengths as the tables and cards of the packet write them."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import LengthStyle, Mm


@dataclass(frozen=True, slots=True)
class PaperLengths:
    """Writes lengths (mm) for one reader of the papers."""

    style: LengthStyle

    def fine(self, length: Mm) -> str:
        """A machine setting or a reading."""
        return self.style.show(length, fine=True)

    def bare(self, length: Mm) -> str:
        """The same for a column whose head names the unit."""
        return self.style.show(length, fine=True, with_unit=False)

    def coarse(self, length: Mm) -> str:
        """A saw size."""
        return self.style.show(length)

    def bought(self, length: Mm) -> str:
        """The size of a tool."""
        return str(self.style.bought(length))

    def bare_coarse(self, length: Mm) -> str:
        """The same for a column whose head names the unit."""
        return self.style.show(length, with_unit=False)

    def signed(self, length: Mm) -> str:
        """A change of size, with its sign."""
        sign = "+" if length > 0 else "−" if length < 0 else "±"
        return f"{sign}{self.style.show(abs(length))}"

    @property
    def unit(self) -> str:
        """The unit for the head of a column."""
        return self.style.typed_unit
