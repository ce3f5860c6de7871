"""What a field holds, in words: for drawings that name measures, and for groups of fields that are folded away."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.typed_lengths import at_plus_minus
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.typed_entries import BARE, SEPARATOR
from drawerwright.web.fields.field import Field, shown, shown_absent, with_unit
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _


@dataclass(frozen=True, slots=True)
class FieldFact:
    """One line about a field."""

    label: str
    value: str


def stated_facts(fields: Iterable[Field], data: Any, reader: Preferences) -> tuple[FieldFact, ...]:
    """What the job file says in these fields; nothing of those that it leaves to the usual."""
    found = ((field, value_at(data, field.path)) for field in fields)
    stated: dict[str, list[str]] = {}
    for field, value in found:
        if value is not None and not field.names_part:
            stated.setdefault(field.part_of or field.label, []).append(_told(field, value, reader))
    return tuple(FieldFact(label, ", ".join(values)) for label, values in stated.items())


def measures_of(fields: Iterable[Field], data: Any, reader: Preferences) -> dict[str, str]:
    """What holds for each of these fields, stated or usual, by the field's id; empty where nothing does."""
    values = ((field, value_at(data, field.path)) for field in fields)
    return {
        field.id: shown_absent(field, reader) if value is None else _told(field, value, reader)
        for field, value in values
    }


def _told(field: Field, value: Any, reader: Preferences) -> str:
    text = shown(value, field.kind, reader)
    if field.is_ticked:
        return _("yes") if text else _("no")
    if field.kind == "choice":
        return dict(field.choices).get(text, text)
    is_bare = all(
        BARE.fullmatch(bit.strip()) for part in text.split(SEPARATOR) for bit in at_plus_minus(part)
    )
    return with_unit(text, field.kind, reader) if is_bare else text
