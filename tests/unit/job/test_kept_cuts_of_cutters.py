"""Which test cuts are those of a cutter, over all jobs."""

from __future__ import annotations

from drawerwright.job.file.cutter_places import cutter_places
from drawerwright.job.test_cuts.kept_cuts import cuts_with
from drawerwright.store.records import ShelfEntry, ShelfKind


def _cut(number: int, job: int, cutter: str) -> ShelfEntry:
    return ShelfEntry(number, ShelfKind.TRIAL_CUT, "cut", f"job: {job}\ncutter: {cutter}\n", 1, "2026-11-30")


def test_a_cutter_without_a_name_has_the_cuts_of_its_job_alone() -> None:
    shelf = (_cut(1, 7, "cutter"), _cut(2, 8, "cutter"), _cut(3, 8, "small"))
    (unnamed,) = cutter_places({"cutter": {"mid_depth": 5.65}})
    assert [entry.id for entry, _own in cuts_with(unnamed, "cutter", 7, shelf)] == [1]
    (named,) = cutter_places({"cutter": {"name": "small"}})
    assert [(entry.id, own) for entry, own in cuts_with(named, "small", 7, shelf)] == [(3, False)]
