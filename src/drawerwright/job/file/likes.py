"""Banks that are like another one: what an entry leaves out is what the entry says that it names.

An entry without a value (`banding:`) says that the bank has none. The file keeps what was typed. Whatever reads a job,
and what a page shows, has the entries with what they take over.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bank import FrontStyle
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.job.file.kind_changes import OF_APPLIED

OWN = ("name", "like", "count")
"""What every bank has for itself."""
TAKEN_WHOLE = ("opening", "heights")
"""Sections of which only one kind of entries may stand: an own one takes the place of the other."""
EITHER = (("cutter", "joint"), ("joint", "cutter"))


def with_likes(data: Any) -> Any:
    """Entries of a job file in which every bank says all that it has; as they were where a bank names none that is."""
    banks = rows_at(data, ("banks",))
    if not any(isinstance(bank, dict) and "like" in bank for bank in banks):
        return data
    return {**data, "banks": [_whole(bank, banks) for bank in banks]}


def like_faults(data: Any) -> Iterator[tuple[EntryPath, str]]:
    """Where a bank is like none that there is, or like itself in the end: the entry, and what is wrong."""
    banks = rows_at(data, ("banks",))
    names = [str(value_at(bank, ("name",))) for bank in banks]
    for number, bank in enumerate(banks):
        like = value_at(bank, ("like",))
        if like is None:
            continue
        where: EntryPath = ("banks", number, "like")
        if like not in names:
            yield (
                where,
                phrase(
                    "there is no bank {name!r}; the file has {known}",
                    name=like,
                    known=", ".join(name for place, name in enumerate(names) if place != number)
                    or phrase("none"),
                ),
            )
        elif _chain(bank, banks)[-1] is None:
            yield where, phrase("leads back to this bank: one of them must give its own values")


@dataclass(frozen=True, slots=True)
class Inherited:
    """What a bank takes over at an entry, and the name of the bank that says it."""

    value: Any
    bank: str


def inherited(data: Any, path: EntryPath) -> Inherited | None:
    """What would stand at an entry of a bank if the bank itself said nothing of it; None where nothing would."""
    if len(path) < 3 or path[0] != "banks" or path[2] in OWN:
        return None
    banks = rows_at(data, ("banks",))
    chain = _chain(value_at(data, path[:2]), banks)
    if len(chain) == 1 or chain[-1] is None:
        return None
    value = value_at(_whole(chain[1], banks), path[2:])
    if value is None:
        return None
    says = next((each for each in chain[1:] if value_at(each, path[2:]) is not None), chain[1])
    return Inherited(value, str(value_at(says, ("name",))))


def _chain(bank: Any, banks: Sequence[Any]) -> list[Any]:
    """A bank, the one that it is like, and so on; None at the end where that never ends."""
    chain = [bank]
    while (like := value_at(chain[-1], ("like",))) is not None:
        following = next((each for each in banks if value_at(each, ("name",)) == like), None)
        if following is None:
            break
        if any(following is each for each in chain):
            return [*chain, None]
        chain.append(following)
    return chain


def _whole(bank: Any, banks: Sequence[Any]) -> Any:
    chain = _chain(bank, banks)
    if len(chain) == 1 or chain[-1] is None:
        return bank
    made: dict[str, Any] = {}
    for each in reversed(chain):
        own = each if each is bank else {key: value for key, value in each.items() if key not in OWN}
        made = _merged(made, own)
    return _without_cleared(made)


def _without_cleared(entries: Mapping[str, Any]) -> dict[str, Any]:
    """Entries less those without a value, at any depth: such a one is as if it had never been said."""
    return {
        key: _without_cleared(value) if isinstance(value, dict) else value
        for key, value in entries.items()
        if value is not None
    }


def _merged(under: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """Entries with others over them, section by section."""
    made = dict(under)
    for own, other in EITHER:
        if over.get(own) is not None:
            made.pop(other, None)
    style = over.get("style")
    if style is not None and style != FrontStyle.APPLIED:
        for name in OF_APPLIED:
            made.pop(name, None)
    for key, value in over.items():
        before = made.get(key)
        if isinstance(before, dict) and isinstance(value, dict) and key not in TAKEN_WHOLE:
            made[key] = _merged(before, value)
        else:
            made[key] = value
    return made
