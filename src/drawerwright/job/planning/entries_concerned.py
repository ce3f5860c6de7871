"""Which entry of the job file a finding concerns: where it is put right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from drawerwright.basics.findings import Finding
from drawerwright.job.file.drawer_names import drawers_of_row
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.job.job import JobCutter
from drawerwright.job.planning.draft import JobDraft

OF_BANK: dict[str, EntryPath] = {
    "front-is-upright": ("orientation",),
    "front-taller-than-sides": ("side_height",),
    "low-box": ("fronts", "heights"),
    "groove-shows": ("bottom", "groove_depth"),
    "deep-groove": ("bottom", "groove_depth"),
    "groove-through": ("bottom", "groove_depth"),
    "groove-outside": ("bottom", "groove_height"),
    "groove-near-edge": ("bottom", "groove_height"),
    "no-bottom": ("bottom", "stock"),
    "bottom-too-low": ("bottom", "groove_height"),
    "side-too-thick": ("runner", "kind"),
    "box-narrower-than-runners": ("fronts", "overlay", "sides"),
    "applied-front-inside": ("fronts", "overlay", "sides"),
    "overlay-shared": ("fronts", "overlay", "shared"),
    "solid-bottom-held": ("bottom", "style"),
    "solid-bottom-cannot-move": ("bottom", "style"),
    "groove-overloaded": ("bottom", "groove_depth"),
    "bottom-binds-in-groove": ("bottom", "groove_play"),
    "bottom-leaves-groove": ("bottom", "groove_depth"),
    "bottom-meets-carcase": ("bottom", "clearance"),
    "bottom-sags": ("bottom", "stock"),
    "reveal-closes-in-summer": ("fronts", "reveal"),
    "sides-bind-in-summer": ("runner", "top"),
    "pieces-move-apart": ("box", "all"),
    "thickness-moves-past-play": ("climate",),
    "runner-overloaded": ("load",),
    "carcase-may-tip": ("load",),
    "thin-lip": ("fronts", "overlay", "sides"),
    "front-short-of-sides": ("fronts", "overlay", "sides"),
    "bit-height-above-stock": ("box", "all"),
    "thin-roof": ("box", "all"),
    "thin-neck": ("box", "all"),
    "corner-weak-for-use": ("load",),
    "no-neck": ("box", "all"),
    "scoop-too-large": ("fronts", "scoop", "depth"),
    "scoop-closed-behind": ("fronts", "scoop", "depth"),
    "pull-in-scoop": ("fronts", "pull", "below_top"),
    "pull-near-edge": ("fronts", "pull", "below_top"),
    "opening-uneven": ("opening", "measured"),
    "opening-out-of-square": ("opening", "measured"),
    "opening-not-level": ("opening", "measured"),
    "fingers-under-a-lip": ("fronts", "overlay", "sides"),
    "kerf-wider-than-notch": ("joint",),
    "narrow-fingers": ("joint",),
    "wide-fingers": ("joint",),
    "no-room-for-fingers": ("joint",),
    "uneven-end-fingers": ("joint",),
    "long-finger-row": ("joint",),
    "shallow-rebate": ("joint",),
    "deep-rebate": ("joint",),
    "rebate-through": ("joint",),
    "fence-below-step": ("box", "all"),
    "fence-beyond-cutter": ("box", "all"),
}
"""Which entry of a bank a finding concerns, by its code; one about a size concerns that size."""
OF_BOX = OF_BANK | {
    "front-taller-than-sides": ("front_height",),
    "low-box": ("outer", "height"),
    "tray-too-high": ("outer", "height"),
    "thin-lip": ("lip",),
    "front-short-of-sides": ("lip",),
    "fingers-under-a-lip": ("lip",),
}
OF_JOB: dict[str, EntryPath] = {
    "upright-on-short-foot": ("machine", "router_table", "shortest_piece"),
    "fence-beyond-table": ("machine", "router_table", "largest_fence_setting"),
    "gauge-too-coarse": ("machine", "router_table", "height_gauge_step"),
    "sheets-not-proven": ("sheets", "time_limit"),
}
"""Which entry that a job has once a finding concerns, by its code."""
OF_CUTTER = {
    "bit-height-above-cutter": "cutting_height",
    "cutter-too-short": "mid_depth",
    "end-trimmed": "step",
    "step-over-mid-depth": "mid_depth",
    "speed-unknown": "diameter",
    "spindle-too-fast": "max_speed",
}
"""Which entry of a cutter a finding concerns, by its code."""
KEPT_HEIGHT = "bit-height-off"
EMPTY_OPENING = "opening-empty"
OF_STOCK = {
    "part-fits-no-sheet": "sheets",
    "thickness-unlikely": "nominal",
    "wood-not-at-home": "moisture",
    "species-could-be-another": "species",
}
"""Findings about stock concern what was measured, but for these."""


def entries_concerned(finding: Finding, draft: JobDraft, data: Any) -> Iterator[EntryPath]:
    """The entries of a job file that a finding concerns.

    Args:
        finding: about the job, as `draft_findings` has it.
        draft: the job.
        data: its entries as they stand in the text.
    """
    if finding.entry:
        yield finding.entry
        return
    if finding.code in OF_JOB:
        yield OF_JOB[finding.code]
        return
    if finding.code in OF_CUTTER or finding.code == KEPT_HEIGHT:
        for cutter in _cutters(finding, draft):
            own = cutter.place_of("bit_heights")
            if finding.code in OF_CUTTER:
                yield (*cutter.place, OF_CUTTER[finding.code])
            else:
                yield ("bit_heights",) if value_at(data, own) is None else own
        return
    if finding.stock:
        yield ("stock", finding.stock, OF_STOCK.get(finding.code, "measured"))
        return
    if finding.code == EMPTY_OPENING:
        for row, entry in enumerate(rows_at(data, ("openings",))):
            if value_at(entry, ("name",)) == finding.where:
                yield "openings", row, "name"
        return
    drawers = set(finding.drawers)
    rows = dict.fromkeys(
        bank.row for bank in draft.job.banks if not drawers.isdisjoint(box.name for box in bank.boxes)
    )
    for row in rows:
        size = ("opening", finding.size) if finding.size else ("name",)
        yield _entry(("banks", row), OF_BANK.get(finding.code, size), data)
    for row in range(len(rows_at(data, ("boxes",)))):
        if drawers & set(drawers_of_row("boxes", row, data)):
            size = ("outer", finding.size) if finding.size else ("name",)
            yield _entry(("boxes", row), OF_BOX.get(finding.code, size), data)


def _entry(row: EntryPath, within: EntryPath, data: Any) -> EntryPath:
    """An entry of a row. A joint with measures of its own is a section, which names its kind."""
    path = (*row, *within)
    has_measures = within == ("joint",) and isinstance(value_at(data, path), Mapping)
    return (*path, "kind") if has_measures else path


def _cutters(finding: Finding, draft: JobDraft) -> Iterator[JobCutter]:
    """The cutters that a finding is about: the one that it names, else those of its drawers."""
    used = draft.job.cutters_in_use
    named = [cutter for cutter in used if cutter.name == finding.where]
    yield from named or (cutter for cutter in used if finding.concerns(draft.job.drawers_of(cutter)))
