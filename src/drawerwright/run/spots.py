"""Where ends are cut: what no gauge tells apart is one bit height, or one position of the fence."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TypeAlias

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.parts import EndCut, Role
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.setting import CornerSetting, is_one_setting

Spot: TypeAlias = tuple[int, int]
"""Bit height and fence setting as places on their scales."""


class Spots:
    """The settings of a job's corners as places on two scales, `heights` and `fences`."""

    def __init__(self, settings: Mapping[CornerKey, CornerSetting]) -> None:
        self._settings = settings
        self.heights = Scale(setting.bit_height for setting in settings.values())
        self.fences = Scale(_fence(setting, role) for setting in settings.values() for role in Role)

    @property
    def told_apart(self) -> dict[CornerKey, CornerSetting]:
        """The settings with one number for what a gauge cannot tell apart."""
        return {
            key: replace(
                setting,
                bit_height=self.heights.value(setting.bit_height),
                fence_flat=self.fences.value(setting.fence_flat),
                fence_upright=self.fences.value(setting.fence_upright),
            )
            for key, setting in self._settings.items()
        }

    def of(self, end: EndCut) -> Spot:
        """Where an end is cut."""
        setting = self._settings[end.corner]
        return self.heights.place(setting.bit_height), self.fences.place(_fence(setting, end.role))

    def how_cut(self, end: EndCut) -> tuple[Role, Spot]:
        """The same for all ends that are held alike and cut at one place, whatever their corner."""
        return end.role, self.of(end)


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
