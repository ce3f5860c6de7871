"""The words that options of commands take: for completion and for lists of what there is."""

from __future__ import annotations

from collections.abc import Iterable

from drawerwright.job.moving_wood import PLYWOODS
from drawerwright.joints.mating import self_mating_names
from drawerwright.joints.registry import kind_names
from drawerwright.joints.setting import FenceRule
from drawerwright.strength.plate import Supports
from drawerwright.wood.moisture import CLIMATES
from drawerwright.wood.movement import Sawn
from drawerwright.wood.thickness import Panel


def words_of(command: str, option: str) -> tuple[str, ...]:
    """What an option of a command takes that is told by name; nothing where it takes anything else.

    >>> words_of("bottom", "--supports")
    ('three', 'four')
    >>> words_of("rack", "--cut")  # takes a plan
    ()
    """
    return tuple(map(str, _words(command, option)))


def _words(command: str, option: str) -> Iterable[str]:
    match command, option:
        case "settings", "--kind":
            return kind_names()
        case _, "--kind":
            return self_mating_names()
        case "movement", "--panel":
            return PLYWOODS
        case _, "--panel":
            return Panel
        case (("movement" | "bottom"), "--cut"):
            return Sawn
        case _, "--supports":
            return Supports
        case _, "--climate":
            return CLIMATES
        case _, "--fence":
            return FenceRule
    return ()
