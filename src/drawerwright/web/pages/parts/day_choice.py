"""Which day of a job that is split a page shows, and how its links say so."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request

from drawerwright.store.records import JobRecord
from drawerwright.web.fields import job_text

LONGEST_DAY = 3
"""Digits of a day's number in an address; no job is split into more days."""


def days_of(job: JobRecord) -> tuple[tuple[str, ...], ...]:
    """The drawers of each day of a job that is split; empty for one that is not, or has faults."""
    found = job_text.job_of(job.text)
    return () if found is None else found.days


def day_of(request: Request, job: JobRecord) -> int | None:
    """The day that the address asks for, the first where it names none; None where the job is not split."""
    count = len(days_of(job))
    if not count:
        return None
    asked = request.query_params.get("day", "")
    return min(int(asked), count) if chosen_day(request) and int(asked) else 1


def day_context(request: Request, job: JobRecord) -> dict[str, Any]:
    """What templates need to speak of a day: its number, and how an address names it, alone or after something."""
    day = day_of(request, job)
    return {
        "day": day,
        "days": days_of(job),
        "only_day": f"?day={day}" if day else "",
        "and_day": f"&day={day}" if day else "",
    }


def day_part(asked: str) -> str:
    """A day that a form carries along, after something else in an address."""
    return f"&day={asked}" if asked.isdecimal() and len(asked) <= LONGEST_DAY else ""


def chosen_day(request: Request) -> str:
    """What the links to the job's other pages carry on: the day that the address names, if it does."""
    asked = request.query_params.get("day", "")
    return f"?day={asked}" if asked.isdecimal() and len(asked) <= LONGEST_DAY else ""
