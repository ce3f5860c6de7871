"""Draw the pictures of `law.md` and `choosing.md`: passes, a corner too low and too high, and each kind of joint."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from drawerwright.drawers.parts import Role
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.scene import Scene, side_by_side
from drawerwright.drawings.seating import draw_seating
from drawerwright.drawings.setup import draw_pass
from drawerwright.drawings.svg import write_svg
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fit import seat_setting
from drawerwright.joints.plain_joint import PlainCorner, plain_joint
from drawerwright.joints.setting import CornerGeometry, set_corner

PICTURES = Path(__file__).parent / "pictures" / "law"
DRAWER_LOCK = Cutter("drawer-lock", mid_depth=5.6, step=3.4)
LOCK_MITRE = Cutter("lock-mitre", mid_depth=9.5, step=15.0)
THICK, LIP = 14.6, 6.0
OFF = 0.3
"""How much too low or too high the bit is set (mm), so that it shows."""


def plain(kind: str) -> PlainCorner:
    """A corner of a joint without a cutter, with its usual measures."""
    return PlainCorner(kind, CornerGeometry(THICK, THICK), plain_joint(kind).checked({}))


def scenes() -> dict[str, Scene]:
    """Every picture by its name."""
    right = set_corner(DRAWER_LOCK, CornerGeometry(THICK, THICK, LIP))
    low = replace(right, bit_height=right.bit_height - OFF)
    high = replace(right, bit_height=right.bit_height + OFF)
    return {
        "passes": side_by_side("Both passes", [draw_pass(right, role) for role in (Role.FLAT, Role.UPRIGHT)]),
        "corner": draw_corner(right),
        "low": draw_seating(seat_setting(low), state="pulled", title="Too low: play"),
        "high": draw_seating(seat_setting(high), title="Too high: it stands proud"),
        "rebate": draw_corner(plain("rebate")),
        "finger": draw_corner(plain("finger")),
        "lock-mitre": draw_corner(set_corner(LOCK_MITRE, CornerGeometry(THICK, THICK))),
    }


def draw() -> None:
    """Write every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, scene in scenes().items():
        (PICTURES / f"{name}.svg").write_text(write_svg(scene), "utf-8")


if __name__ == "__main__":
    draw()
