"""Spindle speeds as they are written: a sign between thousands makes a speed that no spindle has."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("max_speed: 16000", "max_speed: 18.000", "cutter.max_speed"),
        ("speeds: [8000,", "speeds: [8.0,", "machine.router_table.speeds[1]"),
        ("max_speed: 16000", "max_speed: -4", "cutter.max_speed"),
    ],
)
def test_no_spindle_turns_so_slowly(old: str, new: str, field: str) -> None:
    assert old in example_text()
    with pytest.raises(
        FaultyInputError, match="without a separator between thousands, as in 18000"
    ) as refused:
        read_job(example_text().replace(old, new))
    assert [fault.field for fault in refused.value.faults] == [field]
