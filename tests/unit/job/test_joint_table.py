"""The table of joints on the terminal."""

from __future__ import annotations

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase
from drawerwright.cli.joint_table import print_joints
from drawerwright.job.planning.which_joint import JointComparison, WholeJob, WorkTaken


@pytest.mark.parametrize(("unit", "run"), [("mm", "12.2 m"), ("in", "40.0 ft")])
def test_a_run_is_in_the_readers_unit(unit: str, run: str, capsys: pytest.CaptureFixture[str]) -> None:
    """12.192 m are 40 ft (international foot of 0.3048 m, 1959)."""
    taken = WorkTaken(3, 12.192, 50.0, 2)
    print_joints(
        JointComparison((), taken, (WholeJob(phrase("every recommendation taken"), taken),)),
        LengthStyle(unit),  # type: ignore[arg-type]
    )
    assert capsys.readouterr().out.count(run) == 2
