"""Where each finding about drawers begins, from both sides of its limit. The limits are common practice without a
source, as is said beside their constants; the sizes that reach them are worked out by hand, a case a line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from test_assembly import BOX
from test_bank import OVERLAID

from drawerwright.basics.findings import Finding, Severity
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.bank import Bank, FrontStyle, Overlay, Pull
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.carcase_findings import carcase_findings
from drawerwright.drawers.drawer_findings import drawer_findings
from drawerwright.drawers.front_heights import EqualHeights
from drawerwright.drawers.hangers import Hangers
from drawerwright.drawers.opening import Beside, Carcase, Kept, Opening
from drawerwright.drawers.opening_readings import OpeningReadings
from drawerwright.drawers.pull_findings import pull_findings
from drawerwright.drawers.runner_cuts import HookBore, RearCuts, RearNotch
from drawerwright.drawers.runner_findings import runner_findings
from drawerwright.drawers.runners import Runner, RunnerKind
from drawerwright.drawers.scoop import Scoop
from drawerwright.drawers.tray_findings import tray_findings
from drawerwright.joints.corner_key import Orientation
from limits import Limit

INSET = replace(OVERLAID, style=FrontStyle.INSET, overlay=Overlay(-2, -2, -2))
CARCASE = Carcase("desk", 1020, 600, ())
HIGH = replace(BOX, height=300, front_height=300, front_below=0)
BOTTOM = BOX.bottom
assert BOTTOM is not None


def of_drawer(box: DrawerBox) -> Iterable[Finding]:
    return drawer_findings(assemble(box))


def of_bottom(**given: float) -> Iterable[Finding]:
    return of_drawer(replace(BOX, front_below=0, front_height=104, bottom=replace(BOTTOM, **given)))


def hung(**given: float) -> Iterable[Finding]:
    """Folders across a box 420 wide with sides of 14: 392 between them; sides 300 high, floor at 9 + 6."""
    rails = {"span": 389.0, "rail": 3.0, "below": 240.0, "drop": 12.0, **given}
    return of_drawer(replace(HIGH, hangers=Hangers(**rails)))


def scooped(depth: float, width: float = 120) -> Iterable[Finding]:
    return of_drawer(replace(BOX, front_below=0, front_height=104, scoop=Scoop(width, depth, 0)))


def of_bank(runner: Runner, **given: object) -> Iterable[Finding]:
    return runner_findings(replace(OVERLAID, runner=runner, **given), ())


def read(play: float = 1.0, **readings: float) -> Iterable[Finding]:
    """An opening of 500 by 600 as it was measured."""
    opening = Opening(500, 600, 450).measured(OpeningReadings(**readings))
    return carcase_findings([replace(OVERLAID, opening=opening, runner=replace(OVERLAID.runner, play=play))])


def two_banks(overlay: float) -> Iterable[Finding]:
    """Openings of 500 on both sides of a divider of 20: the one's fronts cover 15, the other's `overlay`."""
    left = replace(OVERLAID, name="left", opening=Opening(500, 600, 450, CARCASE, 0, 0))
    right = replace(OVERLAID, name="right", opening=Opening(500, 600, 450, CARCASE, 520, 0))
    return carcase_findings(
        [
            replace(left, overlay=Overlay(5, 0, 0, right=15)),
            replace(right, overlay=Overlay(5, 0, 0, left=overlay)),
        ]
    )


def stacked(overlay: float) -> Iterable[Finding]:
    """Openings of 290 over each other, 20 apart: the lower one's fronts cover 15 of that, the upper one's `overlay`."""
    low = replace(
        OVERLAID, name="low", opening=Opening(500, 290, 450, CARCASE, 0, 0), overlay=Overlay(5, 15, 0)
    )
    high = replace(
        low, name="high", opening=Opening(500, 290, 450, CARCASE, 0, 310), overlay=Overlay(5, 0, overlay)
    )
    return carcase_findings([low, high])


def shared(used: float) -> Iterable[Finding]:
    beside = Beside(right=20, kept=Kept(right=8))
    bank = replace(OVERLAID, opening=Opening(500, 600, 450, CARCASE, beside=beside))
    return carcase_findings(
        [replace(bank, overlay=Overlay(8, 6, 6, right=used), stated_overlay=Overlay(8, 6, 6))]
    )


def planned(width: float, height: float = 600) -> Iterable[Finding]:
    opening = Opening(width, height, 450, CARCASE, planned=(500, 600))
    return carcase_findings([replace(OVERLAID, opening=opening)])


def tray(**given: float) -> Iterable[Finding]:
    """In a box 392 wide inside and 360 - 16 - 15 = 329 deep, with 104 - 9 - 6 = 89 over its bottom."""
    sizes = {"width": 380.0, "depth": 320.0, "height": 60.0, "front_height": 60.0, "lip": 0.0, **given}
    lying = replace(BOX, name="T1", inside="A1", front_below=0, **sizes)
    return tray_findings([lying, BOX])


def pulled(below_top: float) -> Iterable[Finding]:
    """A front of 420 by 104 that is its box's own, flush in an opening as large; a hole of 5."""
    box = replace(BOX, lip=0, front_below=0, front_height=104)
    bank = Bank(
        "one", "A", Opening(420, 104, 400), FrontStyle.INSET, EqualHeights(1), 0, Overlay(), Runner(RunnerKind.NONE),
        16, 14, pull=Pull(0, below_top, 5),
    )  # fmt: skip
    return pull_findings(bank, [assemble(box)])


SIDES_FLAT = replace(BOX, lip=0, orientation=Orientation.SIDES_FLAT)
UNDER = Runner(
    RunnerKind.UNDER, top=8, bottom=14, back=10, inside_deduction=42, thickest_side=16, bottom_recess=13
)
NOTCH = RearNotch(36, 13)


def recess(height: float) -> Iterable[Finding]:
    box = replace(BOX, bottom=replace(BOTTOM, groove_height=height))
    return runner_findings(replace(OVERLAID, runner=replace(UNDER, notch=NOTCH)), [assemble(box)])


def bored(hole: tuple[float, float], notch: RearNotch | None = None) -> Iterable[Finding]:
    """A back of 420 by 104 with a hole of 6 that ends before the groove: beside the inner face at 14, above."""
    beside, above = hole
    rear = RearCuts(notch, HookBore(6, beside=beside, above=above, depth=8))
    bank = replace(OVERLAID, runner=replace(UNDER, notch=NOTCH, bottom_recess=None))
    return runner_findings(bank, [assemble(replace(BOX, bottom=None, rear=rear))])


LIMITS = (
    Limit("front-taller-than-sides", lambda h: of_drawer(replace(BOX, front_below=0, front_height=h)), 104.04, 104.06),
    Limit("front-taller-than-sides", lambda b: of_drawer(replace(BOX, front_height=90, front_below=b)), 0.04, 0.06),
    Limit(
        "low-box", lambda h: of_drawer(replace(BOX, height=h, front_height=h, front_below=0)), 50, 49.9, Severity.NOTE
    ),
    # 128 and 131 less walls of 2 × 14, of 16 and 15.
    Limit("narrow-box", lambda w: of_drawer(replace(BOX, width=w)), 128, 127.9),
    Limit("narrow-box", lambda d: of_drawer(replace(BOX, depth=d)), 131, 130.9),
    # The sides are the thinnest: 14, half of which is 7; the groove is 6.2 wide.
    Limit("deep-groove", lambda d: of_bottom(groove_depth=d), 7.04, 7.06),
    Limit("groove-through", lambda d: of_bottom(groove_depth=d), 13.94, 13.96, Severity.STOP),
    Limit("groove-near-edge", lambda h: of_bottom(groove_height=h), 6.16, 6.14),
    Limit("groove-near-edge", lambda h: of_bottom(groove_height=h), 104 - 12.4 + 0.04, 104 - 12.4 + 0.06),
    Limit("groove-outside", lambda h: of_bottom(groove_height=h), -0.04, -0.06, Severity.STOP),
    Limit("groove-outside", lambda h: of_bottom(groove_height=h), 97.84, 97.86, Severity.STOP),
    # Under a scoop the groove's upper edge at 15.2 leaves 104 - 15.2 - 20 = 68.8; the front is 434 wide.
    Limit("scoop-too-large", scooped, 68.84, 68.86),
    # A front that reaches 8 below has its groove that much higher, at 17 to 23.2: 118 - 23.2 - 20 = 74.8.
    Limit("scoop-too-large", lambda d: of_drawer(replace(BOX, scoop=Scoop(120, d, 0))), 74.84, 74.86),
    Limit("scoop-too-large", lambda w: scooped(30, w), 434 - 40 + 0.08, 434 - 40 + 0.12),
    Limit("folders-too-wide", lambda s: hung(span=s), 389.08, 389.12, Severity.STOP),
    Limit("rails-far-off", lambda s: hung(span=s), 349.0, 348.9, Severity.NOTE),
    Limit("folders-touch-bottom", lambda b: hung(below=b), 273.04, 273.06, Severity.STOP),  # 300 - 12 - 15
    Limit("side-too-thick", lambda t: of_bank(UNDER, side_thickness=t), 16.04, 16.06, Severity.STOP),
    Limit("bottom-too-low", recess, 12.96, 12.94, Severity.STOP),
    # A hole of 6 must lie 3 inside the wood, and 3 beside the notch that ends at 14 + 36 = 50 and is 13 high.
    Limit("hook-hole-outside", lambda a: bored((50, a)), 2.96, 2.94, Severity.STOP),
    Limit("hook-hole-outside", lambda a: bored((50, a)), 101.04, 101.06, Severity.STOP),
    Limit("hook-hole-outside", lambda b: bored((b, 50)), -10.96 + 0.02, -11.06, Severity.STOP),
    Limit("hook-hole-outside", lambda b: bored((b, 10), NOTCH), 38.96, 38.94, Severity.STOP),
    Limit("hook-hole-outside", lambda a: bored((20, a), NOTCH), 15.96, 15.94, Severity.STOP),
    # Under fronts that leave 2, runners of 13 want the front's edge no nearer than 13 to the side.
    Limit("box-narrower-than-runners", lambda g: of_bank(OVERLAID.runner, style=FrontStyle.INSET,
          overlay=Overlay(-2, -2, -2, left=-g)), 13.04, 13.06),
    Limit("box-narrower-than-runners", lambda g: of_bank(OVERLAID.runner, style=FrontStyle.INSET,
          overlay=Overlay(-2, -2, -2, right=-g)), 13.04, 13.06),
    # Widths of 500 with a play of 1: the smallest is used; heights likewise.
    Limit("opening-uneven", lambda w: read(front_above=500, back_below=w), 501, 501.1),
    Limit("opening-not-level", lambda h: read(left=600, right=h), 601, 601.1, Severity.NOTE),
    Limit("opening-not-level", lambda h: read(left=h, right=600), 601, 601.1, Severity.NOTE),
    Limit("fronts-collide", two_banks, 5.04, 5.06, Severity.STOP),
    Limit("fronts-collide", stacked, 5.04, 5.06, Severity.STOP),
    Limit("overlay-shared", shared, 8.04, 8.06, Severity.NOTE),
    Limit("overlay-shared", shared, 7.96, 7.94, Severity.NOTE),
    Limit("opening-exceeds-division", planned, 501, 501.1),
    Limit("opening-exceeds-division", lambda h: planned(500, h), 601, 601.1),
    Limit("tray-too-large", lambda w: tray(width=w), 391.94, 391.96, Severity.STOP),
    Limit("tray-too-large", lambda d: tray(depth=d), 328.94, 328.96, Severity.STOP),
    Limit("tray-too-large", lambda each: tray(width=380, lip=each), 5.97, 5.98, Severity.STOP),
    Limit("tray-too-high", lambda h: tray(height=h), 89.04, 89.06, Severity.STOP),
    Limit("tray-too-high", lambda h: tray(front_height=h), 89.04, 89.06, Severity.STOP),
    Limit("pull-near-edge", pulled, 10.5, 10.49),
    Limit("pull-near-edge", pulled, 104 - 10.5, 104 - 10.49),
)  # fmt: skip


@pytest.mark.parametrize("limit", LIMITS, ids=lambda limit: f"{limit.code} {limit.bad:g}")
def test_a_finding_begins_at_its_limit(limit: Limit) -> None:
    assert limit.code not in {found.code for found in limit.of(limit.good)}
    told = [found for found in limit.of(limit.bad) if found.code == limit.code]
    assert told
    assert {found.severity for found in told} == {limit.severity}
