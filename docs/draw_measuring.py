"""Draw the pictures of `measuring.md`: the cutter, the two test pieces, and the corner pulled until its hook bears."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from drawerwright.drawings.cutter_profile import draw_profile
from drawerwright.drawings.scene import side_by_side
from drawerwright.drawings.seating import draw_seating
from drawerwright.drawings.svg import write_svg
from drawerwright.drawings.test_pieces import draw_test_pieces
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fit import seat_setting
from drawerwright.joints.setting import CornerGeometry, set_corner

PICTURES = Path(__file__).parent / "pictures" / "measuring"
CUTTER = Cutter("drawer-lock", mid_depth=5.6, step=3.4)
THICK = 14.6
LOW = 0.3
"""How much lower than right the bit is set (mm), so that the corner has play to be measured."""


def draw() -> None:
    """Write every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    profile = CUTTER.profile().between(0.0, 2 * 5.6)
    cutter = draw_profile(profile, 5.6, 3.4, dots=False, figures=False)
    right = set_corner(CUTTER, CornerGeometry(THICK, THICK))
    setting = replace(right, bit_height=right.bit_height - LOW)
    pieces = draw_test_pieces(setting, figures=False)
    fit = seat_setting(setting)
    scenes = {
        "cutter": cutter,
        "pieces": side_by_side("Test pieces", list(pieces.values()), gap=6.0),
        "play": draw_seating(fit, state="pulled", title="Pulled until the hook bears"),
    }
    for name, scene in scenes.items():
        (PICTURES / f"{name}.svg").write_text(write_svg(scene), "utf-8")


if __name__ == "__main__":
    draw()
