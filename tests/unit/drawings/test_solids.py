"""The finished drawer as solids: manifold3d says whether parts overlap or leave gaps; no law is consulted."""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import manifold3d
import numpy as np
import pytest
from drawing_cases import drawer, lock_cutter

from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.runner_cuts import HookBore, RearCuts, RearNotch
from drawerwright.drawings.glb import write_glb
from drawerwright.drawings.solids import PartSolid, drawer_solids
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.setting import FenceRule, set_corner

CUTTER = lock_cutter()
DRAWERS = {
    "flush": drawer(),
    "lipped": drawer(lip=9.0, front_height=140.0, front_below=5.0),
    "lipped unequally": replace(drawer(lip=9.0, front_height=140.0, front_below=5.0), lip_right=4.0),
    "slid": drawer(bottom=BottomStyle.SLID),
    "fixed": drawer(bottom=BottomStyle.FIXED, applied=True),
    "sides flat": drawer(orientation=Orientation.SIDES_FLAT),
}


def overlaps(parts: Sequence[PartSolid]) -> dict[tuple[str, str], float]:
    """Volume (mm³) that two parts would both take, for every pair where it is more than nothing."""
    found = {}
    for one, other in combinations(parts, 2):
        shared = float((one.solid ^ other.solid).volume())
        if shared > 1e-6:
            found[one.label, other.label] = shared
    return found


def solids(box: DrawerBox, rule: FenceRule = FenceRule.ONE) -> tuple[PartSolid, ...]:
    corners = zip(box.corners, (rule, rule, FenceRule.ONE, FenceRule.ONE), strict=True)
    settings = {keyed.key: set_corner(CUTTER, keyed.geometry, rule) for keyed, rule in corners}
    return drawer_solids(assemble(box), settings)


@pytest.fixture(params=DRAWERS)
def box(request: pytest.FixtureRequest) -> DrawerBox:
    return DRAWERS[request.param]


@pytest.mark.parametrize("rule", FenceRule)
def test_no_two_parts_take_the_same_room(box: DrawerBox, rule: FenceRule) -> None:
    assert overlaps(solids(box, rule)) == {}


def test_the_outer_sizes_add_up(box: DrawerBox) -> None:
    walls = [part for part in solids(box) if part.kind in tuple(PartKind)[:4]]
    low, high = np.min([p.bounds[:3] for p in walls], axis=0), np.max([p.bounds[3:] for p in walls], axis=0)
    front = box.front.thickness.value
    assert low == pytest.approx([-box.lips[0], -front, -box.front_below], abs=1e-9)
    assert high == pytest.approx(
        [box.width + box.lips[1], box.depth - front, box.height + max(box.front_above, 0.0)], abs=1e-9
    )


def test_every_corner_is_full_of_wood(box: DrawerBox) -> None:
    """No gap: a block as large as the corner, taken above the groove, is filled by both pieces together."""
    wood = manifold3d.Manifold.batch_boolean(
        [part.solid for part in solids(box) if part.kind in tuple(PartKind)[:4]], manifold3d.OpType.Add
    )
    side, front, back = (s.thickness.value for s in (box.side, box.front, box.back))
    for left in (0.0, box.width - side):
        for near, thick in ((-front, front), (box.inside_depth, back)):
            block = manifold3d.Manifold.cube((side, thick, 20.0)).translate((left, near, 60.0))
            assert (block - wood).volume() < 1e-6


def test_a_wrong_setting_shows() -> None:
    """The checks can fail: parts drawn at their aim with a bit 0.3 mm too high would share wood."""
    box = DRAWERS["flush"]
    corners = box.corners
    settings = {keyed.key: set_corner(CUTTER, keyed.geometry) for keyed in corners}
    right = settings[corners[0].key]
    settings[corners[0].key] = replace(right, bit_height=right.bit_height + 0.3)
    assert overlaps(drawer_solids(assemble(box), settings))


def test_parts_are_as_long_and_high_as_the_parts_list_says(box: DrawerBox) -> None:
    listed = {part.kind: part for part in assemble(box).parts}
    for part in solids(box):
        low, high = np.array(part.bounds[:3]), np.array(part.bounds[3:])
        sizes = sorted(high - low)
        entry = listed[part.kind]
        assert sizes == pytest.approx(sorted((entry.length, entry.width, entry.thickness)), abs=1e-6), (
            part.label
        )


def test_the_groove_is_taken_out() -> None:
    grooved, plain = solids(DRAWERS["flush"]), solids(DRAWERS["fixed"])
    for one, other in zip(grooved[:4], plain[:4], strict=True):
        assert one.volume < other.volume
    slid = {part.kind: part for part in solids(DRAWERS["slid"])}
    assert slid[PartKind.BACK].bounds[2] == pytest.approx(10.0 + 6.6)


class TestGlb:
    """Read back by the rules of glTF 2.0 (Khronos): container, accessors, metres, y up."""

    @pytest.fixture
    def parts(self) -> tuple[PartSolid, ...]:
        return solids(DRAWERS["lipped"])

    def read(self, data: bytes) -> tuple[dict[str, list[dict[str, object]]], bytes]:
        magic, version, length = struct.unpack_from("<4sII", data)
        assert (magic, version, length) == (b"glTF", 2, len(data))
        size, kind = struct.unpack_from("<I4s", data, 12)
        assert kind == b"JSON"
        assert size % 4 == 0
        body_size, body_kind = struct.unpack_from("<I4s", data, 20 + size)
        assert body_kind == b"BIN\0"
        return json.loads(data[20 : 20 + size]), data[28 + size : 28 + size + body_size]

    def test_every_part_is_there_with_its_volume_in_metres(self, parts: tuple[PartSolid, ...]) -> None:
        document, body = self.read(write_glb(parts))
        assert [node["name"] for node in document["nodes"]] == [part.label for part in parts]
        for number, part in enumerate(parts):
            accessor = document["accessors"][2 * number]
            view = document["bufferViews"][2 * number]
            points = np.frombuffer(body, "<f4", 3 * accessor["count"], view["byteOffset"]).reshape(-1, 3, 3)  # type: ignore[call-overload]
            # Divergence theorem: the signed volume below outward triangles is the volume of the body.
            volume = np.einsum("ij,ij->i", points[:, 0], np.cross(points[:, 1], points[:, 2])).sum() / 6
            assert volume == pytest.approx(part.volume * 1e-9, rel=1e-4)
            assert accessor["min"] == points.reshape(-1, 3).min(axis=0).tolist()
            assert accessor["max"] == points.reshape(-1, 3).max(axis=0).tolist()

    def test_up_is_y_and_parts_know_where_they_leave(self, parts: tuple[PartSolid, ...]) -> None:
        document, _ = self.read(write_glb(parts))
        front = document["accessors"][0]
        assert front["max"][1] == pytest.approx(0.135)  # type: ignore[index]
        assert front["min"][1] == pytest.approx(-0.005)  # type: ignore[index]
        leaves = {node["name"]: node["extras"]["leaves"] for node in document["nodes"]}  # type: ignore[index]
        assert leaves["D1 front"] == [0.0, 0.0, 1.0]
        assert leaves["D1 left side"] == [-1.0, 0.0, 0.0]
        assert leaves["D1 bottom"] == [0.0, -1.0, 0.0]

    def test_normals_are_unit_vectors(self, parts: tuple[PartSolid, ...]) -> None:
        document, body = self.read(write_glb(parts))
        view = document["bufferViews"][1]
        normals = np.frombuffer(body, "<f4", 3 * document["accessors"][1]["count"], view["byteOffset"])  # type: ignore[call-overload, operator]
        assert np.linalg.norm(normals.reshape(-1, 3), axis=1) == pytest.approx(1.0, abs=1e-6)


def test_a_back_is_notched_and_bored_for_its_runners() -> None:
    """Two notches of 30 × 9 through the back, and two holes of 8 that go 10 deep (a polygon of 32 sides has
    16 sin(π/16) r² of area)."""
    box = DRAWERS["flush"]
    plain = {part.kind: part.volume for part in solids(box)}
    cuts = RearCuts(RearNotch(30, 9), HookBore(8, beside=15, above=25, depth=10))
    parts = solids(replace(box, rear=cuts))
    cut = {part.kind: part.volume for part in parts}
    wanted = 2 * 30 * 9 * box.back.thickness.value + 2 * 16 * np.sin(np.pi / 16) * 4**2 * 10
    assert plain[PartKind.BACK] - cut[PartKind.BACK] == pytest.approx(wanted, rel=1e-6)
    assert cut[PartKind.LEFT] == plain[PartKind.LEFT]
    assert overlaps(parts) == {}
