"""Every kind of joint by its name: those of `drawerwright.joints.kinds`, those of packages that are installed beside
this one, and those that a program registers.

A kind is loaded when somebody asks for it. Nothing but this module knows where one is kept.
"""

from __future__ import annotations

from importlib import import_module
from importlib.metadata import entry_points
from typing import Protocol

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase

GROUP = "drawerwright.joints"
"""Entry points of this group are kinds of joints: in a package's metadata, the name of the kind and where it stands."""
_OURS = {"drawer-lock": "drawer_lock", "lock-mitre": "lock_mitre", "edge": "edge_to_edge"}
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
            phrase(
                "there is a kind of joint called {name} already: give this one another name", name=kind.name
            )
        )
    _known[kind.name] = kind


def forget(name: str) -> None:
    """Take a kind that was registered out again."""
    _known.pop(name, None)


def kind_names() -> tuple[str, ...]:
    """The names of all kinds, our own first."""
    installed = (entry.name for entry in entry_points(group=GROUP))
    return tuple(dict.fromkeys((*_OURS, *_known, *installed)))


def kind_named(name: str) -> Named:
    """The kind of joint with this name.

    Raises:
        InvalidValueError: there is none; the text names those that there are.
    """
    known = _known.get(name)
    if known is None:
        known = _known[name] = _loaded(name)
    return known


def _loaded(name: str) -> Named:
    if name in _OURS:
        ours: Named = import_module(f"drawerwright.joints.kinds.{_OURS[name]}").JOINT
        return ours
    for entry in entry_points(group=GROUP, name=name):
        installed: Named = entry.load()
        return installed
    raise InvalidValueError(
        phrase(
            "there is no kind of joint {name!r}; there are {known}", name=name, known=", ".join(kind_names())
        )
    )
