"""Where ends are cut: what no gauge tells apart is one bit height, or one position of the fence, of one cutter."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.parts import EndCut, Role
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.setting import CornerSetting, is_one_setting


class Spot(NamedTuple):
    """Which cutter is in, and bit height and fence setting as places on their scales; they sort as they are visited:
    one cutter after the other, each from its lowest height up."""

    cutter: int
    height: int
    fence: int


class Spots:
    """The settings of a job's corners as places: for each cutter a scale of heights and one of fence settings.

    Cutters go in the order in which the settings name them.
    """

    def __init__(self, settings: Mapping[CornerKey, CornerSetting]) -> None:
        self._settings = settings
        by_cutter: dict[str, list[CornerSetting]] = defaultdict(list)
        for key, setting in settings.items():
            by_cutter[key.cutter].append(setting)
        self._numbers = {cutter: number for number, cutter in enumerate(by_cutter)}
        self._scales = [Scales.of(found) for found in by_cutter.values()]

    @property
    def told_apart(self) -> dict[CornerKey, CornerSetting]:
        """The settings with one number for what a gauge cannot tell apart."""
        return {
            key: self._scales[self._numbers[key.cutter]].told_apart(setting)
            for key, setting in self._settings.items()
        }

    def of(self, end: EndCut) -> Spot:
        """Where an end is cut."""
        setting, cutter = self._settings[end.corner], self._numbers[end.corner.cutter]
        scales = self._scales[cutter]
        fence = scales.fences.place(_fence(setting, end.role))
        return Spot(cutter, scales.heights.place(setting.bit_height), fence)

    def how_cut(self, end: EndCut) -> tuple[Role, Spot]:
        """The same for all ends that are held alike and cut at one place, whatever their corner."""
        return end.role, self.of(end)

    def settings_at(self, spot: Spot) -> tuple[Mm, Mm]:
        """Bit height and fence setting of a place (mm)."""
        scales = self._scales[spot.cutter]
        return scales.heights.values[spot.height], scales.fences.values[spot.fence]


@dataclass(frozen=True, slots=True)
class Scales:
    """The heights and the fence settings that one cutter is used at."""

    heights: Scale
    fences: Scale

    @classmethod
    def of(cls, settings: Iterable[CornerSetting]) -> Scales:
        """Those of some corners."""
        settings = tuple(settings)
        return cls(
            Scale(setting.bit_height for setting in settings),
            Scale(_fence(setting, role) for setting in settings for role in Role),
        )

    def told_apart(self, setting: CornerSetting) -> CornerSetting:
        """A corner's setting with the numbers that stand for it and its likes."""
        return replace(
            setting,
            bit_height=self.heights.value(setting.bit_height),
            fence_flat=self.fences.value(setting.fence_flat),
            fence_upright=self.fences.value(setting.fence_upright),
        )


class Scale:
    """Settings of one gauge (mm), those that it cannot tell apart as one."""

    def __init__(self, settings: Iterable[Mm]) -> None:
        self.values: list[Mm] = []
        for setting in sorted(settings):
            if not self.values or not is_one_setting(setting, self.values[-1]):
                self.values.append(setting)

    def place(self, setting: Mm) -> int:
        """Which of the values this setting is."""
        return bisect_right(self.values, setting) - 1

    def value(self, setting: Mm) -> Mm:
        """The setting that stands for it and its likes."""
        return self.values[self.place(setting)]


def _fence(setting: CornerSetting, role: Role) -> Mm:
    return setting.fence_flat if role is Role.FLAT else setting.fence_upright
