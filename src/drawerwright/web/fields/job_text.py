"""What the pages ask about the text of a job file. The readers load when first needed, not at start."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.phrases import joined
from drawerwright.web.fields.field import Field

if TYPE_CHECKING:
    from drawerwright.job.job import Job

LONGEST_TITLE = 120
REMEMBERED = 64
"""How many texts are kept read. A text never changes, so what was read from it does not either."""


def data_of(text: str) -> Any:
    """The entries as plain values; an empty dict for a text that cannot be read."""
    from drawerwright.job.file.reading import entries_of

    return entries_of(text)


def title_of(text: str) -> str:
    """The name that a job file gives its job; empty where it gives none or cannot be read."""
    name = data_of(text).get("job")
    return str(name).strip()[:LONGEST_TITLE] if isinstance(name, str) else ""


def checked_title(text: str, file: str) -> str:
    """The name in a text that is at least YAML.

    Raises:
        FaultyInputError: the text cannot be read at all.
    """
    from drawerwright.job.file.reading import Document

    Document(text, file)
    return title_of(text)


@lru_cache(maxsize=REMEMBERED)
def _read(text: str) -> Job | FaultyInputError:
    from drawerwright.job.file.building import read_job

    try:
        return read_job(text)
    except FaultyInputError as error:
        return error


def job_of(text: str) -> Job | None:
    """The job that a text describes, or None while it has faults."""
    found = _read(text)
    return None if isinstance(found, FaultyInputError) else found


def faults_of(text: str) -> tuple[Fault, ...]:
    """Every fault of a job file's text, in its order; none for a text that can be planned."""
    found = _read(text)
    return found.faults if isinstance(found, FaultyInputError) else ()


def faults_by_field(text: str, fields: Iterable[Field] = ()) -> tuple[dict[str, str], list[Fault]]:
    """Faults by the name of the field they concern, and those that concern none of `fields`.

    A fault inside a list that one field shows (`measured[2]`) belongs to that field; a fault of an entry that
    no field shows is one of the rest.
    """
    names = sorted((field.path_name for field in fields), key=len, reverse=True)
    beside: dict[str, str] = {}
    rest = []
    for fault in faults_of(text):
        name = next((name for name in names if _is_within(fault.field, name)), None)
        if name is None:
            rest.append(fault)
        else:
            before = beside.get(name)
            beside[name] = fault.message if before is None else joined((before, fault.message), "; ")
    return beside, rest


def _is_within(field: str, name: str) -> bool:
    return field == name or field.startswith((f"{name}[", f"{name}."))
