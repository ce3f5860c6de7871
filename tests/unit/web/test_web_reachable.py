"""Every entry that a job file may have can be reached from a page."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.described import EACH, described
from drawerwright.job.file.model import JobFile
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from opened_panels import with_panels_open

DESK = "http://127.0.0.1:8744"
ELSEWHERE = {
    "format": "the version of the file: the program writes it",
    "units": "it rules every bare number of the file: set when the job is made, or in its text",
    "cutter.id": "the first name: the program writes it when the name changes",
    "stock.*.id": "the first name: the program writes it when the name changes",
    "cutter.points": "loaded as a profile on the cutter's page",
    "cutter.profile": "a file beside a job file; a job in the app has the points instead",
    "cutter.profile_uncertainty": "typed with the profile that is loaded on the cutter's page",
    "boxes.*.banding.applied_front": "a plain box has no applied front",
    "stock.*.offcuts.*.price": "an offcut on the rack is paid for",
    "cutters.*.id": "the first name: the program writes it when the name changes",
    "cutters.*.points": "loaded as a profile on the cutter's page",
    "cutters.*.profile": "a file beside a job file; a job in the app has the points instead",
    "cutters.*.profile_uncertainty": "typed with the profile that is loaded on the cutter's page",
    **{f"learnt_joints.*.{name}": "test cuts settle it when they are accepted" for name in ("joint", "off")},
    **{
        f"{place}learnt.{name}": "test cuts settle it when they are accepted"
        for place in ("", "cutters.*.")
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
openings:
  - name: whole
    opening: {width: 900, height: 700, depth: 430, measured: {left: 700}}
    dividers: {thickness: 18, columns: 2}
    frame: {stile: 40, rail: 40, board: 18}
  - name: part
    opening: {of: whole, column: 1, row: 1, measured: {left: 660}}
    dividers: {thickness: 18, horizontal: [300]}
prices: {screws: {count: 100}, edging: {length: 50000}, glue: {grams: 500}}
climates:
  loft: {dry: {temperature: 20, humidity: 30}, damp: {temperature: 28, humidity: 65}}
runners:
  slide:
    kind: under-mounted
    lengths: [{length: 400, load: 30}]
    notch: {width: 36, height: 13}
    bore: {diameter: 6, beside: 7, above: 18}
    locking: {width: 50, depth: 80, height: 12}
banks:
  - &bank
    name: one
    opening: {width: 460, height: 740, depth: 430, measured: {left: 740}}
    fronts:
      style: applied
      stock: birch
      heights: {given: [100, rest]}
      pull: {hole: 5}
      scoop: {width: 90, depth: 25}
    runner:
      kind: under-mounted
      lengths: [{length: 400, load: 30}]
      notch: {width: 36, height: 13}
      bore: {diameter: 6, beside: 7, above: 18}
      locking: {width: 50, depth: 80, height: 12}
    box: {all: birch}
    bottom: {stock: birch}
    banding: {thickness: 1}
    hangers: {span: 330}
    single_drawers: [{number: 2}]
  - <<: *bank
    name: two
    opening: {of: whole, column: 2, row: 1, measured: {left: 656}}
    fronts: {style: inset, heights: {equal: 3}}
  - {<<: *bank, name: three, fronts: {style: inset, heights: {arithmetic: {count: 3, step: 10}}}}
  - {<<: *bank, name: four, fronts: {style: inset, heights: {geometric: {count: 3, ratio: 1.2}}}}
boxes:
  - name: tray
    outer: {width: 300, depth: 400, height: 90}
    box: {all: birch}
    bottom: {stock: birch}
    banding: {thickness: 1}
    hangers: {span: 250}
    inside: A1
"""
SEVERAL = JOB.replace(
    "cutter: {mid_depth: 5.65, step: 3.45}",
    "cutters: {large: {mid_depth: 5.65, step: 3.45}, small: {mid_depth: 4.1, step: 2.6}}",
)
"""The same with two cutters; which one a bank takes is not said, and asked."""
ENTRIES = [".".join(entry.path) for entry in described(JobFile) if not entry.sections]
"""Every entry that holds a value of its own."""
PAGES = ("drawers", "cutter", "stock")


@pytest.fixture(scope="module")
def reached(tmp_path_factory: pytest.TempPathFactory) -> Iterator[set[str]]:
    shop = Shop(tmp_path_factory.mktemp("shop"))
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    found = set()
    for number, text in enumerate((JOB, SEVERAL), start=1):
        sent = client.post("/jobs/import", files={"file": ("job.yaml", text.encode())})
        assert sent.status_code == 200
        for page in PAGES:
            shown = with_panels_open(client, f"/jobs/{number}/{page}")
            for values in re.findall(rf'hx-post="/jobs/{number}/entry".*?hx-vals="([^"]*)"', shown):
                found.add(named(json.loads(json.loads(html.unescape(html.unescape(values)))["path"])))
    yield found
    shop.database.close()


def named(path: list[str | int]) -> str:
    steps = [EACH if isinstance(step, int) else step for step in path]
    if steps[0] in ("stock", "cutters", "runners", "climates"):
        steps[1] = EACH
    return ".".join(steps)


@pytest.mark.parametrize("entry", ENTRIES)
def test_every_entry_has_a_field_or_a_reason(reached: set[str], entry: str) -> None:
    assert (entry in reached) != (entry in ELSEWHERE)


def test_no_field_stands_for_an_entry_that_there_is_not(reached: set[str]) -> None:
    sections = {entry.rsplit(".", depth)[0] for entry in ENTRIES for depth in range(6)}
    assert reached <= sections
