"""What is far too much of something is refused in a moment, and told in few words."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

from drawerwright.basics.errors import DrawerwrightError, FaultyInputError
from drawerwright.basics.loads import parse_load
from drawerwright.basics.typed_lengths import parse_length, unit_named
from drawerwright.job.file.building import read_job
from drawerwright.job.file.entry_types import parse_given
from drawerwright.job.file.first_jobs import example_text

EXAMPLE = example_text()
AT_ONCE = 0.2
"""Seconds of computing. Before lengths were bounded, 30,000 blanks took 25."""


@pytest.mark.parametrize("read", [parse_length, parse_load, parse_given, unit_named])
@pytest.mark.parametrize(
    "text", [" " * 30_000 + "x", "1" + " " * 30_000 + "x", "1' " * 30_000, "1" * 30_000, "±" * 30_000]
)
def test_a_length_of_thirty_thousand_characters(read: Callable[[str], object], text: str) -> None:
    began = time.process_time()
    try:
        assert read(text) is None
    except DrawerwrightError as refused:
        said = str(refused)
        assert len(said) < 200
    assert time.process_time() - began < AT_ONCE


@pytest.mark.parametrize("brackets", ["[" * 3000, "[" * 3000 + "]" * 3000, "{a: " * 3000, "[{a: " * 3000])
def test_three_thousand_brackets(brackets: str) -> None:
    began = time.process_time()
    with pytest.raises(FaultyInputError, match="nested too deeply"):
        read_job(f"{EXAMPLE}x: {brackets}")
    assert time.process_time() - began < AT_ONCE


def test_brackets_side_by_side_are_not_nested() -> None:
    days = ", ".join(["[]"] * 150)
    with pytest.raises(FaultyInputError, match="has no drawers"):
        read_job(f"{EXAMPLE}days: [{days}]")


def test_thousands_of_faults_are_counted_and_the_first_hundred_told() -> None:
    with pytest.raises(FaultyInputError) as refused:
        read_job(EXAMPLE + "".join(f"u{number}: 1\n" for number in range(1, 2001)), "job.yaml")
    faults = refused.value.faults
    assert len(faults) == 101
    assert [fault.field for fault in faults[:100]] == [f"u{number}" for number in range(1, 101)]
    assert faults[-1].message == "and 1,900 more faults"
    assert len(refused.value.found) == 2000
    assert str(refused.value).endswith("\njob.yaml: and 1,900 more faults")


def test_many_unknown_entries_take_no_time_for_each_pair() -> None:
    """What was looked through again for every section grew with the square: 36 s for 20,000."""

    def seconds(count: int) -> float:
        began = time.process_time()
        with pytest.raises(FaultyInputError):
            read_job(EXAMPLE + "".join(f"u{number}: 1\n" for number in range(count)))
        return time.process_time() - began

    seconds(10)
    assert seconds(1200) < 6 * seconds(300) + AT_ONCE
