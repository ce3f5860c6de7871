"""What is doubtful about bands as they are held at the router table.

Common practice, no source; manuals and local rules come first.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase, plural
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.joints.table import RouterTable
from drawerwright.run.marks import BandMark, PartName, numbers_in_row, parts_named
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.from_parts import BandFamily
from drawerwright.sheets.saw import Saw

STEADY = 2.0
"""An upright band stands steadily where it is at most so many times as tall as the edge that it stands on is long
(common practice, no source)."""
TALL: Mm = 600.0
TALL_WORDS = RoughLength("600 mm", "24 in")
"""Taller than this an upright band is hard to hold at a usual fence; asked where no limit of the table is known (common
practice, no source)."""
NARROW: Mm = 100.0
NARROW_WORDS = RoughLength("100 mm", "4 in")
"""A band narrower than this between its routed edges brings the hands too near to the cutter (common practice, no
source)."""


def family_findings(
    families: Sequence[BandFamily], table: RouterTable, rules: BandRules, saw: Saw
) -> tuple[Finding, ...]:
    """Findings about bands that show before any sheet is planned."""
    return tuple(finding for family in families for finding in _family(family, table, rules, saw))


def band_findings(
    families: Sequence[BandFamily], bands: Sequence[BandMark], rules: BandRules, saw: Saw
) -> tuple[Finding, ...]:
    """Findings about the bands of a plan: those that stand on too short an edge, where wider ones could be made."""
    found = []
    for family in families:
        if family.role is Role.UPRIGHT and family.length <= STEADY * _longest_foot(family, rules, saw):
            tipping = [
                band
                for band in bands
                if band.placed.family == family.key and family.length > STEADY * band.placed.width
            ]
            if tipping:
                where = plural(
                    "band {numbers}",
                    "bands {numbers}",
                    len(tipping),
                    numbers=numbers_in_row(band.number for band in tipping),
                )
                drawers = [part.drawer for band in tipping for part in band.parts]
                shortest = min(band.placed.width for band in tipping)
                found.append(_unsteady(where, family.length, shortest, drawers))
    return tuple(found)


def _family(family: BandFamily, table: RouterTable, rules: BandRules, saw: Saw) -> Iterator[Finding]:
    drawers = tuple(dict.fromkeys(part.drawer for part in family.parts))
    where = parts_named(PartName.of(part) for part in family.parts)
    length = millimetres(family.length, ".0f")
    is_across = family.parts[0].kind in (PartKind.FRONT, PartKind.BACK)
    size = "width" if is_across else "depth"  # what a box's parts are as long as
    if family.length < NARROW:
        yield Finding(
            "band-too-narrow",
            Severity.WARNING,
            where,
            phrase(
                "the band is only {length} wide between its routed edges; under {limit} your "
                "hands come too near the cutter.",
                length=length,
                limit=NARROW_WORDS,
            ),
            phrase("Never guide it by hand: screw or clamp it to a carrier that keeps both hands clear."),
            drawers,
            size=size,
        )
    if family.role is not Role.UPRIGHT:
        return
    if table.tallest_upright is not None and family.length > table.tallest_upright:
        yield Finding(
            "band-too-tall",
            Severity.STOP,
            where,
            phrase(
                "bands {length} tall are taller than the {tallest} that the router table takes.",
                length=length,
                tallest=millimetres(table.tallest_upright, "g"),
            ),
            phrase(
                "Raise the limit if your fence and feather boards allow it, make the drawers less "
                "deep, or cut these corners another way."
            ),
            drawers,
            size=size,
        )
    elif table.tallest_upright is None and family.length > TALL:
        yield Finding(
            "band-too-tall",
            Severity.WARNING,
            where,
            phrase(
                "bands {length} tall: over {limit} an upright band is hard to hold, and the "
                "job does not say how tall a band the router table takes.",
                length=length,
                limit=TALL_WORDS,
            ),
            phrase(
                "Enter how tall a band your fence and feather boards hold, make the drawers less deep, "
                "or cut these corners another way."
            ),
            drawers,
            size=size,
        )
    foot = _longest_foot(family, rules, saw)
    if family.length > STEADY * foot:
        yield _unsteady(where, family.length, foot, drawers)


def _longest_foot(family: BandFamily, rules: BandRules, saw: Saw) -> Mm:
    """As long as the routed edge of a band can be: all parts of the family side by side (mm)."""
    strips = sum(part.cut_width for part in family.parts) + saw.kerf * (len(family.parts) - 1)
    waste = rules.sacrificial_ends * (rules.sacrificial_strip + saw.kerf) if rules.sacrificial_strip else 0.0
    return max(rules.shortest_piece, strips + waste)


def _unsteady(where: str, tall: Mm, foot: Mm, drawers: Sequence[str]) -> Finding:
    return Finding(
        "upright-on-short-foot",
        Severity.WARNING,
        where,
        phrase(
            "a band {tall} tall stands on an edge only {foot} long; more than {times:g} times "
            "as tall as its foot, it tips easily.",
            tall=millimetres(tall, ".0f"),
            foot=millimetres(foot, ".0f"),
            times=STEADY,
        ),
        phrase(
            "Raise the shortest safe piece to {least} or more, so that bands become that long, or "
            "screw the band to a carrier with a longer foot.",
            least=millimetres(math.ceil(tall / STEADY), ".0f"),
        ),
        tuple(dict.fromkeys(drawers)),
    )
