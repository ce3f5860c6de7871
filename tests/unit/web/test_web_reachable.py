"""Every entry that a job file may have can be reached from a page."""

from __future__ import annotations

import html
import json
import re
import typing
from collections.abc import Iterator

import pytest
from pydantic import BaseModel
from starlette.testclient import TestClient

from drawerwright.job.file.model import JobFile
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
EACH = "*"
"""Stands for any item of a list, and for any name that the user gives."""
ELSEWHERE = {
    "format": "the version of the file: the program writes it",
    "cutter.id": "the first name: the program writes it when the name changes",
    "stock.*.id": "the first name: the program writes it when the name changes",
    "cutter.points": "loaded as a profile on the cutter's page",
    "cutter.profile": "a file beside a job file; a job in the app has the points instead",
    "cutter.profile_uncertainty": "typed with the profile that is loaded on the cutter's page",
    "boxes.*.banding.applied_front": "a plain box has no applied front",
    "stock.*.offcuts.*.price": "an offcut on the rack is paid for",
    **{
        f"learnt.{name}": "test cuts settle it when they are accepted"
        for name in (
            *(
                f"taught.{value}"
                for value in ("mid_depth", "step", "height_gauge_offset", "fence_gauge_offset")
            ),
            *("height_shown", "fences_shown", "height_correlation", "fence_correlation"),
        )
    },
}
JOB = """\
format: 1
job: All entries
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  birch: {nominal: 15, sheets: [{length: 2500, width: 1250}], offcuts: [{length: 500, width: 400}]}
banks:
  - &bank
    name: one
    opening: {width: 460, height: 740, depth: 430}
    fronts: {style: applied, stock: birch, heights: {given: [100, rest]}, pull: {hole: 5}}
    box: {all: birch}
    bottom: {stock: birch}
    banding: {thickness: 1}
  - {<<: *bank, name: two, fronts: {style: inset, heights: {equal: 3}}}
  - {<<: *bank, name: three, fronts: {style: inset, heights: {arithmetic: {count: 3, step: 10}}}}
  - {<<: *bank, name: four, fronts: {style: inset, heights: {geometric: {count: 3, ratio: 1.2}}}}
boxes:
  - name: tray
    outer: {width: 300, depth: 400, height: 90}
    box: {all: birch}
    bottom: {stock: birch}
    banding: {thickness: 1}
"""
PAGES = ("drawers", "cutter", "stock")


def entries_of(model: type[BaseModel], above: tuple[str, ...] = ()) -> Iterator[str]:
    """Every entry that holds a value of its own, named from the outside in."""
    for name, field in model.model_fields.items():
        path = (*above, name)
        inner = [kind for kind in unpacked(field.annotation) if is_model(kind)]
        if not inner:
            yield ".".join(path)
        below = (*path, EACH) if typing.get_origin(field.annotation) in (tuple, dict) else path
        for kind in inner:
            yield from entries_of(kind, below)


def is_model(kind: object) -> typing.TypeGuard[type[BaseModel]]:
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def unpacked(annotation: object) -> list[object]:
    return [annotation, *(kind for arg in typing.get_args(annotation) for kind in unpacked(arg))]


@pytest.fixture(scope="module")
def reached(tmp_path_factory: pytest.TempPathFactory) -> Iterator[set[str]]:
    shop = Shop(tmp_path_factory.mktemp("shop"))
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    assert client.post("/jobs/import", files={"file": ("job.yaml", JOB.encode())}).status_code == 200
    found = set()
    for page in PAGES:
        text = client.get(f"/jobs/1/{page}").text
        for values in re.findall(r'hx-post="/jobs/1/entry".*?hx-vals="([^"]*)"', text):
            found.add(named(json.loads(json.loads(html.unescape(html.unescape(values)))["path"])))
    yield found
    shop.database.close()


def named(path: list[str | int]) -> str:
    steps = [EACH if isinstance(step, int) else step for step in path]
    if steps[0] == "stock":
        steps[1] = EACH
    return ".".join(steps)


@pytest.mark.parametrize("entry", sorted(set(entries_of(JobFile))))
def test_every_entry_has_a_field_or_a_reason(reached: set[str], entry: str) -> None:
    assert (entry in reached) != (entry in ELSEWHERE)


def test_no_field_stands_for_an_entry_that_there_is_not(reached: set[str]) -> None:
    sections = {entry.rsplit(".", depth)[0] for entry in entries_of(JobFile) for depth in range(6)}
    assert reached <= sections
