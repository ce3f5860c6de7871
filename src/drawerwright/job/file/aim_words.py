"""What ranks sheet plans that cost the same, in words: the entries of `later_aims`, as their figures are headed."""

from __future__ import annotations

from collections.abc import Callable

from drawerwright.basics.phrases import phrase
from drawerwright.sheets.problem import LaterAim

AIM_WORDS: dict[LaterAim, str] = {
    "offcuts": phrase("Offcuts used"),
    "routing": phrase("Routed length"),
    "fences": phrase("Settings of fence and stop"),
    "largest-offcut": phrase("Largest piece left"),
}
LEAST_LETTERS = 4
"""A piece of an aim's words stands for it when it has so many letters and belongs to no other."""


def aim_meant(typed: str, say: Callable[[str], str]) -> str:
    """The aim that somebody means who writes its name, or enough of its words as `say` has them; else what is typed."""
    wanted = typed.casefold()
    meant: list[str] = [aim for aim in AIM_WORDS if wanted == aim]
    if not meant and len(wanted) >= LEAST_LETTERS:
        meant = [aim for aim, text in AIM_WORDS.items() if wanted in say(text).casefold()]
    return meant[0] if len(meant) == 1 else typed
