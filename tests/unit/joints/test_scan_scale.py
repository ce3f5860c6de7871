"""What is made of a dpi and a thickness by caliper that contradict each other."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan.instrument import ScaleSource
from drawerwright.joints.scan.picture_scale import INCH, settled_scale


@pytest.mark.parametrize(("caliper", "words"), [(30.4, "100.0 % larger"), (7.6, "50.0 % smaller")])
def test_how_much_lengths_change_is_a_share_of_what_they_were(caliper: float, words: str) -> None:
    """Source: 15.2 mm by the dpi; twice that by caliper makes every length twice as long."""
    scale, doubts = settled_scale(
        (15.2 * 300 / INCH, 0.1), 300 / INCH, ScaleSource.FILE, Estimate(caliper, 0.02)
    )
    assert scale.source is ScaleSource.THICKNESS
    assert words in doubts[0]


@pytest.mark.parametrize("caliper", [1.52, 152.0, 386.0])
def test_a_thickness_without_its_point_or_in_another_unit_is_refused(caliper: float) -> None:
    """Common practice, no source: stock for drawers is 5 to 45 mm thick."""
    with pytest.raises(InvalidValueError, match="its decimal sign and its unit"):
        settled_scale((180.0, 0.1), 300 / INCH, ScaleSource.FILE, Estimate(caliper, 0.02))
