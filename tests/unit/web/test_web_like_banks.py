"""Fields of a bank that is like another: what is taken over can be refused, and says where it comes from."""

from __future__ import annotations

import json
import re

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.reading import entries_of
from drawerwright.web.fields.typed_changes import change
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.server.shop import Shop
from opened_panels import with_panels_open

TEXT = example_text().replace(
    "boxes:",
    "  - {name: Quartets, like: Orchestra parts, opening: {width: 500, height: 742, depth: 436}}\nboxes:",
    1,
)
BANDING, STOCK = ("banks", 2, "banding"), ("banks", 2, "bottom", "stock")
READER = Preferences()


def test_a_section_that_is_taken_over_can_be_unticked_and_ticked_again() -> None:
    """Orchestra parts have banded fronts and bottoms."""
    assert read_job(TEXT).banks[2].boxes[0].banding.applied_front
    without = change(TEXT, BANDING, "part", "", READER)
    assert "banding" in entries_of(without)["banks"][2]
    assert not read_job(without).banks[2].boxes[0].banding.applied_front
    assert read_job(without).banks[1].boxes[0].banding.applied_front
    again = change(without, BANDING, "part", "yes", READER)
    assert entries_of(again) == entries_of(TEXT)
    bare = change(TEXT, STOCK, "choice", "", READER)
    assert read_job(bare).banks[2].boxes[0].bottom is None
    assert read_job(change(bare, STOCK, "choice", "birch6", READER)).banks[2].boxes[0].bottom is not None


@pytest.mark.parametrize("kind", ["yes", "usual"])
def test_a_tick_that_is_taken_over_can_be_taken_out(kind: str) -> None:
    path = (
        ("banks", 2, "fronts", "grain_upright") if kind == "yes" else ("banks", 2, "banding", "applied_front")
    )
    said = kind == "yes"
    other = (*path[:1], 1, *path[2:])
    text = change(TEXT, other, kind, "yes" if said else "", READER)  # type: ignore[arg-type]
    own = change(text, path, kind, "" if said else "yes", READER)  # type: ignore[arg-type]
    written = entries_of(own)["banks"][2][path[2]][path[3]]
    assert written is not said
    assert (
        entries_of(change(own, path, kind, "yes" if said else "", READER))["banks"][2].get(path[2], {}) == {}
    )  # type: ignore[arg-type]


def test_a_field_says_which_bank_its_value_is_from(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("like", TEXT, "")
    page = with_panels_open(client, "/jobs/2/drawers")
    assert page.count("as in bank Orchestra parts") > 10
    own = {"path": json.dumps(BANDING), "kind": "part", "base": "1", "value": ""}
    assert client.post("/jobs/2/entry", data=own).status_code < 300
    # Without the section, its thickness and where it goes.
    after = with_panels_open(client, "/jobs/2/drawers")
    box = re.search(r'id="banks-2-banding"[^>]*', after)
    assert box is not None
    assert "checked" not in box[0]
    assert after.count("as in bank Orchestra parts") == page.count("as in bank Orchestra parts") - 3
