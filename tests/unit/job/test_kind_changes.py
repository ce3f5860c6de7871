"""Another kind of front, runner or bottom takes out what belonged to the one before."""

from __future__ import annotations

import json

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.kind_changes import kind_drops, with_kind
from drawerwright.job.file.reading import entries_of

STYLE, RUNNER, BOTTOM = ("fronts", "style"), ("runner", "kind"), ("bottom", "style")


@pytest.mark.parametrize(
    ("path", "kind", "gone"),
    [
        (("banks", 1, *STYLE), "lipped", {"stock", "match"}),
        (("banks", 1, *STYLE), "inset", {"stock", "match", "overlay"}),
        (("banks", 0, *STYLE), "applied", set()),
        (("banks", 0, *RUNNER), "side-mounted", {"back", "top", "bottom"}),
        (("banks", 0, *RUNNER), "wooden", set()),
        (("banks", 0, *BOTTOM), "fixed", {"groove_depth", "groove_height"}),
        (("banks", 0, *BOTTOM), "slid", set()),
    ],
)
def test_what_no_longer_applies_goes_and_the_job_stays_without_faults(
    path: tuple[str | int, ...], kind: str, gone: set[str]
) -> None:
    section = path[:3]
    before = entries_of(example_text())[section[0]][section[1]][section[2]]
    text = with_kind(example_text(), path, kind)
    after = entries_of(text)[section[0]][section[1]][section[2]]
    assert set(before) - set(after) == gone
    assert after[path[3]] == kind
    read_job(text)


def test_applied_fronts_begin_with_the_stock_of_the_box() -> None:
    text = with_kind(example_text(), ("banks", 0, *STYLE), "applied")
    assert entries_of(text)["banks"][0]["fronts"]["stock"] == "birch15"


def test_an_overlay_that_keeps_the_fronts_inside_stays_with_inset_ones() -> None:
    data = {
        "banks": [{"fronts": {"style": "lipped", "overlay": {"sides": -2, "top": "-1/8 in", "bottom": 7}}}]
    }
    dropped = list(kind_drops(data, ("banks", 0, *STYLE), "inset"))
    assert dropped == [("banks", 0, "fronts", "overlay", "bottom")]


def test_a_comment_beside_what_stays_is_kept() -> None:
    text = with_kind(example_text(), ("banks", 1, *STYLE), "lipped")
    assert "# The score chest of a music school" in text
    assert "match" not in json.dumps(entries_of(text)["banks"][1])
