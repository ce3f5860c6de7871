"""Findings with their numbers at the fields that they concern."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.web.fields.field import Field, name_of

if TYPE_CHECKING:
    from drawerwright.basics.findings import Finding
    from drawerwright.job.glance.at_a_glance import PlacedFinding
    from drawerwright.job.planning.draft import JobDraft
    from drawerwright.job.planning.shown_job import ShownJob


def findings_on_page(now: ShownJob, fields: Sequence[Field], data: Any) -> dict[str, Any]:
    """Findings that concern some of a page's `fields`, for `finding_rows.html`: rows, numbers at fields, ways there.

    `data` are the entries as they stand in the text; a job with faults has no findings.
    """
    if now.draft is None:
        return {"findings": (), "numbers": {}, "finding_place": lambda _placed: None}
    placed, numbers = numbered_findings(now.draft, now.findings, fields, data)
    first = {number: field for field in reversed(fields) for number in numbers.get(field.path_name, ())}
    return {
        "findings": tuple(each for each in placed if each.number in first),
        "numbers": numbers,
        "finding_place": lambda each: (f"#{first[each.number].id}", first[each.number].label),
    }


def numbered_findings(
    draft: JobDraft, findings: Iterable[Finding], fields: Sequence[Field], data: Any
) -> tuple[tuple[PlacedFinding, ...], dict[str, list[int]]]:
    """Findings in their order, what is said alike together, each with its number; and the numbers by the names of the
    `fields` that they concern. `data` are the entries as they stand in the text."""
    from drawerwright.job.glance.at_a_glance import placed_findings
    from drawerwright.job.planning.entries_concerned import entries_concerned

    names = {field.path_name for field in fields}
    placed = placed_findings(draft, findings, data)
    numbers: dict[str, list[int]] = {}
    for each in placed:
        paths = (path for one in each.group.members for path in entries_concerned(one, draft, data))
        for place in dict.fromkeys(_nearest(path, names) for path in paths):
            if place is not None:
                numbers.setdefault(place, []).append(each.number)
    return placed, numbers


def _nearest(path: EntryPath, names: set[str]) -> str | None:
    """The field that shows an entry, or a part of it, or what it is part of."""
    for end in range(len(path), 0, -1):
        name = name_of(path[:end])
        if name in names:
            return name
        if end > 2 or path[0] == "cutter":
            below = next(
                (other for other in sorted(names) if other.startswith((f"{name}.", f"{name}["))), None
            )
            if below is not None:
                return below
    return None
