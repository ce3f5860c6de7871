"""Which scale a drawing gets on its paper: the largest usual one that fits."""

from __future__ import annotations

from collections.abc import Callable
from math import inf

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import with_decimal_sign
from drawerwright.drawings.scene import Scene

USUAL = (1, 2, 2.5, 4, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)
"""How many times smaller than the thing a drawing may be."""
LARGER = (4.0, 2.5, 2.0, 1.5)
"""How many times larger."""


def fitting_scale(width: Mm, height: Mm, room_width: Mm, room_height: Mm) -> float:
    """Paper per thing at which `width` by `height` (mm of the thing) fits into the room (mm of paper).

    >>> fitting_scale(2500, 1250, 250, 150)
    0.1
    """
    for times in USUAL:
        if width / times <= room_width and height / times <= room_height:
            return 1 / times
    return min(room_width / width, room_height / height)


def next_smaller(scale: float) -> float:
    """The next smaller usual scale; the same where there is none.

    >>> next_smaller(0.1), next_smaller(2.5)
    (0.08, 2.0)
    """
    steps = (*LARGER, *(1 / times for times in USUAL))
    return next((step for step in steps if step < scale - 1e-9), scale)


def drawn_to_fit(
    draw: Callable[[float], Scene],
    scale: float,
    room: tuple[Mm, Mm],
    *,
    at_least: Callable[[float], tuple[Mm, Mm]] | None = None,
) -> Scene:
    """The drawing at the largest usual scale, from `scale` down, at which all of it fits into the room (mm).

    Lettering keeps its size, so that shrinking helps only so far: at less than a third of `scale` it ends, and
    the drawing that came nearest is taken. `at_least` says what the drawing is as wide and high as in any case,
    without drawing it: a scale at which that does not fit is passed over.
    """
    scales = [scale]
    while (smaller := next_smaller(scales[-1])) != scales[-1] and smaller >= scale / 3:
        scales.append(smaller)
    best, least = None, inf
    hopeless: list[float] = []
    for each in scales:
        if at_least is not None and any(
            size > place for size, place in zip(at_least(each), room, strict=True)
        ):
            hopeless.append(each)
            continue
        scene, excess = _with_excess(draw(each), room)
        if excess == 0:
            return scene
        if excess < least:
            best, least = scene, excess
    for each in hopeless:
        scene, excess = _with_excess(draw(each), room)
        if excess < least:
            best, least = scene, excess
    assert best is not None
    return best


def _with_excess(scene: Scene, room: tuple[Mm, Mm]) -> tuple[Scene, Mm]:
    return scene, max(scene.width - room[0], 0.0) + max(scene.height - room[1], 0.0)


def scale_name(scale: float, decimal_sign: str = ".") -> str:
    """The scale as drawings say it.

    >>> scale_name(0.1), scale_name(4.0), scale_name(1.0)
    ('1 : 10', '4 : 1', '1 : 1')
    """
    if scale >= 1:
        return with_decimal_sign(f"{scale:g} : 1", decimal_sign)
    return with_decimal_sign(f"1 : {round(1 / scale, 1):g}", decimal_sign)
