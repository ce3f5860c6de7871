"""What the pages ask about the text of a job file. The readers load when first needed, not at start."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from drawerwright.basics.errors import Fault, FaultyInputError, InvalidValueError
from drawerwright.basics.phrases import joined
from drawerwright.web.fields.field import Field

if TYPE_CHECKING:
    from drawerwright.job.job import Job
    from drawerwright.job.planning.first_cut_odds import JobOdds
    from drawerwright.job.planning.shown_job import ShownJob

LONGEST_TITLE = 120
REMEMBERED = 24
"""How many texts are kept read. A text never changes, so what was read from it does not either."""


def data_of(text: str) -> Any:
    """The entries as plain values, bare lengths in mm; an empty dict for a text that cannot be read."""
    from drawerwright.job.file.job_entries import job_entries

    return job_entries(text)


def title_of(text: str) -> str:
    """The name that a job file gives its job; empty where it gives none or cannot be read."""
    name = data_of(text).get("job")
    return str(name).strip()[:LONGEST_TITLE] if isinstance(name, str) else ""


def with_title(text: str, title: str) -> str:
    """The text with another name for its job; as it was where it cannot be read."""
    from drawerwright.job.file.editing import set_value

    try:
        return set_value(text, ("job",), title[:LONGEST_TITLE])
    except (FaultyInputError, InvalidValueError):
        return text


def checked_title(text: str, file: str) -> str:
    """The name in a text that is at least YAML.

    Raises:
        FaultyInputError: the text cannot be read at all.
    """
    from drawerwright.job.file.reading import Document

    Document(text, file)
    return title_of(text)


@lru_cache(maxsize=REMEMBERED)
def shown(text: str) -> ShownJob:
    """What there is to show of a text: the job, its draft and what is doubtful about it, or its faults."""
    from drawerwright.job.planning.shown_job import shown_job

    return shown_job(text)


def job_of(text: str) -> Job | None:
    """The job that a text describes, or None while it has faults."""
    return shown(text).job


def faults_of(text: str) -> tuple[Fault, ...]:
    """Every fault of a job file's text, in its order; none for a text that can be planned."""
    return shown(text).faults


@lru_cache(maxsize=REMEMBERED)
def odds_of(text: str) -> JobOdds | None:
    """How sure the first cuts of a job are, or None while its text has faults."""
    from drawerwright.job.planning.first_cut_odds import job_odds

    draft = shown(text).draft
    return None if draft is None else job_odds(draft)


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
