"""What no longer applies once a kind of front, runner or bottom is another one, and what a new kind begins with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import Any

from drawerwright.drawers.bank import FrontStyle
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.runners import RunnerKind
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.job.file.reading import entries_of
from drawerwright.joints.plain_joint import plain_joint

OF_APPLIED = ("stock", "grain_upright", "match", "match_direction")
"""What only applied fronts have."""
OF_ONE_SIDE = ("left", "right")
"""Overlays that a front which is part of the box cannot have."""
OF_GROOVES = ("groove_depth", "groove_height", "groove_play")
"""What only a bottom in grooves has."""


KINDS: Mapping[EntryPath, type[StrEnum] | None] = {
    ("fronts", "style"): FrontStyle,
    ("runner", "kind"): RunnerKind,
    ("bottom", "style"): BottomStyle,
    ("joint",): None,
    ("joint", "kind"): None,
}
"""The kinds of a bank or box, below it, and which there are; of joints the registry knows."""


def is_kind(path: EntryPath) -> bool:
    """Whether the entry at a path is a kind on which others hang."""
    return path[0] in ("banks", "boxes") and path[2:] in KINDS


def kind_drops(data: Any, path: EntryPath, kind: Any) -> Iterator[EntryPath]:
    """The entries of `data` that do not apply once the kind at `path` is `kind`: none where there is no such kind."""
    section = path[:3]
    known = KINDS.get(path[2:])
    if known is not None and kind not in (None, *known):
        return
    if path[2] == "joint" and kind is not None and value_at(data, (*path[:2], "cutter")) is not None:
        yield (*path[:2], "cutter")  # such a joint has none
    entry = value_at(data, section)
    if not isinstance(entry, dict):
        return
    if path[2] == "fronts":
        if kind != FrontStyle.APPLIED:
            yield from ((*section, name) for name in OF_APPLIED if name in entry)
        overlay = entry.get("overlay")
        if kind != FrontStyle.APPLIED and isinstance(overlay, dict):
            yield from (
                (*section, "overlay", edge)
                for edge, size in overlay.items()
                if edge in OF_ONE_SIDE or (kind == FrontStyle.INSET and not _is_inside(size))
            )
    elif path[2] == "joint" and kind != entry.get("kind"):
        yield from ((*section, name) for name in entry if name != "kind")
    elif path[2] == "runner" and kind != entry.get("kind"):
        # Every clearance was typed for the runner that is gone.
        yield from ((*section, name) for name in entry if name != "kind")
    elif path[2] == "bottom" and kind == BottomStyle.FIXED:
        yield from ((*section, name) for name in OF_GROOVES if name in entry)


def _is_inside(size: Any) -> bool:
    """Whether an overlay keeps a front inside the opening: it is 0 or less."""
    return (isinstance(size, int | float) and size <= 0) or str(size).lstrip().startswith(("-", "−"))


def with_kind(text: str, path: EntryPath, kind: Any) -> str:
    """The text with another kind at `path` and without what does not apply to it; applied fronts are made of the box's
    stock to begin with."""
    data = entries_of(text)
    for entry in tuple(kind_drops(data, path, kind)):
        text = set_value(text, entry, None)
    if path[2] == "joint":
        return set_value(text, path[:3], joint_entry(kind))
    text = set_value(text, path, kind)
    section = path[:3]
    if path[2] == "fronts":
        if value_at(entries_of(text), (*section, "overlay")) == {}:
            text = set_value(text, (*section, "overlay"), None)
        if kind == FrontStyle.APPLIED and value_at(data, (*section, "stock")) is None:
            box = value_at(data, (*path[:2], "box"))
            own = (value_at(box, (name,)) for name in ("front", "all"))
            stock = next((name for name in own if name), None)
            text = text if stock is None else set_value(text, (*section, "stock"), stock)
    return text


def joint_entry(name: str | None) -> Any:
    """How a joint is written whose own measures may be typed next: its name alone where it has none."""
    if name is None or not plain_joint(name).measures:
        return name
    return {"kind": name}
