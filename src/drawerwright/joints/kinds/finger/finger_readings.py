"""What to read on the test pieces of a finger row, and what to change when it is off.

A notch is as wide as the blade or bit makes it; a finger is what is left between two cuts, from the pin to the
cutter. So the pin alone sets the fit: a finger has to be the notch less the clearance.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.kinds.finger.finger_row import FingerRow
from drawerwright.joints.plain_joint import TOLD_APART, BenchReading, BenchSetting

READINGS = (
    BenchReading("notch", phrase("width of a notch")),
    BenchReading("finger", phrase("width of a finger between two notches")),
    BenchReading("row", phrase("first to last notch of one piece, near side to near side")),
    BenchReading("proud", phrase("finger stands proud of the other piece's face; minus: short of it"), True),
)
SETTINGS = (
    BenchSetting("tongue", phrase("from pin to cutter"), "pin", -1),
    BenchSetting("bit_height_flat", phrase("bit height for the flat piece"), "bit_height"),
    BenchSetting("bit_height_upright", phrase("bit height for the upright piece"), "bit_height"),
)
"""A pin that goes towards the cutter leaves less between them."""

REMEDIES = (
    phrase(
        "Too tight: the finger is over the notch less the clearance; move the pin towards the cutter by as much as "
        "it is over. Too loose: away from it."
    ),
    phrase(
        "The row creeps: over all its steps it is longer or shorter than expected. Make the pin fit the notch "
        "closely, and push every notch against the same side of it."
    ),
    phrase("Fingers stand proud or stop short: lower or raise the bit by as much."),
)


def expected(row: FingerRow) -> dict[str, Mm]:
    """What calipers should show (mm)."""
    return {
        "notch": row.notch,
        "finger": row.tongue,
        "row": (row.fingers - 2) * row.pitch,
        "proud": 0.0,
    }


def changes(row: FingerRow, read: Mapping[str, Mm]) -> dict[str, Mm]:
    """What the readings ask for (mm): `pin` towards the cutter, `bit_height` up, `creep` for each step of the row.

    Raises:
        InvalidValueError: the row is a finger or more off: no row creeps so far, it is another count of steps.
    """
    notch = read.get("notch", row.notch)
    found: dict[str, Mm] = {}
    if "finger" in read or "notch" in read:
        found["pin"] = read.get("finger", row.tongue) - (notch - row.clearance)
    if "row" in read and row.fingers > 2:
        steps = row.fingers - 2
        wanted = steps * (read.get("finger", row.tongue) + notch)
        if abs(read["row"] - wanted) >= row.finger:
            raise InvalidValueError(
                phrase(
                    "a row of {row} cannot be meant where {wanted} is expected: did you measure over {steps} steps, on "
                    "an edge {width} wide? A finger ({finger}) or more off is another count (common practice, no "
                    "source)",
                    row=millimetres(read["row"], ".1f"),
                    wanted=millimetres(wanted, ".1f"),
                    steps=steps,
                    width=millimetres(row.width, ".1f"),
                    finger=millimetres(row.finger, "g"),
                )
            )
        found["creep"] = (read["row"] - wanted) / steps
    if "proud" in read:
        found["bit_height"] = -read["proud"]
    return found


def words(changes: Mapping[str, Mm]) -> Iterator[Phrase]:
    pin, creep, height = (changes.get(name, 0.0) for name in ("pin", "creep", "bit_height"))
    if pin > TOLD_APART:
        yield phrase(
            "Too tight: move the pin {by} towards the cutter, or pack it out by as much.",
            by=millimetres(pin),
        )
    elif pin < -TOLD_APART:
        yield phrase("Too loose: move the pin {by} away from the cutter.", by=millimetres(-pin))
    if abs(creep) > TOLD_APART:
        yield (
            phrase("The row creeps: each step is {by} too long.", by=millimetres(creep))
            if creep > 0
            else phrase("The row creeps: each step is {by} too short.", by=millimetres(-creep))
        )
        yield phrase(
            "It adds up along the row: make the pin fit the notch closely, and push every notch against the same side "
            "of it."
        )
    if height < -TOLD_APART:
        yield phrase("Fingers stand proud: lower the bit by {by}.", by=millimetres(-height))
    elif height > TOLD_APART:
        yield phrase("Fingers stop short: raise the bit by {by}.", by=millimetres(height))
    if not any(abs(change) > TOLD_APART for change in changes.values()):
        yield phrase("The test cut is right: nothing to change.")
