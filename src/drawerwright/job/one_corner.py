"""The use case `settings`: one corner straight from its measures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import LengthStyle, Mm, millimetres
from drawerwright.basics.phrases import phrase, plain
from drawerwright.job.plain_data import finding_data, mm, setting_data
from drawerwright.job.planning.odds_words import cut_words, doubt_words
from drawerwright.joints.bit_heights import BitHeights
from drawerwright.joints.corner_findings import height_findings, lip_findings, setting_findings
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of
from drawerwright.joints.odds import JointOdds, joint_odds
from drawerwright.joints.setting import ROUNDING, CornerSetting, is_one_setting
from drawerwright.joints.table import RouterTable
from drawerwright.joints.wanted import Wanted
from drawerwright.wood.stock import thickness_slip


@dataclass(frozen=True)
class SettledCorner:
    """One corner with the settings to dial in, beside them those at which it is tight, and what is doubtful.

    tight: by the law, as on gauges without marks. odds: of the first cut at the recommended settings. The sizes are
    what a piece is cut to (`SelfMating.piece_size`), where a finished size was given (mm).
    """

    recommended: CornerSetting
    tight: CornerSetting
    table: RouterTable
    odds: JointOdds
    size: Mm | None
    tight_size: Mm | None
    findings: tuple[Finding, ...]

    @property
    def data(self) -> dict[str, Any]:
        """As JSON-ready data, lengths in mm, odds from 0 to 1; null where everything is exact.

        The settings of the law, and under `recommended` those to dial in, with the odds that the joint fits.
        """
        setting, odds = self.recommended, self.odds
        return {
            **setting_data(self.tight),
            **self._size(self.tight_size),
            "recommended": {
                "bit_height": mm(setting.bit_height),
                "play": None if setting.play is None else mm(setting.play),
                "odds": round(odds.odds.fits, 4) if odds.is_judged else None,
                "fence_flat": mm(setting.fence_flat),
                "fence_upright": mm(setting.fence_upright),
                "lip": mm(setting.lip),
                **self._size(self.size),
            },
            "findings": [finding_data(finding) for finding in self.findings],
        }

    def _size(self, size: Mm | None) -> dict[str, float]:
        """A size under its name in data."""
        name = plain(joint_of(self.tight.cutter).piece_measure).replace(" ", "_")
        return {} if size is None else {name: mm(size)}


def settle_corner(
    cutter: Cutter,
    wanted: Wanted,
    table: RouterTable | None = None,
    *,
    outer: Mm | None = None,
    other_flat: Mm | None = None,
    boards: int = 2,
) -> SettledCorner:
    """Settings of one corner.

    Args:
        cutter: the cutter.
        wanted: measured thicknesses, lip, how the fence sum is shared, and what counts as a fit.
        table: gauges and how well a setting comes back.
        outer: finished size over both flat pieces (mm), for the length of the upright piece between them; of boards
            edge to edge, the width of the panel.
        other_flat: thickness of the flat piece at the far end (mm), when it differs.
        boards: how many make the panel.

    Raises:
        InvalidValueError: a thickness is not more than 0, or the outer size leaves no upright piece.
    """
    table = table or RouterTable()
    check_thicknesses(wanted.flat_thickness.value, wanted.upright_thickness.value)
    if boards < 2:
        raise InvalidValueError(phrase("a panel needs two boards or more, not {boards}", boards=boards))
    recommended, tight = wanted.recommended(cutter, table), wanted.tight(cutter)
    length, tight_length = (
        None if outer is None else joint_of(cutter).piece_size(setting, outer, other_flat, boards)
        for setting in (recommended, tight)
    )
    if outer is not None and length is not None:
        if cutter.mating.makes_corners:
            check_room_left(outer, wanted.flat_thickness.value, other_flat)
        else:
            check_length_left(outer, length)
    return SettledCorner(
        recommended,
        tight,
        table,
        joint_odds(wanted.cut(cutter, table), wanted.as_set(recommended)),
        length,
        tight_length,
        (
            *_slips(wanted),
            *setting_findings(recommended, "corner"),
            *height_findings(recommended, "corner", BitHeights(wanted.fit, table)),
            *lip_findings(recommended, "corner", wanted.fit),
        ),
    )


def _slips(wanted: Wanted) -> Iterator[Finding]:
    """Pieces thicker than any joint is made in."""
    for where, known in (
        (phrase("flat piece"), wanted.flat_thickness),
        (phrase("upright piece"), wanted.upright_thickness),
    ):
        if (slip := thickness_slip(known.value, where)) is not None:
            yield slip


def check_thicknesses(flat: Mm, upright: Mm) -> None:
    """Raises:
    InvalidValueError: a thickness (mm) is not more than 0.
    """
    for name, value in (
        (phrase("flat piece"), flat),
        (phrase("upright piece"), upright),
    ):
        if value <= 0:
            raise InvalidValueError(
                phrase(
                    "the thickness of the {name} must be more than 0, not {value}",
                    name=name,
                    value=millimetres(value, "g"),
                )
            )


def check_room_left(outer: Mm, flat: Mm, other_flat: Mm | None) -> None:
    """Raises:
    InvalidValueError: an outer size (mm) leaves nothing between the flat pieces at its ends (mm).
    """
    both = flat + (flat if other_flat is None else other_flat)
    if outer <= both + ROUNDING:
        raise InvalidValueError(
            phrase(
                "an outer size of {outer} leaves nothing between the two flat pieces, which take {both}: give a "
                "larger outer size",
                outer=millimetres(outer, "g"),
                both=millimetres(both, "g"),
            )
        )


def check_length_left(outer: Mm, length: Mm) -> None:
    """Raises:
    InvalidValueError: an outer size (mm) of a panel leaves a board no width (mm).
    """
    if length <= 0:
        raise InvalidValueError(
            phrase(
                "an outer size of {outer} leaves a board of {length}: give a larger outer size",
                outer=millimetres(outer, "g"),
                length=millimetres(length, "g"),
            )
        )


def settled_text(settled: SettledCorner, style: LengthStyle) -> str:
    """The settings of a corner for a person at the router table."""
    return "\n".join(map(style.say, _lines(settled, style)))


def _lines(settled: SettledCorner, style: LengthStyle) -> Iterator[str]:
    setting, tight, table = settled.recommended, settled.tight, settled.table
    yield from (finding.told(style) for finding in settled.findings if finding.stops)

    def show(length: Mm) -> str:
        return style.show(length, fine=True)

    def line(name: str, length: Mm, *more: str) -> str:
        return f"{name:23}{show(length):>12}   {'; '.join(filter(None, more))}".rstrip()

    def shown(gauge: str, true: Mm, reading: Mm) -> str:
        return "" if is_one_setting(true, reading) else f"the {gauge} shows {show(reading)}"

    play = f", leaving {show(setting.play)} of play" if setting.play is not None else ""
    height = table.height_reading(setting.bit_height)
    yield line(
        "recommended bit height",
        setting.bit_height,
        f"dial this in{play}",
        shown("height gauge", setting.bit_height, height),
    )
    yield line(
        "tight bit height",
        tight.bit_height,
        "by the law, without play; any higher, and it does not close"
        if setting.play is not None
        else "by the law; the same, as there is no play to choose",
    )
    fences = {"fence flat": setting.fence_flat, "fence upright": setting.fence_upright}
    for name, fence in fences.items():
        yield line(name, fence, shown("fence scale", fence, table.fence_reading(fence)))
    figures = _figures(setting, settled.size)
    for (name, length), (_, by_law) in zip(figures, _figures(tight, settled.tight_size), strict=True):
        yield line(name, length, "" if is_one_setting(length, by_law) else f"by the law {show(by_law)}")
    yield cut_words(settled.odds, "")
    yield from doubt_words(settled.odds)
    yield from (finding.told(style) for finding in settled.findings if not finding.stops)


def _figures(setting: CornerSetting, size: Mm | None) -> list[tuple[str, Mm]]:
    """What follows from a setting."""
    joint = joint_of(setting.cutter)
    cut_to = [] if size is None else [(str(joint.piece_measure), size)]
    return [*cut_to, *((str(name), figure) for name, figure in joint.figures(setting))]
