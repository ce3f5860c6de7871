"""What is doubtful about a finger joint. The limits are common practice, without a source."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints.kinds.finger.finger_row import FingerRow, whole_widths
from drawerwright.joints.kinds.finger.row_doubt import RowDoubt
from drawerwright.joints.setting import SAME_SETTING, CornerGeometry

NARROW_SHARE, WIDE_SHARE = 0.25, 1.5
"""Of the thinner piece: narrower fingers break off, wider ones leave little to glue."""
SURE_ODDS = 0.9
"""A row that goes together less often than this is worth a warning."""


def corner_faults(corner: CornerGeometry, row: FingerRow, kerf: Mm, where: str) -> tuple[Finding, ...]:
    """What does not hang on how long the row is."""
    return tuple(_corner_faults(corner, row, kerf, where))


def _corner_faults(corner: CornerGeometry, row: FingerRow, kerf: Mm, where: str) -> Iterator[Finding]:
    if abs(corner.lip) > SAME_SETTING:
        yield Finding(
            "fingers-under-a-lip",
            Severity.STOP,
            where,
            phrase(
                "fingers go right through the front and show on its face; a lip of {lip} cannot cover them.",
                lip=millimetres(corner.lip),
            ),
            phrase("Use an applied front on a flush box, or another joint for this drawer."),
        )
    if kerf > row.notch + SAME_SETTING:
        yield Finding(
            "kerf-wider-than-notch",
            Severity.STOP,
            where,
            phrase(
                "a kerf of {kerf} is wider than the notch of {notch}.",
                kerf=millimetres(kerf),
                notch=millimetres(row.notch),
            ),
            phrase("Use a narrower blade or bit, or wider fingers."),
        )
    thin = min(corner.flat_thickness, corner.upright_thickness)
    if row.finger < NARROW_SHARE * thin:
        yield Finding(
            "narrow-fingers",
            Severity.WARNING,
            where,
            phrase(
                "fingers of {finger} in stock of {thickness} break off easily.",
                finger=millimetres(row.finger, "g"),
                thickness=millimetres(thin),
            ),
            phrase("Use fingers of {least} or more.", least=millimetres(NARROW_SHARE * thin, ".1f")),
        )
    elif row.finger > WIDE_SHARE * thin:
        yield Finding(
            "wide-fingers",
            Severity.NOTE,
            where,
            phrase(
                "fingers of {finger} are wide for stock of {thickness}: few flanks to glue.",
                finger=millimetres(row.finger, "g"),
                thickness=millimetres(thin),
            ),
            phrase("Fingers about as wide as the stock is thick, or narrower, hold better."),
        )


def row_faults(finger: Mm, clearance: Mm, width: Mm, where: str, doubt: RowDoubt) -> tuple[Finding, ...]:
    """What hangs on the width of the edge (mm)."""
    return tuple(_row_faults(finger, clearance, width, where, doubt))


def _row_faults(finger: Mm, clearance: Mm, width: Mm, where: str, doubt: RowDoubt) -> Iterator[Finding]:
    try:
        row = FingerRow(width, finger, clearance)
    except InvalidValueError as error:
        yield Finding(
            "no-room-for-fingers",
            Severity.STOP,
            where,
            str(error),
            phrase("There is no packet until this is settled."),
        )
        return
    if not row.has_whole_ends:
        below, above = whole_widths(width, finger)
        yield Finding(
            "uneven-end-fingers",
            Severity.NOTE,
            where,
            phrase(
                "with fingers of {finger}, an edge of {width} ends in fingers of {end}.",
                finger=millimetres(finger, "g"),
                width=millimetres(width, ".1f"),
                end=millimetres(row.end),
            ),
            phrase(
                "Sides {below} or {above} high give whole fingers at both ends.",
                below=millimetres(below, ".1f"),
                above=millimetres(above, ".1f"),
            ),
        )
    steps = row.fingers - 2
    odds = doubt.goes_together(steps, clearance)
    if odds < SURE_ODDS:
        yield Finding(
            "long-finger-row",
            Severity.WARNING,
            where,
            phrase(
                "small errors add up over {steps} steps; with a clearance of {clearance} the odds that such a row goes "
                "together are {odds:.0f} %.",
                steps=steps,
                clearance=millimetres(clearance, "g"),
                odds=100 * odds,
            ),
            phrase("Use wider fingers or more clearance, and make the pin fit its notch closely."),
        )
