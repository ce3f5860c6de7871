"""Holes for pulls lie in wood: held against places reckoned by hand."""

from __future__ import annotations

import pytest

from drawerwright.basics.findings import Severity
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings

JOB = """\
format: 1
job: Sewing table
cutter: {{mid_depth: 5.2, step: 3.3}}
stock:
  panel: {{nominal: 16, sheets: [{{length: 2440, width: 1220}}]}}
banks:
  - name: Cloth
    opening: {{width: 460, height: 306, depth: 500}}
    fronts: {{style: inset, reveal: 2, heights: {{equal: 2}}, pull: {{{pull}}}{scoop}}}
    box: {{all: panel}}
"""
SCOOP = ", scoop: {width: 120, depth: 30}"


def found(pull: str, scoop: str = "") -> dict[str, Severity]:
    """By its code, how much each finding about pulls matters; each drawer of the bank has the same."""
    draft = draft_job(read_job(JOB.format(pull=pull, scoop=scoop)))
    told = [each for each in draft_findings(draft) if each.code.startswith("pull-")]
    for each in told:
        assert len(each.drawers) == 1
    return {each.code: each.severity for each in told}


@pytest.mark.parametrize(
    ("pull", "severity"),
    [
        # The fronts are (306 - 3 x 2) / 2 = 150 high; the scoop reaches 60 to either side and 30 down.
        ("spacing: 96, below_top: 30, hole: 5", Severity.STOP),  # 48 beside the middle, at its lower edge
        ("spacing: 96, below_top: 32, hole: 5", Severity.STOP),  # 2 below it, less half the hole
        ("spacing: 96, below_top: 40, hole: 5", Severity.WARNING),  # 10 - 2.5 = 7.5 of wood
        ("spacing: 96, below_top: 41, hole: 5", None),  # 8.5
        ("spacing: 124, below_top: 20, hole: 5", Severity.STOP),  # 62 - 60 - 2.5
        ("spacing: 130, below_top: 20, hole: 5", Severity.WARNING),  # 65 - 60 - 2.5 = 2.5
        ("spacing: 142, below_top: 20, hole: 5", None),  # 71 - 60 - 2.5 = 8.5
    ],
)
def test_a_pull_keeps_clear_of_the_scoop(pull: str, severity: Severity | None) -> None:
    assert found(pull, SCOOP).get("pull-in-scoop") is severity
    assert "pull-in-scoop" not in found(pull)


@pytest.mark.parametrize(
    ("pull", "severity"),
    [
        ("below_top: 10, hole: 5", Severity.WARNING),  # 7.5 to the upper edge
        ("below_top: 10.5, hole: 5", None),
        ("below_top: 2, hole: 5", Severity.STOP),
        ("below_top: 160, hole: 5", Severity.STOP),  # below the front
        ("spacing: 456, hole: 5", Severity.STOP),  # as wide as the front, 460 - 2 x 2
        ("spacing: 96, hole: 5", None),
    ],
)
def test_a_pull_lies_within_its_front(pull: str, severity: Severity | None) -> None:
    assert found(pull).get("pull-near-edge") is severity
