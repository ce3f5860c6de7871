"""Findings beside the field they concern."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.web.fields.field import Field, name_of

if TYPE_CHECKING:
    from drawerwright.basics.findings import Finding, FindingGroup
    from drawerwright.job.glance.at_a_glance import PlacedFinding
    from drawerwright.job.planning.draft import JobDraft


def notices_by_field(
    draft: JobDraft, findings: Iterable[Finding], fields: Sequence[Field], data: Any
) -> tuple[dict[str, list[FindingGroup]], list[FindingGroup]]:
    """Findings by the name of the field they concern, and those that concern none of `fields`.

    A finding of an entry below or above what a field shows belongs to that field; what is said alike of many
    drawers is said once. `data` are the entries as they stand in the text.
    """
    from drawerwright.basics.findings import grouped
    from drawerwright.job.planning.entries_concerned import entries_concerned

    names = {field.path_name for field in fields}
    found: dict[str, list[Finding]] = {}
    rest = []
    for finding in findings:
        places = {
            place for path in entries_concerned(finding, draft, data) if (place := _nearest(path, names))
        }
        for place in places:
            found.setdefault(place, []).append(finding)
        if not places:
            rest.append(finding)
    return {place: list(grouped(beside)) for place, beside in found.items()}, list(grouped(rest))


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
