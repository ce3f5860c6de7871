"""When the corners of a drawer are called weak for its use."""

from __future__ import annotations

import pytest

from drawerwright.basics.findings import Severity
from drawerwright.drawers.duty import Use
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.strength.assembled_corners import end_strengths
from drawerwright.strength.weak_corners import bears_repeatedly, stop_energy

JOB = """
format: 1
job: Trays
cutter: {{mid_depth: 5.6, step: 3.4, slope: 60, diameter: 40}}
stock:
  board: {{panel: {panel}, nominal: 16, measured: [16.0], {more} sheets: [{{length: 2400, width: 600}}]}}
boxes:
  - {{name: Tray, outer: {{width: 500, depth: 400, height: 60}}, box: {{all: board}}, {duty}}}
"""


def found(duty: str, panel: str = "solid", more: str = "species: yellow birch,"):
    draft = draft_job(read_job(JOB.format(panel=panel, more=more, duty=duty)))
    codes = [each for each in draft_findings(draft) if each.code == "corner-weak-for-use"]
    return draft, codes


@pytest.mark.parametrize(("use", "speed"), [(Use.OCCASIONAL, 0.3), (Use.HEAVY, 0.8)])
def test_energy_at_the_stop_is_kinetic(use: Use, speed: float) -> None:
    """Source: m v² / 2."""
    assert stop_energy(12.0, use) == pytest.approx(12.0 * speed**2 / 2)


def test_a_light_drawer_is_not_weak_and_a_heavy_one_is() -> None:
    assert found("load: 2, use: daily")[1] == []
    assert found("use: heavy")[1] == []  # nobody has said what lies in it
    draft, codes = found("load: 400, use: heavy")
    ends = end_strengths(draft.assembled[0], draft.made)
    assert stop_energy(400, Use.HEAVY) > bears_repeatedly(ends[0]).high
    assert [(each.severity, each.where) for each in codes] == [
        (Severity.WARNING, "Tray front corners"),
        (Severity.WARNING, "Tray back corners"),
    ]
    assert "128.0 J" in codes[0].text
    assert codes[0].drawers == ("Tray",)


def test_within_the_band_it_is_a_note() -> None:
    draft, _ = found("load: 1")
    end = end_strengths(draft.assembled[0], draft.made)[0]
    between = (bears_repeatedly(end).middle + bears_repeatedly(end).high) / 2
    load = between / stop_energy(1.0, Use.DAILY)
    assert {each.severity for each in found(f"load: {load:.1f}")[1]} == {Severity.NOTE}


def test_plywood_is_never_warned_of_and_gets_no_forces() -> None:
    _, codes = found("load: 400, use: heavy", panel="birch-plywood", more="")
    assert {each.severity for each in codes} == {Severity.NOTE}
    assert "assumed for plywood" in codes[0].text
    assert " to " not in codes[0].text.split("hit the stop with")[1].split("(")[0].replace("too much", "")
