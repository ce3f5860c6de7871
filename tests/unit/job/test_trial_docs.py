"""The description of the trial file names every entry, every reading and everything that can be seen."""

from pathlib import Path

import pytest

from drawerwright.job.file.trial_model import CutEntry, Sight, TrialFile, WantedEntry
from drawerwright.joints.readings import ReadingKind

DOCS = (Path(__file__).parents[3] / "docs" / "test-cuts.md").read_text("utf-8")


@pytest.mark.parametrize("name", [*TrialFile.model_fields, *CutEntry.model_fields])
def test_every_entry_is_described(name):
    assert any(f"`{name}{end}" in DOCS for end in ("`", ":", ".")), name


@pytest.mark.parametrize("name", WantedEntry.model_fields)
def test_every_wish_is_described(name):
    assert f"`wanted.{name}`" in DOCS


@pytest.mark.parametrize("kind", ReadingKind)
def test_every_reading_is_described(kind):
    assert f"`{kind}`" in DOCS or f"`{kind}:" in DOCS


@pytest.mark.parametrize("sight", Sight)
def test_everything_seen_is_described(sight):
    assert f"`seen: {sight}`" in DOCS
