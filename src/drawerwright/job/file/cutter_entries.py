"""Where a job file's text has its cutters, and one more or another in their place. Comments and all else stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase, plural
from drawerwright.job.file.cutter_places import ONLY, SEVERAL, cutter_place, cutter_places
from drawerwright.job.file.editing import nest_entry, rename_entry, set_value
from drawerwright.job.file.entry_paths import EntryPath, members_at, rows_at, value_at
from drawerwright.job.file.reading import Document, field_name
from drawerwright.job.file.single_drawers_model import SINGLE_DRAWERS

_ALL_CUTTERS: tuple[EntryPath, ...] = (
    ("bit_heights",),
    ("fences", "plan"),
    ("fences", "positions"),
    ("learnt",),
)
"""What a job says of its only cutter, and of several each for itself."""


def check_name(name: str, data: Any) -> None:
    """See whether a further cutter may have this name.

    Raises:
        InvalidValueError: it is empty, or a cutter of the job has it.
    """
    if not name:
        raise InvalidValueError(phrase("give the cutter a name; banks and boxes refer to it"))
    if any(place.name == name for place in cutter_places(data)):
        raise InvalidValueError(phrase("the name {name!r} is taken: choose another", name=name))


def add_cutter(text: str, name: str, entry: Mapping[str, Any]) -> str:
    """A job file's text with one more cutter; existing cutters keep their drawers and entries.

    Args:
        text: of a job file; it may have faults.
        name: of the new cutter.
        entry: its measures.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: the name is empty, or a cutter has it.
    """
    check_name(name, Document(text).data)
    text = _as_several(text)
    return set_value(text, (SEVERAL, name), _own_id(Document(text).data, name) | dict(entry))


def _own_id(data: Any, name: str) -> dict[str, str]:
    """The id of a new cutter that must not be taken for one that was called so once; none where its name will do."""
    taken = {str(value_at(entry, ("id",)) or other) for other, entry in members_at(data, (SEVERAL,)).items()}
    if name not in taken:
        return {}
    number = 2
    while f"{name} {number}" in taken:
        number += 1
    return {"id": f"{name} {number}"}


def _as_several(text: str) -> str:
    """The text with its only cutter under its name, for all that it cuts; as it was where it has several."""
    data = Document(text).data
    if SEVERAL in data:
        return text
    (only,) = cutter_places(data)
    if value_at(data, (ONLY,)) is None:
        return text
    text = nest_entry(text, (ONLY,), only.name)
    if value_at(data, (ONLY, "name")) is not None:
        text = set_value(text, (ONLY, only.name, "name"), None)
    text = rename_entry(text, (ONLY,), SEVERAL)
    for path in _ALL_CUTTERS:
        if (value := value_at(data, path)) is not None:
            text = set_value(set_value(text, (SEVERAL, only.name, *path), value), path, None)
            if len(path) > 1 and value_at(Document(text).data, path[:-1]) == {}:
                text = set_value(text, path[:-1], None)
    for section in ("banks", "boxes"):
        for row, entry in enumerate(rows_at(data, (section,))):
            if isinstance(entry, dict) and entry.get(ONLY) is None and entry.get("joint") is None:
                text = set_value(text, (section, row, ONLY), only.name)
    return text


def remove_cutter(text: str, name: str) -> str:
    """A job file's text without one of its cutters.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no such cutter, or banks or boxes name it; the text says which.
    """
    data = Document(text).data
    place = cutter_place(data, name)
    users = [str(value_at(data, (*path[:2], "name")) or field_name(path[:-1])) for path in _named(data, name)]
    if users:
        raise InvalidValueError(
            plural(
                "{users} uses it: choose another cutter there first",
                "{users} use it: choose another cutter there first",
                len(users),
                users=", ".join(users),
            )
        )
    return set_value(text, place.path, None)


def call_cutter(text: str, old: str, new: str) -> str:
    """A job file's text with one of its cutters under another name, wherever it is named.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no such cutter, the new name is empty, or another cutter has it.
    """
    data = Document(text).data
    place = cutter_place(data, old)
    if new == old:
        return text
    check_name(new, data)
    if place.is_one_of_several:
        text = rename_entry(text, place.path, new)
    else:
        text = set_value(text, (*place.path, "name"), new)
    for path in _named(data, old):
        text = set_value(text, path, new)
    return text


def _named(data: Any, cutter: str) -> Iterator[EntryPath]:
    """Where banks, their single drawers and boxes name a cutter."""
    for section in ("banks", "boxes"):
        for row, entry in enumerate(rows_at(data, (section,))):
            if value_at(entry, (ONLY,)) == cutter:
                yield (section, row, ONLY)
            for place, own in enumerate(rows_at(entry, (SINGLE_DRAWERS,))):
                if value_at(own, (ONLY,)) == cutter:
                    yield (section, row, SINGLE_DRAWERS, place, ONLY)
