"""The later aims of a sheet plan in the reader's words: as their figures are headed on the page of the sheets."""

from __future__ import annotations

import re

from drawerwright.basics.phrases import phrase
from drawerwright.sheets.problem import LATER_AIMS, LaterAim
from drawerwright.web.reader.preferences import Preferences

AIM_WORDS: dict[LaterAim, str] = {
    "offcuts": phrase("Offcuts used"),
    "routing": phrase("Routed length"),
    "fences": phrase("Settings of the saw's fence"),
    "largest-offcut": phrase("Largest piece left"),
}
BETWEEN = re.compile(r"[;,]")
LEAST_LETTERS = 4
"""A piece of an aim's words stands for it when it has so many letters and belongs to no other."""


def shown_aims(aims: list[object], reader: Preferences) -> str:
    """An order of aims as its field shows it; what is no aim stays as it is."""
    words = {aim: reader.say(text) for aim, text in AIM_WORDS.items()}
    return "; ".join(words.get(aim, str(aim)) for aim in aims)  # type: ignore[call-overload]


def stored_aims(typed: str, reader: Preferences) -> list[str]:
    """The order of aims that somebody means who writes them, or enough of their words, or their names."""
    return [_aim(bit.strip(), reader) for bit in BETWEEN.split(typed) if bit.strip()]


def _aim(bit: str, reader: Preferences) -> str:
    wanted = bit.casefold()
    meant: list[str] = [aim for aim in LATER_AIMS if wanted == aim]
    if not meant and len(wanted) >= LEAST_LETTERS:
        meant = [aim for aim, text in AIM_WORDS.items() if wanted in reader.say(text).casefold()]
    return meant[0] if len(meant) == 1 else bit
