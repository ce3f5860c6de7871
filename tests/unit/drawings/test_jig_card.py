"""The card of a jig is drawn at true size: whoever lays wood on it, or measures it, finds the row."""

from __future__ import annotations

import pytest

from drawerwright.drawings.jig_card import draw_jig
from drawerwright.drawings.scene import Layer, Path
from drawerwright.joints.kinds.finger.finger_jig import finger_jig
from drawerwright.joints.kinds.finger.finger_row import FingerRow


def stretches(layer: Layer, width: float) -> list[list[tuple[float, float]]]:
    """From where to where the closed shapes of a layer reach, strip by strip from the top, from the least left."""
    scene = draw_jig(finger_jig(FingerRow(width, 9.5, 0.1)), "jig")
    found: dict[float, list[tuple[float, float]]] = {}
    for item in scene.items:
        if isinstance(item, Path) and item.closed and item.layer is layer:
            (left, right), low = (
                (f([x for x, _ in item.points]) for f in (min, max)),
                min(y for _, y in item.points),
            )
            found.setdefault(round(low, 3), []).append((left, right))
    zero = min(left for strip in found.values() for left, _ in strip)
    return [
        [(left - zero, right - zero) for left, right in sorted(set(strip))]
        for _, strip in sorted(found.items())
    ][::-1]


def test_pin_and_cutter_are_a_pitch_apart() -> None:
    ((pin, cutter),) = stretches(Layer.MACHINE, 104.5)
    assert pin == pytest.approx((0.0, 9.55))
    assert cutter == pytest.approx((19.0, 28.55))


def test_the_edges_are_as_long_as_the_drawer_is_high() -> None:
    flat, upright = stretches(Layer.WOOD, 104.5)
    assert len(flat) == 6
    assert len(upright) == 5
    assert flat[-1][1] == pytest.approx(104.5)
    # The upright piece begins with a notch: its first finger stands where the flat piece's first notch is.
    assert upright[0] == pytest.approx((9.525, 18.975))


def test_a_high_edge_is_broken_off() -> None:
    flat, _ = stretches(Layer.WOOD, 300.0)
    assert 150 - 2 * 19 < flat[-1][1] <= 150.0 + 1e-9
