"""What a job file says of single drawers of a bank: where they differ from the rest."""

from __future__ import annotations

from pydantic import Field

from drawerwright.drawers.duty import Contents, Use
from drawerwright.job.file.entry_types import Entries, Load, PlainJointChoice

SINGLE_DRAWERS = "single_drawers"
"""The entry of a bank that has them."""


class SingleDrawerEntry(Entries):
    """One drawer; what is left out is as for the bank."""

    number: int = Field(ge=1, le=60)
    """Its number from the top, the one in its name."""
    load: Load | None = None
    """What lies in it."""
    contents: Contents | None = None
    """Instead of `load`: what fills it."""
    use: Use | None = None
    """How it is used."""
    cutter: str | None = None
    """The cutter for its corners."""
    joint: PlainJointChoice | None = None
    """Instead of a cutter: the joint of its corners, alone or with its measures."""
