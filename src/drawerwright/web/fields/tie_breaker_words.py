"""The order of later aims of a sheet plan in its field: shown and typed in the reader's words."""

from __future__ import annotations

import re

from drawerwright.web.reader.preferences import Preferences

BETWEEN = re.compile(r"[;,]")


def shown_aims(aims: list[object], reader: Preferences) -> str:
    """An order of aims as its field shows it; what is no aim stays as it is."""
    from drawerwright.job.file.aim_words import AIM_WORDS

    words: dict[str, str] = {aim: reader.say(text) for aim, text in AIM_WORDS.items()}
    return "; ".join(words.get(str(aim), str(aim)) for aim in aims)


def stored_aims(typed: str, reader: Preferences) -> list[str]:
    """The order of aims that somebody means who writes them, or enough of their words, or their names."""
    from drawerwright.job.file.aim_words import aim_meant

    return [aim_meant(bit.strip(), reader.say) for bit in BETWEEN.split(typed) if bit.strip()]
