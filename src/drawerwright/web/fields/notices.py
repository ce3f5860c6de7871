"""Findings beside the field they concern."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.web.fields.field import Field, name_of

if TYPE_CHECKING:
    from drawerwright.basics.findings import Finding
    from drawerwright.job.job import Job
    from drawerwright.job.planning.draft import JobDraft

OF_BANK: dict[str, EntryPath] = {
    "front-is-upright": ("orientation",),
    "front-taller-than-sides": ("side_height",),
    "low-box": ("fronts", "heights"),
    "groove-shows": ("bottom", "groove_depth"),
    "deep-groove": ("bottom", "groove_depth"),
    "groove-outside": ("bottom", "groove_height"),
    "groove-near-edge": ("bottom", "groove_height"),
    "bottom-too-low": ("bottom", "groove_height"),
    "side-too-thick": ("runner", "kind"),
    "runner-has-no-room": ("runner", "kind"),
    "band-too-tall": ("opening", "depth"),
    "solid-bottom-held": ("bottom", "style"),
    "thin-lip": ("fronts", "overlay", "sides"),
    "front-short-of-sides": ("fronts", "overlay", "sides"),
    "bit-height-above-stock": ("box", "all"),
    "thin-roof": ("box", "all"),
    "thin-neck": ("box", "all"),
    "no-neck": ("box", "all"),
    "fence-below-step": ("box", "all"),
    "fence-beyond-cutter": ("box", "all"),
}
"""Which entry of a bank a finding concerns, by its code."""
OF_BOX = OF_BANK | {
    "front-taller-than-sides": ("front_height",),
    "low-box": ("outer", "height"),
    "band-too-tall": ("outer", "depth"),
    "thin-lip": ("lip",),
    "front-short-of-sides": ("lip",),
}
OF_JOB: dict[str, EntryPath] = {
    "upright-on-short-foot": ("machine", "router_table", "shortest_piece"),
    "bit-height-off": ("bit_heights",),
    "bit-height-above-cutter": ("cutter", "cutting_height"),
    "cutter-too-short": ("cutter", "mid_depth"),
    "end-trimmed": ("cutter", "step"),
    "fence-beyond-table": ("machine", "router_table", "largest_fence_setting"),
    "speed-unknown": ("cutter", "diameter"),
    "spindle-too-fast": ("cutter", "max_speed"),
}
"""Which entry that a job has once a finding concerns, by its code."""
OF_STOCK = {"part-fits-no-sheet": "sheets"}
"""Findings about stock concern what was measured, but for these."""


@dataclass(frozen=True, slots=True)
class Notice:
    """One finding, with every place where it was found."""

    finding: Finding
    where: tuple[str, ...]


def notices_by_field(
    draft: JobDraft, findings: Iterable[Finding], fields: Sequence[Field], data: Any
) -> tuple[dict[str, list[Notice]], list[Finding]]:
    """Findings by the name of the field they concern, and those that concern none of `fields`.

    A finding of an entry below or above what a field shows belongs to that field; what is said alike of many
    drawers is said once. `data` are the entries as they stand in the text.
    """
    names = {field.path_name for field in fields}
    found: dict[tuple[str, str, str], list[Finding]] = {}
    rest = []
    for finding in findings:
        places = {place for path in _paths_of(finding, draft, data) if (place := _nearest(path, names))}
        for place in places:
            found.setdefault((place, finding.code, finding.text), []).append(finding)
        if not places:
            rest.append(finding)
    notices: dict[str, list[Notice]] = {}
    for (place, _code, _text), group in found.items():
        notices.setdefault(place, []).append(Notice(group[0], tuple(finding.where for finding in group)))
    return notices, rest


def findings_of(job: Job | None) -> tuple[JobDraft | None, tuple[Finding, ...]]:
    """A job's draft and what is doubtful about it; nothing for a job with faults."""
    if job is None:
        return None, ()
    from drawerwright.job.planning.draft import draft_job
    from drawerwright.job.planning.job_findings import draft_findings

    draft = draft_job(job)
    return draft, draft_findings(draft)


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


def _paths_of(finding: Finding, draft: JobDraft, data: Any) -> Iterator[EntryPath]:
    if finding.code in OF_JOB:
        yield OF_JOB[finding.code]
        return
    if finding.stock:
        yield ("stock", finding.stock, OF_STOCK.get(finding.code, "measured"))
        return
    drawers = set(finding.drawers)
    for row, bank in enumerate(draft.job.banks):
        if not drawers.isdisjoint(box.name for box in bank.boxes):
            yield ("banks", row, *OF_BANK.get(finding.code, ("name",)))
    for row, entry in enumerate(rows_at(data, ("boxes",))):
        if drawers & set(_names_of(entry)):
            yield ("boxes", row, *OF_BOX.get(finding.code, ("name",)))


def _names_of(entry: Any) -> Iterator[str]:
    """The drawers of one entry of boxes, as the job names them."""
    name, count = str(value_at(entry, ("name",))), value_at(entry, ("count",))
    if not isinstance(count, int) or count == 1:
        yield name
    else:
        yield from (f"{name} {number}" for number in range(1, count + 1))
