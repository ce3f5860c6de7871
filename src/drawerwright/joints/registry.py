"""Every kind of joint by its name: those of `drawerwright.joints.kinds`, those of packages that are installed beside
this one, and those that a program registers.

A kind is loaded when somebody asks for it. Nothing but this module knows where one is kept.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from functools import cache
from importlib import import_module
from importlib.metadata import EntryPoint, entry_points
from typing import Protocol

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase

GROUP = "drawerwright.joints"
"""Entry points of this group are kinds of joints: in a package's metadata, the name of the kind and where it stands."""
_OURS = {
    "drawer-lock": "drawer_lock",
    "lock-mitre": "lock_mitre",
    "edge": "edge_to_edge",
    "finger": "finger",
    "rebate": "rebate",
}
USUAL = "drawer-lock"
"""What a cutter makes of which nobody says it."""


class Named(Protocol):
    """What a kind of joint is registered by."""

    @property
    def name(self) -> str:
        """As job files say it."""

    @property
    def is_self_mating(self) -> bool:
        """Whether one cutter cuts both pieces."""


_known: dict[str, Named] = {}


def register(kind: Named) -> None:
    """Make a kind of joint known by its name, for this run of the program.

    Raises:
        InvalidValueError: another kind has this name.
    """
    if kind.name in kind_names() and kind_named(kind.name) is not kind:
        raise InvalidValueError(
            phrase("a joint called {name} already exists: rename this one", name=kind.name)
        )
    _known[kind.name] = kind


def forget(name: str) -> None:
    """Take a kind that was registered out again."""
    _known.pop(name, None)


def kind_names() -> tuple[str, ...]:
    """The names of all kinds, our own first."""
    return tuple(dict.fromkeys((*_OURS, *_known, *_installed())))


def all_kinds() -> tuple[Named, ...]:
    """All kinds, our own first, but for those of installed packages that cannot be loaded: who names one is told."""
    found = []
    for name in kind_names():
        with suppress(InvalidValueError):
            found.append(kind_named(name))
    return tuple(found)


def kind_named(name: str, choices: Callable[[], tuple[str, ...]] = kind_names) -> Named:
    """The kind of joint with this name.

    Args:
        name: as job files say it.
        choices: the names that can be given where this one stands; whoever names no kind is told them.

    Raises:
        InvalidValueError: there is none, or the package that brings it cannot be loaded; the text says which.
    """
    known = _known.get(name)
    if known is None:
        known = _known[name] = _loaded(name, choices)
    return known


@cache
def _installed() -> dict[str, EntryPoint]:
    """What installed packages bring, by its name; they do not change while the program runs."""
    return {entry.name: entry for entry in entry_points(group=GROUP)}


def _loaded(name: str, choices: Callable[[], tuple[str, ...]]) -> Named:
    if name in _OURS:
        ours: Named = import_module(f"drawerwright.joints.kinds.{_OURS[name]}").JOINT
        return ours
    entry = _installed().get(name)
    if entry is None:
        raise InvalidValueError(
            phrase(
                "there is no kind of joint {name!r}; choose from {known}",
                name=name,
                known=", ".join(choices()),
            )
        )
    try:
        installed: Named = entry.load()
    except Exception as error:  # whatever somebody else's module does when it is loaded
        raise InvalidValueError(
            phrase(
                "the joint {name!r} cannot be loaded from {place}: {error}",
                name=name,
                place=entry.value,
                error=str(error),
            )
        ) from error
    return installed
