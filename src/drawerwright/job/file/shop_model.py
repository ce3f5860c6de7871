"""What a job file says of the shop: its machines, and how long work takes in it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from drawerwright.basics import usual
from drawerwright.job.file.entry_types import (
    Clearance,
    Entries,
    GaugeOffset,
    Minutes,
    Pace,
    PositiveLength,
    TurningSpeed,
    Usual,
)
from drawerwright.joints.table import GAUGE_STEP, USUAL_FEED, Feed
from drawerwright.run.times import Rates
from drawerwright.sheets.band_rules import BOTH_ENDS
from drawerwright.sheets.kerf_test import USUAL_CUTS
from drawerwright.sheets.saw import ONE_AT_A_TIME, USUAL_TOLERANCE

_STANDARD_RATES = Rates()


class KerfTestEntry(Entries):
    """A strip of scrap, measured before and after some cuts along it; what it shows is used instead of `kerf`."""

    before: PositiveLength | None = None
    """Width of the strip."""
    after: PositiveLength | None = None
    """Width of all its pieces pushed together."""
    cuts: int = Field(default=USUAL_CUTS, ge=1, le=100)
    """How many cuts were made."""


class SawEntry(Entries):
    kerf: Clearance = 3.0
    """Width of the saw cut, lost between any two neighbours."""
    kerf_test: KerfTestEntry = KerfTestEntry()
    """A test that measures the width of the saw cut."""
    trim: Clearance = 0.0
    """What to trim off every edge of a new sheet."""
    stack: int = Field(default=ONE_AT_A_TIME, ge=1, le=10)
    """How many equal sheets you stack and cut together at most."""
    cutting_height: PositiveLength | None = None
    """The thickest stack the blade cuts through."""
    tolerance: Clearance = USUAL_TOLERANCE
    """How far a part may come out off its size, either way (common practice, no source)."""


class RouterTableEntry(Entries):
    tallest_upright: PositiveLength | None = None
    """The tallest piece you can run standing on its end."""
    longest_band: PositiveLength | None = None
    """The longest band the table supports."""
    shortest_piece: Clearance = 150.0
    """The shortest routed edge that is safe to hold (common practice, no source)."""
    height_gauge_offset: GaugeOffset = usual.UNKNOWN_GAUGE
    """How much the height gauge reads high."""
    fence_gauge_offset: GaugeOffset = usual.UNKNOWN_GAUGE
    """How much the fence scale reads high."""
    largest_fence_setting: PositiveLength | None = None
    """How far the cutter can stand out of the fence."""
    feed: Feed = USUAL_FEED
    """Which way pieces pass the cutter, as you face the fence; set-ups are drawn as they leave it."""
    repeatability: Annotated[Clearance | None, Usual(usual.REPEATABILITY)] = None
    """Standard deviation of a setting dialled in again."""
    height_gauge_step: Annotated[PositiveLength | None, Usual(GAUGE_STEP)] = None
    """Distance between the gauge's marks, or the step of its display; 0.002 in by default if `shown` is in
    inches (common practice, no source).
    """
    fence_gauge_step: Annotated[PositiveLength | None, Usual(GAUGE_STEP)] = None
    """The same for the fence scale."""
    speeds: tuple[TurningSpeed, ...] = ()
    """The spindle speeds to choose from."""


class SacrificialEntry(Entries):
    width: Clearance = 0.0
    """Width of the strip that takes the tear-out; 0 for none."""
    ends: Literal[1, 2] = BOTH_ENDS
    """2 protects both edges, since the exit end of the first edge is the entry end of the second; with 1, use a backer
    block for the second edge."""


class MachineEntry(Entries):
    name: str = "machine"
    """Name of these machines on the shop's shelf."""
    saw: SawEntry = SawEntry()
    """The saw."""
    router_table: RouterTableEntry = RouterTableEntry()
    """The router table and its gauges."""
    sacrificial_strip: SacrificialEntry = SacrificialEntry()
    """A strip at the ends of a band."""
    calipers: Annotated[Clearance | None, Usual(usual.CALIPERS_ZERO)] = None
    """Standard uncertainty of their zero, shared by every thickness measured with them."""


class RatesEntry(Entries):
    """How long work takes; the standing figures are a first guess for one person (no source)."""

    sheet: Minutes = _STANDARD_RATES.sheet
    """Get a sheet to the saw."""
    saw_cut: Minutes = _STANDARD_RATES.saw_cut
    """Make a saw cut."""
    saw_setting: Minutes = _STANDARD_RATES.saw_setting
    """Set the rip fence."""
    router_setting: Minutes = _STANDARD_RATES.router_setting
    """Set bit height and fence, without the test cut."""
    cutter_change: Minutes = _STANDARD_RATES.cutter_change
    """Change the cutter."""
    test_cut: Minutes = _STANDARD_RATES.test_cut
    """Make a test cut."""
    router_pass: Minutes = _STANDARD_RATES.router_pass
    """Pick up, place and put down one piece at the router table."""
    feed_m_per_min: Pace = _STANDARD_RATES.feed_m_per_min
    """Feed at the router table."""
    groove_pass: Minutes = _STANDARD_RATES.groove_pass
    """Make a pass for a groove."""
    pull_hole: Minutes = _STANDARD_RATES.pull_hole
    """Mark and drill a hole for a pull or a hook."""
    scoop: Minutes = _STANDARD_RATES.scoop
    """Cut a scoop into a front."""
    back_notch: Minutes = _STANDARD_RATES.back_notch
    """Mark and saw a notch in a back."""
    glue_up: Minutes = _STANDARD_RATES.glue_up
    """Glue up a drawer."""
    rail: Minutes = _STANDARD_RATES.rail
    """Cut and fix a rail for folders."""
    runners: Minutes = _STANDARD_RATES.runners
    """Fit a pair of runners."""
    applied_front: Minutes = _STANDARD_RATES.applied_front
    """Fit an applied front."""
    banding_m_per_min: Pace = _STANDARD_RATES.banding_m_per_min
    """Edge banding."""
