"""A scoop in a front: its edge, what it takes out, what it must leave, and its template at full size."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Severity
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.box import AppliedFront, DrawerBox
from drawerwright.drawers.drawer_findings import drawer_findings
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.scoop import Scoop
from drawerwright.drawings.scoop_template import draw_scoop
from drawerwright.drawings.solids import drawer_solids
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import set_corner
from drawerwright.run.front_work import scoop_work
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness

CUTTER = Cutter("drawer-lock", mid_depth=Estimate(5.5), step=Estimate(3.6))
SCOOP = Scoop(100, 30, 20)


def board(thickness: float) -> Stock:
    return Stock(f"board {thickness}", Panel.OTHER, Thickness(thickness, ((thickness,),)))


BOX = DrawerBox(
    "A1",
    width=400,
    depth=350,
    height=100,
    front_height=120,
    front=board(16),
    side=board(14),
    back=board(14),
    made_by=CUTTER,
    bottom=None,
    scoop=SCOOP,
)
APPLIED = replace(BOX, front_height=100, applied=AppliedFront(board(18), 440, 130, beside=20, below=10))
UPRIGHT = replace(APPLIED, applied=replace(APPLIED.applied, grain_upright=True))  # type: ignore[arg-type]


def volumes(box: DrawerBox) -> dict[PartKind, float]:
    settings = {keyed.key: set_corner(CUTTER, keyed.geometry) for keyed in box.corners}  # type: ignore[arg-type]
    return {part.kind: part.volume for part in drawer_solids(assemble(box), settings)}


@pytest.mark.parametrize(
    ("box", "kind", "thickness"),
    [(BOX, PartKind.FRONT, 16), (APPLIED, PartKind.APPLIED_FRONT, 18), (UPRIGHT, PartKind.APPLIED_FRONT, 18)],
)
def test_it_is_taken_out_of_the_front_that_shows(box: DrawerBox, kind: PartKind, thickness: float) -> None:
    """100 by 30 less two corners outside a quarter of a circle of 20 each: 2 (1 - π/4) 20². The drawn quarter has
    twelve steps and leaves a little more wood."""
    plain, cut = volumes(replace(box, scoop=None)), volumes(box)
    area = 100 * 30 - 2 * (1 - math.pi / 4) * 20**2
    assert plain[kind] - cut[kind] == pytest.approx(area * thickness, rel=2e-3)
    assert {other: plain[other] for other in plain if other is not kind} == pytest.approx(
        {other: cut[other] for other in cut if other is not kind}
    )


@pytest.mark.parametrize("box", [BOX, APPLIED, UPRIGHT])
def test_it_opens_upwards_in_the_middle(box: DrawerBox) -> None:
    """A stick of 10 by 10 through the middle of the upper edge meets no wood; one beside the scoop does."""
    import manifold3d

    settings = {keyed.key: set_corner(CUTTER, keyed.geometry) for keyed in box.corners}  # type: ignore[arg-type]
    drawer = assemble(box)
    front = next(p for p in drawer_solids(drawer, settings) if p.kind is drawer.shown_front.kind)
    x0, y0, _z0, x1, y1, z1 = front.bounds
    for off, meets in ((0.0, False), (60.0, True)):
        stick = manifold3d.Manifold.cube((10, y1 - y0, 10)).translate(((x0 + x1) / 2 - 5 + off, y0, z1 - 12))
        assert ((front.solid ^ stick).volume() > 1e-6) is meets


def test_its_edge_is_symmetrical_and_as_deep_as_said() -> None:
    edge = SCOOP.outline(400, 120)
    assert edge[0] == (150, 120)
    assert edge[-1] == (250, 120)
    assert min(y for _x, y in edge) == pytest.approx(90)
    assert [(400 - x, y) for x, y in reversed(edge)] == [pytest.approx(point) for point in edge]


@pytest.mark.parametrize(("width", "depth", "radius"), [(30, 40, 16), (100, 30, 31)])
def test_corners_need_room(width: float, depth: float, radius: float) -> None:
    with pytest.raises(InvalidValueError, match="does not fit: at most"):
        Scoop(width, depth, radius)


@pytest.mark.parametrize(
    ("scoop", "severity"),
    [
        (Scoop(100, 80, 20), None),  # 120 less 80: 40 below
        (Scoop(100, 105, 20), Severity.WARNING),  # 15 below
        (Scoop(370, 30, 20), Severity.WARNING),  # 15 on each side
        (Scoop(400, 30, 20), Severity.STOP),
    ],
)
def test_it_must_leave_wood(scoop: Scoop, severity: Severity | None) -> None:
    found = drawer_findings(assemble(replace(BOX, scoop=scoop)))
    assert [each.severity for each in found if each.code == "scoop-too-large"] == (
        [severity] if severity else []
    )


def test_the_template_is_at_full_size_and_alike_fronts_share_it() -> None:
    parts = [part for name in ("A1", "A2") for part in assemble(replace(APPLIED, name=name)).parts]
    (work,) = scoop_work(parts)
    assert [name.drawer for name in work.parts] == ["A1", "A2"]
    scene = draw_scoop(SCOOP, tuple(part for part in parts if part.scoop))
    assert scene.scale == 1.0
    assert draw_scoop(Scoop(300, 30, 20), tuple(parts)).scale < 1.0


def test_a_box_front_behind_the_scoop_is_seen() -> None:
    """The applied front reaches from -10 to 120, the scoop down to 90; a box front 100 high closes 10 of it."""
    (found,) = [each for each in drawer_findings(assemble(APPLIED)) if each.code == "scoop-closed-behind"]
    assert "stands 10.0 mm high" in found.text
    low = replace(APPLIED, height=90, front_height=90)
    assert "scoop-closed-behind" not in {each.code for each in drawer_findings(assemble(low))}
    assert "scoop-closed-behind" not in {each.code for each in drawer_findings(assemble(BOX))}
