"""What a job file says of runners: a sheet by its name at the top of a job, or the same below a bank."""

from __future__ import annotations

from typing import Annotated, Any, TypeAlias

from pydantic import Discriminator, Field, Tag

from drawerwright.drawers.runners import RunnerKind
from drawerwright.job.file.entry_types import Clearance, Entries, Load, PositiveLength, Price


class RunnerLengthEntry(Entries):
    """One length of a runner."""

    length: PositiveLength
    """Nominal length."""
    load: Load | None = None
    """What a pair of this length carries, from its sheet."""
    price: Price | None = None
    """Price of a pair of this length."""


class NotchEntry(Entries):
    width: PositiveLength
    """From each side's inner face."""
    height: PositiveLength
    """Above the sides' lower edges."""


class HookBoreEntry(Entries):
    diameter: PositiveLength
    """Diameter of the drill."""
    beside: PositiveLength
    """From each side's inner face to the middle of the hole."""
    above: PositiveLength
    """Above the sides' lower edges."""
    depth: PositiveLength | None = None
    """Depth from behind; by default through the back."""


class LockingEntry(Entries):
    width: PositiveLength
    """From each side's inner face."""
    depth: PositiveLength
    """Back from the front's inner face."""
    height: PositiveLength
    """Above the sides' lower edges."""


class RunnerEntry(Entries):
    """A sheet of runners: a kind, and the figures that differ from its standing table."""

    kind: RunnerKind = RunnerKind.NONE
    """How the drawers are carried."""
    side: Clearance | None = None
    """Space on each side between box and opening."""
    top: Clearance | None = None
    """Least space above the sides."""
    bottom: Clearance | None = None
    """Least space below the sides and anything that hangs under them."""
    back: Clearance | None = None
    """Space behind the box."""
    line: Clearance | None = None
    """Runner line above the sides' lower edges."""
    length: PositiveLength | None = None
    """Nominal length, which is also the depth of the box, even behind an inset front. Left out, the longest of
    `lengths` that fits is taken; without those, the box fills the opening.
    """
    lengths: tuple[RunnerLengthEntry, ...] = Field(default=(), max_length=40)
    """The lengths it comes in."""
    price: Price | None = None
    """Price of a pair whose length has none of its own."""
    inside_deduction: Clearance | None = None
    """Opening width less the box's inside width, if the maker fixes that instead of `side`."""
    bottom_recess: Clearance | None = None
    """How far the bottom must be above the sides' lower edges."""
    thickest_side: PositiveLength | None = None
    """Thickest side the runner takes."""
    play: Clearance | None = None
    """How much wider in one place an opening may be before its runners need shims."""
    notch: NotchEntry | None = None
    """Notches in the back, where the runner passes through it."""
    bore: HookBoreEntry | None = None
    """Holes in the back for the hooks at the runner's ends."""
    locking: LockingEntry | None = None
    """The room that the locking devices take in the front corners, under the bottom."""


def _name_or_sheet(value: Any) -> str:
    return "name" if isinstance(value, str) else "sheet"


BankRunner: TypeAlias = Annotated[
    Annotated[RunnerEntry, Tag("sheet")] | Annotated[str, Tag("name")], Discriminator(_name_or_sheet)
]
"""The name of a sheet of runners, or what would stand on one."""
