"""Other names for what a job file has, so that its corners and their test cuts stay what they were.

A corner is known by the ids of its stocks and its cutter (`drawerwright.joints.corner_key`). An id is the name until
that changes; then the old name stays in the file as `id`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase, plain
from drawerwright.job.drawer_renaming import with_drawers_followed
from drawerwright.job.file.cutter_entries import call_cutter
from drawerwright.job.file.cutter_places import cutter_place
from drawerwright.job.file.editing import Path, rename_entry, set_value
from drawerwright.job.file.entry_paths import members_at, rows_at, value_at
from drawerwright.job.file.reading import Document, entries_of
from drawerwright.joints.cutter import UNNAMED

_PIECES = ("all", "front", "sides", "back")
_STOCK_IN: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "banks": (("fronts", "stock"), ("bottom", "stock"), *(("box", piece) for piece in _PIECES)),
    "boxes": (("bottom", "stock"), *(("box", piece) for piece in _PIECES)),
}
"""Where a bank and an entry of boxes name a stock."""


def rename_stock(text: str, old: str, new: str) -> str:
    """A job file's text with a stock under another name wherever it is named; its id stays.

    Args:
        text: of a job file; it may have faults.
        old: what the stock is called.
        new: what it is to be called.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no such stock, the new name is empty, or another stock has it.
    """
    new = new.strip()
    data = Document(text).data
    stock = members_at(data, ("stock",))
    if old not in stock:
        raise InvalidValueError(phrase("there is no stock {name!r} any more", name=old))
    if new == old:
        return text
    if not new:
        raise InvalidValueError(phrase("give the stock a name; banks and boxes refer to it"))
    if new in stock:
        raise InvalidValueError(phrase("the name {name!r} is taken: choose another", name=new))
    text = rename_entry(text, ("stock", old), new)
    text = _with_id(text, ("stock", new), members_at(stock, (old,)), old, new)
    for path in stock_places(data, old):
        text = set_value(text, path, new)
    return text


def rename_runners(text: str, old: str, new: str) -> str:
    """A job file's text with a sheet of runners under another name wherever a bank names it.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no such sheet, the new name is empty, or another sheet has it.
    """
    new = new.strip()
    data = Document(text).data
    sheets = members_at(data, ("runners",))
    if old not in sheets:
        raise InvalidValueError(phrase("there is no sheet of runners {name!r} any more", name=old))
    if new == old:
        return text
    if not new:
        raise InvalidValueError(phrase("give the sheet of runners a name; banks refer to it"))
    if new in sheets:
        raise InvalidValueError(phrase("the name {name!r} is taken: choose another", name=new))
    text = rename_entry(text, ("runners", old), new)
    for number, bank in enumerate(rows_at(data, ("banks",))):
        if value_at(bank, ("runner",)) == old:
            text = set_value(text, ("banks", number, "runner"), new)
    return text


_NAMES_A_ROW: Mapping[str, tuple[tuple[str, Path], ...]] = {
    "banks": (("banks", ("like",)),),
    "openings": (("banks", ("opening", "of")), ("openings", ("opening", "of"))),
    "boxes": (),
}
"""Where other rows name a bank or a divided carcase; drawers are named by trays and days."""


def rename_row(text: str, path: Path, new: str) -> str:
    """A job file's text with another name at `path`, that of a bank, a box or a divided carcase, wherever rows, trays
    or days name it."""
    before, data = text, entries_of(text)
    old = value_at(data, path)
    text = set_value(text, path, new)
    rows = rows_at(data, (path[0],))
    if [value_at(row, ("name",)) for row in rows].count(old) != 1:
        return text  # nothing says which of them is named
    for section, place in _NAMES_A_ROW[str(path[0])]:
        for number, row in enumerate(rows_at(data, (section,))):
            if value_at(row, place) == old:
                text = set_value(text, (section, number, *place), new)
    return with_drawers_followed(before, text)


def rename_cutter(text: str, old: str, new: str) -> str:
    """A job file's text with a cutter under another name wherever it is named; its id stays.

    Args:
        text: of a job file; it may have faults.
        old: what the cutter is called.
        new: what it is to be called; empty takes the name of the only cutter away.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no such cutter, the new name is empty for one of several, or another cutter has it.
    """
    new = new.strip()
    data = Document(text).data
    place = cutter_place(data, old)
    entry = value_at(data, place.path) or {}
    if new or place.is_one_of_several:
        text = call_cutter(text, old, new)
    else:
        text = set_value(call_cutter(text, old, plain(UNNAMED)), (*place.path, "name"), None)
    path = (place.path[0], new) if place.is_one_of_several else place.path
    return _with_id(text, path, entry, old, new or plain(UNNAMED))


def with_own_id(text: str, name: str) -> str:
    """A job file's text whose stock `name` is new and must not be taken for one that was called so once."""
    stock = members_at(Document(text).data, ("stock",))
    taken = {str(members_at(stock, (other,)).get("id") or other) for other in stock if other != name}
    if str(members_at(stock, (name,)).get("id") or name) not in taken:
        return text
    number = 2
    while f"{name} {number}" in taken:
        number += 1
    return set_value(text, ("stock", name, "id"), f"{name} {number}")


def _with_id(text: str, path: Path, entry: Mapping[Any, Any], old: str, new: str) -> str:
    """The text with the id that an entry had before it was renamed; none is needed where that is its name."""
    known = entry.get("id")
    kept = old if known is None else str(known)
    if kept != new:
        return set_value(text, (*path, "id"), kept) if known is None else text
    return text if known is None else set_value(text, (*path, "id"), None)


def stock_places(data: Any, stock: str) -> Iterator[Path]:
    """Where banks and boxes name a stock."""
    for section, places in _STOCK_IN.items():
        for number, row in enumerate(rows_at(data, (section,))):
            for place in places:
                if value_at(row, place) == stock:
                    yield (section, number, *place)
