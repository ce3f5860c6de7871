"""What a job file keeps of accepted test cuts; the app writes it."""

from __future__ import annotations

from pydantic import Field

from drawerwright.job.file.entry_types import Entries, GaugeOffset, Length, PlainJointChoice, PositiveLength


class TaughtEntry(Entries):
    """The values of cutter and gauges that test cuts have taught."""

    mid_depth: Length
    """Of the cutter."""
    step: Length
    """Of the cutter."""
    height_gauge_offset: Length
    """Of the router table."""
    fence_gauge_offset: Length
    """Of the router table."""


class LearntEntry(Entries):
    """What accepted test cuts have settled; in force as long as cutter and gauges are as they were `taught`."""

    taught: TaughtEntry
    """The values of cutter and gauges at the time."""
    height_shown: PositiveLength | None = None
    """What the height gauge must show for the next cut; used even off the marks, if within a step of the
    target.
    """
    fences_shown: tuple[Length, ...] = Field(default=(), max_length=40)
    """What the fence scale must show for the next cut."""
    height_correlation: float = Field(default=0.0, ge=-1, le=1)
    """Between the remaining errors of mid depth and height gauge."""
    fence_correlation: float = Field(default=0.0, ge=-1, le=1)
    """Between the remaining errors of step and fence scale."""


class LearntJointEntry(Entries):
    """What accepted test cuts have taught of the settings of a joint that needs no cutter."""

    joint: PlainJointChoice
    """The joint with its measures, written as in the banks and boxes that use it."""
    off: dict[str, GaugeOffset] = Field(min_length=1)
    """How much more than planned you set, by the names of its settings."""
