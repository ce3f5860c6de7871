"""New entries of a job file: what they begin with."""

from __future__ import annotations

from drawerwright.job.file.fresh_entries import next_item


def test_a_new_row_has_a_name_that_no_counted_drawer_has() -> None:
    """Three trays are called tray 1 to tray 3: the next entry, like it but for its name, must be none of them."""
    trays = {"name": "tray", "count": 3}
    assert next_item("boxes", [trays], {}) == {"name": "tray 4", "count": 3}
    assert next_item("boxes", [trays, {"name": "tray 4"}], {})["name"] == "tray 5"
    assert next_item("boxes", [{"name": "tray", "count": "three"}], {})["name"] == "tray 2"
