"""Where the entries of a job file have its cutters: the only one, or several by name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import members_at, value_at
from drawerwright.joints.cutter import UNNAMED

ONLY, SEVERAL = "cutter", "cutters"
OWN_ENTRIES = ("id", "bit_heights", "fences", "learnt")
"""What a cutter has in its job and nowhere else."""


@dataclass(frozen=True, slots=True)
class CutterPlace:
    """A cutter in the text: what it is called, and where it stands."""

    name: str
    path: tuple[str, ...]

    @property
    def is_one_of_several(self) -> bool:
        """Whether it stands under its name."""
        return len(self.path) > 1

    @property
    def sent(self) -> str:
        """What a form calls it: nothing where it is the only one, whose usual name differs with the language."""
        return self.name if self.is_one_of_several else ""


def cutter_places(data: Any) -> tuple[CutterPlace, ...]:
    """The cutters of a job file's entries, in their order; the only one even where nothing is said of it yet."""
    if members := members_at(data, (SEVERAL,)):
        return tuple(CutterPlace(str(name), (SEVERAL, str(name))) for name in members)
    return (CutterPlace(str(value_at(data, (ONLY, "name")) or UNNAMED), (ONLY,)),)


def cutter_place(data: Any, name: str) -> CutterPlace:
    """The cutter of this name; the only one where no name is given.

    Raises:
        InvalidValueError: there is none.
    """
    places = cutter_places(data)
    if not name and len(places) == 1:
        return places[0]
    found = next((place for place in places if place.name == name), None)
    if found is None:
        raise InvalidValueError(phrase("there is no cutter {name!r} any more", name=name))
    return found
