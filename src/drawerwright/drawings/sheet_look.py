"""How a sheet is set on its page."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm

LARGE: Mm = 2.6
READABLE: Mm = 3.2
"""Lettering on paper that can be read at arm's length: 9 points."""


@dataclass(frozen=True, slots=True)
class SheetLook:
    """How a sheet is set on its page.

    `room` is the paper that it may take (mm), without its key where it is not titled; None is a page that lies or
    stands as the sheet does. Names of parts smaller than `least_lettering` (mm) are a letter, with the words below
    the sheet in `key_size`; numbers of cuts have `number_size`, names of bands `band_size`. `is_titled`: its name,
    scale and grain stand above it; `is_dimensioned`: its sizes stand around it; `rips_numbered`: the cuts that part
    bands have their numbers too; `only_at_hand`: no cuts but those made now have theirs, where any is made;
    `faces_marked`: bands say which face is up, and which end is the back; `is_standing`: its length is upright.
    """

    room: tuple[Mm, Mm] | None = None
    least_lettering: Mm = READABLE
    number_size: Mm = LARGE
    band_size: Mm = 1.9
    key_size: Mm = 2.2
    is_titled: bool = True
    is_dimensioned: bool = True
    rips_numbered: bool = True
    only_at_hand: bool = False
    faces_marked: bool = True
    is_standing: bool = False

    def shows_edges(self, at_hand: Collection[int]) -> bool:
        """Whether bands show which of their edges are routed: not where they would outshine a cut that is made now."""
        return self.faces_marked or not at_hand
