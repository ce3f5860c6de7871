"""Which corner is meant: the key that settings, set-ups, odds, cards and test cuts hang on.

Two corners are one only if their keys are; no measure takes part but the lip, and those given for a joint that has no
cutter to hold them. Two stocks that happen to be equally
thick make two corners, and a stock that is measured anew keeps its corners.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass, field
from enum import StrEnum
from functools import lru_cache

from drawerwright.basics.lengths import Mm, kept_length
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import ChosenJoint, Measures, PlainCorner
from drawerwright.joints.setting import CornerGeometry
from drawerwright.wood.stock import Stock

TOKEN_LENGTH = 12


class Orientation(StrEnum):
    """Which pieces lie flat on the router table."""

    FRONTS_FLAT = "fronts-flat"
    """The hook holds the front against the pull: the usual way."""
    SIDES_FLAT = "sides-flat"
    """The other way round; only glue holds the front against the pull."""


USUAL_ORIENTATION = Orientation.FRONTS_FLAT
"""Where nothing is said."""


@dataclass(frozen=True, slots=True)
class CornerKey:
    """One kind of corner of a job.

    joint: the kind of joint.
    cutter: id of the cutter that makes it; empty where none does.
    flat, upright: ids of the stock of its pieces (`Stock.key`), which stay when a stock is renamed.
    lip: how far the flat piece's end stands beyond the upright's outer face (mm), put on the grid here.
    orientation: which pieces lie flat.
    measures: those given for a joint without a cutter (mm).
    """

    joint: str
    cutter: str
    flat: str
    upright: str
    lip: Mm = 0.0
    orientation: Orientation = USUAL_ORIENTATION
    measures: Measures = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "lip", kept_length(self.lip))

    @property
    def token(self) -> str:
        """The key in a few letters, the same at all times: for addresses of pages."""
        return _token(self)


@lru_cache
def _token(key: CornerKey) -> str:
    named = asdict(key)
    if not key.measures:  # as it was before a joint had any
        del named["measures"]
    written = json.dumps(named, ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(written.encode()).hexdigest()[:TOKEN_LENGTH]


@dataclass(frozen=True, slots=True)
class JoinedStocks:
    """A corner by its key, with the stock of its two pieces; equal where the keys are."""

    key: CornerKey
    flat: Stock = field(compare=False)
    upright: Stock = field(compare=False)

    @property
    def maker(self) -> str:
        """What the cutter is called that makes it; empty where none does."""
        return ""

    @property
    def geometry(self) -> CornerGeometry:
        """What has to be made: the thickness of both stocks as known now, and the lip."""
        return CornerGeometry(self.flat.thickness.value, self.upright.thickness.value, self.key.lip)


@dataclass(frozen=True, slots=True)
class KeyedCorner(JoinedStocks):
    """A corner that a cutter makes."""

    cutter: Cutter = field(compare=False)

    @property
    def maker(self) -> str:
        return self.cutter.name

    @classmethod
    def of(
        cls,
        cutter: Cutter,
        flat: Stock,
        upright: Stock,
        lip: Mm = 0.0,
        orientation: Orientation = USUAL_ORIENTATION,
    ) -> KeyedCorner:
        """The corner that a cutter makes between two stocks."""
        return cls(
            CornerKey(cutter.kind, cutter.key, flat.key, upright.key, lip, orientation), flat, upright, cutter
        )


@dataclass(frozen=True, slots=True)
class PlainKeyedCorner(JoinedStocks):
    """A corner that no cutter makes."""

    @classmethod
    def of(
        cls,
        chosen: ChosenJoint,
        flat: Stock,
        upright: Stock,
        lip: Mm = 0.0,
        orientation: Orientation = USUAL_ORIENTATION,
    ) -> PlainKeyedCorner:
        """The corner that a joint without a cutter makes between two stocks."""
        key = CornerKey(chosen.joint.name, "", flat.key, upright.key, lip, orientation, chosen.measures)
        return cls(key, flat, upright)

    @property
    def made(self) -> PlainCorner:
        """How it is made."""
        return PlainCorner(self.key.joint, self.geometry, self.key.measures)
