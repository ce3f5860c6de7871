"""YAML text to checked models: every fault at once, each with its line and field.

The mechanism is shared by every file a user writes (job files, trial cuts). The tree of the text keeps the line of
each entry, pydantic finds all faults; this module brings both together.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache, partial
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from drawerwright.basics.errors import MOST_TOLD, Fault, FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_names import entry_names, unknown_entry, whole_limits
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.fault_words import fault_words
from drawerwright.job.file.file_units import FileUnit, unit_of, with_units_named
from drawerwright.job.file.given_files import given_text
from drawerwright.job.file.parting import BY_SECTIONS, PartingRules
from drawerwright.job.file.yaml_text import plain_tree
from drawerwright.job.file.yaml_trees import shared_tree

Model = TypeVar("Model", bound=BaseModel)
MadeBuilder = TypeVar("MadeBuilder", bound="Builder")
Location = tuple[str | int, ...]

MOST_PARTED = 12
"""How often more is left out of a faulty file: no entry lies deeper."""
LARGEST_FILE_BYTES = 300_000
"""A job file is a few kilobytes; one of 400 banks has some 200."""
REMEMBERED = 256
"""How many texts are kept read. A text never changes, so what was read from it does not either."""


class Document:
    """A parsed YAML text that knows the line of each entry.

    Attributes:
        data: plain dicts, lists and scalars.
        whole: the same of the whole text, where `data` is only a part of it (see `without`).
        file: the file's name for messages, or None.
        unit: of its bare numbers.
        is_whole: nothing was taken out of it.
    """

    is_whole = True

    def __init__(self, text: str, file: str | None = None) -> None:
        """Parse `text`.

        Raises:
            FaultyInputError: the text is not YAML, is too large, or names an entry twice.
        """
        self.file = file
        if len(text.encode(errors="replace")) > LARGEST_FILE_BYTES:
            raise FaultyInputError(
                (
                    Fault(
                        "",
                        phrase(
                            "the file is larger than {limit:,} bytes, the limit",
                            limit=LARGEST_FILE_BYTES,
                        ),
                        1,
                        file,
                    ),
                )
            )
        self._tree: Any = shared_tree(text, file)
        self.data: Any = plain_tree(self._tree, file)
        self.whole: Any = self.data
        self.unit: FileUnit = unit_of(self.data)
        self._kept: dict[str, tuple[int, ...]] = {}

    @classmethod
    def of(cls, data: Mapping[str, Any]) -> Document:
        """Entries that stand in no text: their faults name no line."""
        made = cls.__new__(cls)
        made.file, made.data, made.whole, made._tree, made._kept = None, data, data, None, {}
        made.unit = "mm"
        return made

    def without(self, locations: Iterable[Location]) -> Document:
        """A copy without the entries at `locations`, so that the rest can still be checked.

        Of the rows of a section, places are still counted as in the text.
        """
        gone = set(locations)
        rest = copy.copy(self)
        rest.is_whole, rest.data, rest._kept = False, copy.deepcopy(self.data), {}
        for location in gone:
            if len(location) > 2 or (len(location) == 2 and isinstance(self.data.get(location[0]), dict)):
                holder = value_at(rest.data, location[:-1])
                if isinstance(holder, dict):
                    holder.pop(location[-1], None)
        for name, section in self.data.items():
            if (name,) in gone:
                del rest.data[name]
            elif isinstance(section, list):
                rest._kept[name] = tuple(place for place in range(len(section)) if (name, place) not in gone)
                rest.data[name] = [rest.data[name][place] for place in rest._kept[name]]
        return rest

    def in_text(self, location: Location) -> Location:
        """`location` as counted in the text, where `without` has taken items out."""
        if len(location) > 1 and isinstance(location[1], int) and location[0] in self._kept:
            return (location[0], self._kept[str(location[0])][location[1]], *location[2:])
        return location

    def line(self, location: Location) -> int | None:
        """Line (from 1) of the entry at `location`, or of its nearest parent that stands in the text."""
        node: Any = self._tree
        if node is None:
            return None
        line = 1
        for step in location:
            try:
                marks: Any = node.lc
                position = marks.key(step) if isinstance(node, dict) else marks.item(step)
                node = node[step]
            except (AttributeError, KeyError, IndexError, TypeError):
                break
            line = position[0] + 1
        return line

    def fault(self, location: Location, message: str) -> Fault:
        """A fault at the entry `location`."""
        location = self.in_text(location)
        return Fault(field_name(location), message, self.line(location), self.file, LengthStyle(self.unit))


@lru_cache(maxsize=REMEMBERED)
def entries_of(text: str) -> Mapping[str, Any]:
    """The entries of a text as plain values, not to be changed; none for a text that cannot be read."""
    try:
        data = Document(text).data
    except FaultyInputError:
        return {}
    return data if isinstance(data, dict) else {}


def field_name(location: Location) -> str:
    """The path of an entry as users write it.

    >>> field_name(("stock", "birch", "measured", 2))
    'stock.birch.measured[3]'
    """
    name = ""
    for step in location:
        if isinstance(step, int):
            name += f"[{step + 1}]"
        else:
            name += f".{step}" if name else step
    return name


def check_model(model: type[Model], document: Document) -> Model:
    """Check a whole document against a model.

    Raises:
        FaultyInputError: with every fault, in the order of the text.
    """
    if not isinstance(document.data, dict):
        raise FaultyInputError(
            (document.fault((), phrase("the file must hold named entries, for instance 'job: ...'")),)
        )
    try:
        return model.model_validate(with_units_named(document.data, model, document.unit))
    except ValidationError as error:
        found = _faults(document, model, error)
        raise FaultyInputError(
            in_file_order(found.values()), tuple(location for location, _ in found)
        ) from None


@dataclass(frozen=True, slots=True)
class ToldFault:
    """A fault that a builder found: the entry as counted in the text, and whether it was reckoned from several."""

    location: Location
    fault: Fault
    is_reckoned: bool


class Builder:
    """Base of what makes values from a checked file: it goes on after a fault and remembers every one.

    What pydantic cannot see (an unknown name, entries that do not fit together) is found here.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.told: list[ToldFault] = []

    @property
    def faults(self) -> list[Fault]:
        """Every fault so far."""
        return [told.fault for told in self.told]

    @contextmanager
    def at(self, *location: str | int, **entries: Location) -> Iterator[None]:
        """Faults raised inside belong to the entry at `location`, or to one in it that the error names.

        `entries` says for the names of values where they stand in the file below `location`, if not under their name.
        """
        try:
            yield
        except InvalidValueError as error:
            within: Location = error.entry
            if within and within[0] in entries:
                within = (*entries[str(within[0])], *within[1:])
            self.fault((*location, *within), str(error), is_reckoned=True)

    def fault(self, location: Location, message: str, *, is_reckoned: bool = False) -> None:
        """Remember a fault of the entry at `location`; one that is reckoned comes of several entries."""
        found = self.document.fault(location, message)
        self.told.append(ToldFault(self.document.in_text(location), found, is_reckoned))


def check_whole(
    document: Document,
    model: type[Model],
    partial: type[Model],
    build: Callable[[Model, Document], MadeBuilder],
    parting: PartingRules = BY_SECTIONS,
) -> MadeBuilder:
    """Check a document against a model and build from it.

    Args:
        document: the file.
        model: what it has to be.
        partial: the same model for what is left of a faulty file, so that the builder's faults come as well.
        build: makes the builder.
        parting: what is left out of the file on account of a faulty entry.

    Raises:
        FaultyInputError: entries are faulty; with every fault of entries, and of the builder from the rest.
    """
    try:
        entries = check_model(model, document)
    except FaultyInputError as error:
        faults = [*error.found]
        if isinstance(document.data, dict):
            gone = {parting.lost(location, document.data) for location in error.locations}
            faults += _of_the_rest(document, partial, build, parting, gone)
        raise FaultyInputError(in_file_order(faults), error.locations) from None
    return build(entries, document)


def _of_the_rest(
    document: Document,
    partial: type[Model],
    build: Callable[[Model, Document], MadeBuilder],
    parting: PartingRules,
    gone: set[Location],
) -> list[Fault]:
    """The faults of a builder where the faulty entries are left out, but for those that come of their lack."""
    for _ in range(MOST_PARTED):
        rest = document.without(gone)
        try:
            entries = check_model(partial, rest)
        except FaultyInputError as error:  # what cannot do without them is left out too
            lacking = {rest.in_text(location) for location in error.locations}
            more = {parting.around(location, document.data, gone) for location in lacking}
            if not more - gone:
                return list(error.found)
            gone = gone | more
            continue
        return [
            told.fault
            for told in build(entries, rest).told
            if not parting.may_come_of_lack(told.location, gone, is_reckoned=told.is_reckoned)
        ]
    return []


def _faults(
    document: Document, model: type[BaseModel], error: ValidationError
) -> dict[tuple[Location, str], Fault]:
    faults: dict[tuple[Location, str], Fault] = {}
    found = [(_entry_location(document.data, item["loc"]), item) for item in error.errors(include_url=False)]
    # Where an entry or a list of them may stand, what is wrong with the entry says more than that it is no list.
    named = {location for location, item in found if item["type"] not in NO_LIST}
    for location, item in found:
        if _is_short_by_faults(item) or (item["type"] in NO_LIST and location in named):
            continue
        if item["type"] == "extra_forbidden":
            # Beyond those that are told, nobody needs to know which entry was meant.
            is_told = len(faults) < LOOKED_UP
            message = unknown_entry(str(location[-1]), entry_names(model, location[:-1]) if is_told else ())
        else:
            message = fault_words(item, partial(whole_limits, model, location))
        faults[location, message] = document.fault(location, message)
    return faults


LOOKED_UP = 10 * MOST_TOLD
NO_LIST = ("list_type", "tuple_type")


def _is_short_by_faults(item: Mapping[str, Any]) -> bool:
    """Whether a list is called too short only because pydantic does not count its faulty items."""
    given = item.get("input")
    return item["type"] == "too_short" and isinstance(given, list) and len(given) >= item["ctx"]["min_length"]


def in_file_order(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults as they stand in the text, doubles removed."""
    return tuple(sorted(dict.fromkeys(faults), key=lambda fault: fault.line or 0))


def _entry_location(data: Any, location: Location) -> Location:
    """pydantic's location less the steps that name a member of a union and not an entry of the file."""
    kept: list[str | int] = []
    node = data
    for index, step in enumerate(location):
        last = index == len(location) - 1
        if isinstance(node, dict) and (step in node or last):
            kept.append(step)
            node = node.get(str(step))
        elif isinstance(node, list) and isinstance(step, int):
            kept.append(step)
            node = node[step] if step < len(node) else None
    return tuple(kept)


def read_text(path: Path) -> str:
    """The text of a job file or a trial file.

    Raises:
        FaultyInputError: there is no such file, it is far too large for one, or it is not UTF-8 text.
    """
    return given_text(path, LARGEST_FILE_BYTES)
