"""What a sheet of runners asks of a drawer: lengths, notches, bores, room. All figures are ours, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Severity
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.assembly import AssembledDrawer, assemble
from drawerwright.drawers.bank import Bank, FrontStyle, Overlay
from drawerwright.drawers.bottom import Bottom, BottomStyle
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.carcase import runner_use
from drawerwright.drawers.front_heights import EqualHeights
from drawerwright.drawers.opening import Opening
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.runner_cuts import Hole, HookBore, Locking, Notch, RearCuts, RearNotch
from drawerwright.drawers.runner_findings import runner_findings
from drawerwright.drawers.runners import Runner, RunnerKind, RunnerLength, standing_runner
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness

LENGTHS = (RunnerLength(350, 25), RunnerLength(450, 35), RunnerLength(550, 45))
SHEET = Runner(
    RunnerKind.UNDER,
    top=8,
    bottom=14,
    back=10,
    inside_deduction=42,
    bottom_recess=13,
    name="kitchen 16",
    lengths=LENGTHS,
    notch=RearNotch(36, 13),
    bore=HookBore(6, beside=7, above=18, depth=10),
    locking=Locking(52, 80, 12.5),
)
NOTCHED = RearCuts(SHEET.notch, SHEET.bore)


def board(thickness: float) -> Stock:
    return Stock(f"board {thickness}", Panel.OTHER, Thickness(thickness, ((thickness,),)))


def bottom(height: float = 13, style: BottomStyle = BottomStyle.CAPTURED) -> Bottom:
    return Bottom(style, board(6), groove_depth=5, groove_height=height, groove_play=0.2, clearance=1)


BOX = DrawerBox(
    "A1",
    width=420,
    depth=450,
    height=104,
    front_height=104,
    front=board(16),
    side=board(14),
    back=board(15),
    made_by=Cutter("drawer-lock", mid_depth=Estimate(5.5), step=Estimate(3.6)),
    bottom=bottom(),
    rear=NOTCHED,
)
BANK = Bank(
    "cards",
    "A",
    Opening(434, 140, 470),
    FrontStyle.APPLIED,
    EqualHeights(1),
    reveal=2,
    overlay=Overlay(6, 6, 6),
    runner=SHEET,
    front_thickness=18,
    side_thickness=14,
)


@pytest.mark.parametrize(
    ("usable", "length", "rating"), [(459.9, 350, 25), (460, 450, 35), (559, 450, 35), (900, 550, 45)]
)
def test_the_longest_that_fits_is_taken(usable: float, length: float, rating: float) -> None:
    """450 and 10 behind it need 460."""
    assert SHEET.chosen(usable) == RunnerLength(length, rating)
    assert SHEET.box_depth(usable) == length


def test_a_stated_length_goes_first_and_keeps_its_rating() -> None:
    assert replace(SHEET, length=350.0).chosen(900) == RunnerLength(350, 25)
    assert replace(SHEET, length=300.0).chosen(900) == RunnerLength(300, None)


def test_none_that_fits_is_said_with_the_shortest() -> None:
    with pytest.raises(
        InvalidValueError, match="runner of 350 mm with 10 mm behind it needs more than the 359"
    ):
        SHEET.chosen(359.0)


def test_what_was_chosen_is_said() -> None:
    use = runner_use(BANK, pairs=1)
    assert use is not None
    assert use.words == "kitchen 16, 450 mm long, the longest that fits, a pair carries 35 kg"
    assert runner_use(replace(BANK, runner=Runner(RunnerKind.NONE)), pairs=1) is None


def test_notches_and_holes_in_a_back_that_lies_flat() -> None:
    """Sides 14 thick, box 420 wide: the notch goes from 14 to 50, and from 370 to 406; holes at 14 + 7 and 406 - 7."""
    back = assemble(BOX)[PartKind.BACK].part
    assert back.notches == (Notch(14, 50, 13), Notch(370, 406, 13))
    assert back.holes == (Hole(21, 18, 6, 10), Hole(399, 18, 6, 10))


def test_a_back_between_the_sides_counts_from_its_own_end() -> None:
    """It begins where the side is reached into: 14 less the engagement of 11 (16 + 14 against 5.5 and 3.6: see
    test_assembly) lies at x = 3, so everything is 3 less."""
    back = assemble(replace(BOX, orientation=Orientation.SIDES_FLAT))[PartKind.BACK]
    left = back.bounds[0][0]
    assert back.part.notches[0] == Notch(14 - left, 50 - left, 13)


def test_a_back_over_a_slid_bottom_needs_no_notch() -> None:
    """The back begins 13 + 6.2 above the sides' lower edges, higher than the notch; its holes would lie at -1.2."""
    drawer = assemble(replace(BOX, bottom=bottom(style=BottomStyle.SLID)))
    assert drawer[PartKind.BACK].part.notches == ()
    assert codes(drawer) == {"hook-hole-outside"}


def codes(drawer: AssembledDrawer, bank: Bank = BANK) -> set[str]:
    return {finding.code for finding in runner_findings(bank, [drawer])}


def test_a_drawer_as_the_sheet_wants_it_has_no_findings() -> None:
    assert codes(assemble(BOX)) == set()


def test_a_low_bottom_is_in_the_way_of_runner_and_lock() -> None:
    """Bottom at 12, runner 13 high and locks 12.5: both say so."""
    assert codes(assemble(replace(BOX, bottom=bottom(12)))) == {"bottom-too-low", "runner-room-taken"}
    without = replace(BANK, runner=replace(SHEET, notch=None, bottom_recess=None))
    assert "runner-room-taken" in codes(assemble(replace(BOX, bottom=bottom(12))), without)
    assert "runner-room-taken" not in codes(assemble(replace(BOX, bottom=bottom(12.5))), without)


def test_a_recess_that_is_only_usual_does_not_stop_the_work() -> None:
    low = assemble(replace(BOX, bottom=bottom(10), rear=RearCuts()))
    for runner, severity in (
        (replace(standing_runner(RunnerKind.UNDER), notch=SHEET.notch), Severity.WARNING),
        (replace(SHEET, locking=None), Severity.STOP),
    ):
        found = runner_findings(replace(BANK, runner=runner), [low])
        assert {each.severity for each in found if each.code == "bottom-too-low"} == {severity}


def test_the_usual_recess_of_an_inch_shop_is_half_an_inch() -> None:
    """Common practice, no source."""
    assert standing_runner(RunnerKind.UNDER, "in").bottom_recess == pytest.approx(12.7)
    assert standing_runner(RunnerKind.UNDER).bottom_recess == 13


def test_a_hole_that_runs_into_the_notch_is_seen() -> None:
    """Notch 13 high, hole of 6 in its span: its middle must stand at 16 or more."""
    for above, wanted in ((15.9, {"hook-hole-outside"}), (16.0, set())):
        rear = RearCuts(SHEET.notch, HookBore(6, beside=7, above=above, depth=10))
        assert codes(assemble(replace(BOX, rear=rear))) == wanted


@pytest.mark.parametrize(
    ("above", "depth", "wanted"),
    [
        (18, None, {"hook-hole-in-groove"}),
        (18, 10.1, {"hook-hole-in-groove"}),
        (18, 10, set()),  # ends where the groove begins
        (22.1, None, {"hook-hole-in-groove"}),
        (22.2, None, set()),
    ],
)
def test_a_hole_that_runs_into_the_groove_is_seen(
    above: float, depth: float | None, wanted: set[str]
) -> None:
    """Back of 15, groove 5 deep at 13 to 19.2: 10 of wood are left, and a hole of 6 clears it from 22.2 on."""
    rear = RearCuts(SHEET.notch, HookBore(6, beside=7, above=above, depth=depth))
    assert codes(assemble(replace(BOX, rear=rear))) == wanted


def test_a_back_in_the_way_without_a_notch_is_noted() -> None:
    runner = replace(SHEET, notch=None)
    assert codes(assemble(replace(BOX, rear=RearCuts())), replace(BANK, runner=runner)) == {
        "back-not-notched"
    }
