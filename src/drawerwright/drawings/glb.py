"""Solids as a GLB file for the viewer in the page (glTF 2.0, binary).

glTF counts in metres and holds y up, so millimetres become thousandths and our z its y. Every part is a node of
its own, named, with `extras` that say what it is and in which direction it leaves the assembled drawer.

Source: glTF 2.0 specification, Khronos Group, version 2.0.1: 3.6 (accessors), 4.4 (binary container).
"""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.parts import CarcasePart, PartKind
from drawerwright.drawings.solids import PartSolid
from drawerwright.drawings.svg import PAPER

METRES_PER_MM = 0.001
_MAGIC, _VERSION = 0x46546C67, 2
_JSON, _BINARY = 0x4E4F534A, 0x004E4942
_FLOAT, _ARRAY_BUFFER = 5126, 34962
_TURNED = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])
"""Rows for glTF's x, y, z: our x, our z, our -y."""

_FACES: dict[PartKind | CarcasePart, str] = {
    **dict.fromkeys(CarcasePart, PAPER.wood_behind),
    PartKind.FRONT: PAPER.wood,
    PartKind.BACK: PAPER.wood,
    PartKind.LEFT: PAPER.wood_behind,
    PartKind.RIGHT: PAPER.wood_behind,
    PartKind.BOTTOM: PAPER.wood,
    PartKind.APPLIED_FRONT: PAPER.wood,
    PartKind.FALSE_FRONT: PAPER.wood,
}


def write_glb(parts: Sequence[PartSolid], name: str = "drawer", *, style: LengthStyle | None = None) -> bytes:
    """All parts in one file, flat shaded, in the place where they sit; `style` says how their names are written."""
    say = (style or LengthStyle()).say
    colours = sorted({_FACES[part.kind] for part in parts})
    document: dict[str, Any] = {
        "asset": {"version": "2.0", "generator": "Drawerwright"},
        "scene": 0,
        "scenes": [{"name": name, "nodes": list(range(len(parts)))}],
        "nodes": [],
        "meshes": [],
        "materials": [_material(colour) for colour in colours],
        "accessors": [],
        "bufferViews": [],
    }
    body = b""
    for number, part in enumerate(parts):
        places, normals = _surface(part)
        for array in (places, normals):
            data = array.astype("<f4").tobytes()
            document["bufferViews"].append(
                {"buffer": 0, "byteOffset": len(body), "byteLength": len(data), "target": _ARRAY_BUFFER}
            )
            accessor: dict[str, Any] = {
                "bufferView": len(document["bufferViews"]) - 1,
                "componentType": _FLOAT,
                "count": len(array),
                "type": "VEC3",
            }
            if array is places:
                single = array.astype("<f4")
                accessor["min"] = [float(value) for value in single.min(axis=0)]
                accessor["max"] = [float(value) for value in single.max(axis=0)]
            document["accessors"].append(accessor)
            body += data
        document["meshes"].append(
            {
                "name": say(part.label),
                "primitives": [
                    {
                        "attributes": {"POSITION": 2 * number, "NORMAL": 2 * number + 1},
                        "material": colours.index(_FACES[part.kind]),
                    }
                ],
            }
        )
        leaves = [float(value) for value in np.array(part.leaves) @ _TURNED.T]
        document["nodes"].append(
            {"name": say(part.label), "mesh": number, "extras": {"part": str(part.kind), "leaves": leaves}}
        )
    document["buffers"] = [{"byteLength": len(body)}]
    return _container(document, body)


def _surface(part: PartSolid) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Corners and normals of all triangles, one after the other, turned and in metres."""
    triangles = part.triangles() @ _TURNED.T * METRES_PER_MM
    across = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    length = np.linalg.norm(across, axis=1)
    kept = length > 0  # a triangle without area has no direction, and nothing to show
    normals = across[kept] / length[kept, None]
    return triangles[kept].reshape(-1, 3), np.repeat(normals, 3, axis=0)


def _material(colour: str) -> dict[str, Any]:
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return {
        "pbrMetallicRoughness": {
            "baseColorFactor": [*(round(value, 5) for value in linear), 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": 0.9,
        },
        "doubleSided": True,
    }


def _container(document: dict[str, Any], body: bytes) -> bytes:
    text = json.dumps(document, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    body += b"\0" * (-len(body) % 4)
    whole = 12 + 8 + len(text) + 8 + len(body)
    return b"".join(
        (
            struct.pack("<III", _MAGIC, _VERSION, whole),
            struct.pack("<II", len(text), _JSON),
            text,
            struct.pack("<II", len(body), _BINARY),
            body,
        )
    )
