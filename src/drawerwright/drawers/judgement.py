"""What is doubtful about drawers as designed, before any machine is set."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm
from drawerwright.drawers.bank import Bank, FrontStyle
from drawerwright.drawers.box import DrawerBox, Orientation
from drawerwright.joints import law
from drawerwright.joints.cutter import Cutter, CutterKind

LOW_BOX: Mm = 50.0
"""Lowest useful box (common practice, no source)."""
GROOVE_SHARE = 0.5
"""A groove takes about half the thickness at most (common practice, no source)."""
SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


def box_findings(box: DrawerBox, cutter: Cutter) -> tuple[Finding, ...]:
    """Findings about one drawer."""
    return tuple(_box(box, cutter))


def _box(box: DrawerBox, cutter: Cutter) -> Iterator[Finding]:
    if box.orientation is Orientation.SIDES_FLAT:
        yield Finding(
            "front-is-upright",
            Severity.WARNING,
            box.name,
            "front and back are the upright pieces, so glue alone holds the front against the pull.",
            "Make fronts and backs the flat pieces.",
        )
    if box.front_height > box.height + SEEN:
        yield Finding(
            "front-taller-than-sides",
            Severity.WARNING,
            box.name,
            f"the front is {box.front_height:.1f} mm high and the sides {box.height:.1f} mm: the cut runs over the "
            "front's whole height and shows above the sides.",
            "Make the sides as high as the front, use an applied front, or plug the cut.",
        )
    if box.height < LOW_BOX:
        yield Finding(
            "low-box",
            Severity.NOTE,
            box.name,
            f"the sides are only {box.height:.1f} mm high.",
            f"Boxes under {LOW_BOX:g} mm hold little: consider fewer fronts.",
        )
    yield from _groove(box, cutter)


def _groove(box: DrawerBox, cutter: Cutter) -> Iterator[Finding]:
    groove = None if box.bottom is None else box.bottom.groove
    if groove is None:
        return
    for piece, corner in (("front", box.front_corner), ("back", box.back_corner)):
        height = cutter.bit_height(corner.flat_thickness)
        left = law.roof(corner.flat_thickness, height)
        if cutter.kind is CutterKind.DRAWER_LOCK and groove.depth > height + SEEN:
            yield Finding(
                "groove-shows",
                Severity.WARNING,
                f"{box.name} {piece}",
                f"the groove is {groove.depth:.1f} mm deep and the cut leaves {left:.1f} mm from {height:.1f} mm on: "
                "the groove runs out through the end that can be seen.",
                f"Make the groove at most {height:.1f} mm deep, or stop it short of the end.",
            )
        if cutter.kind is CutterKind.LOCK_MITRE:
            yield Finding(
                "groove-shows",
                Severity.WARNING,
                f"{box.name} {piece}",
                "a mitred corner shows both pieces' ends, and a groove that runs through them.",
                "Stop the groove short of the ends, or fix the bottom from below.",
            )
    if groove.height + groove.width > box.height:
        yield Finding(
            "groove-outside",
            Severity.STOP,
            box.name,
            f"the groove would end {groove.height + groove.width:.1f} mm above the lower edge of a side "
            f"{box.height:.1f} mm high.",
            "Lower the groove or raise the sides.",
        )
    thinnest = min(stock.thickness.value for stock in (box.front, box.side, box.back))
    if groove.depth > GROOVE_SHARE * thinnest + SEEN:
        yield Finding(
            "deep-groove",
            Severity.WARNING,
            box.name,
            f"a groove {groove.depth:.1f} mm deep takes more than half of {thinnest:.1f} mm.",
            f"Make it at most {GROOVE_SHARE * thinnest:.1f} mm deep.",
        )
    if groove.height < groove.width:
        yield Finding(
            "groove-near-edge",
            Severity.WARNING,
            box.name,
            f"only {groove.height:.1f} mm of wood stand below a groove {groove.width:.1f} mm wide.",
            "Leave at least the groove's width below it.",
        )


def bank_findings(bank: Bank, boxes: tuple[DrawerBox, ...]) -> tuple[Finding, ...]:
    """Findings about a bank and its runners."""
    return tuple(_bank(bank, boxes))


def _bank(bank: Bank, boxes: tuple[DrawerBox, ...]) -> Iterator[Finding]:
    runner = bank.runner
    if runner.thickest_side is not None and bank.side_thickness > runner.thickest_side + SEEN:
        yield Finding(
            "side-too-thick",
            Severity.STOP,
            bank.name,
            f"sides of {bank.side_thickness:.1f} mm are thicker than the {runner.thickest_side:g} mm the runner takes.",
            "Use thinner sides or another runner.",
        )
    if runner.bottom_recess is not None:
        for box in boxes:
            height = 0.0 if box.bottom is None or box.bottom.groove is None else box.bottom.groove.height
            if height < runner.bottom_recess - SEEN:
                yield Finding(
                    "bottom-too-low",
                    Severity.STOP,
                    box.name,
                    f"the bottom lies {height:.1f} mm above the sides' lower edges; the runner needs "
                    f"{runner.bottom_recess:g} mm.",
                    "Raise the groove.",
                )
    if bank.style is FrontStyle.INSET:
        gap = -bank.overlay.sides
        needed = runner.side_space(bank.opening.width, bank.side_thickness)
        if needed > gap + SEEN:
            yield Finding(
                "runner-has-no-room",
                Severity.STOP,
                bank.name,
                f"an inset front with {gap:.1f} mm of reveal leaves no room for runners that need {needed:.1f} mm.",
                "Use a lipped front, an applied front, or wooden runners.",
            )
