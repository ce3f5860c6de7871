"""What is done for finger joints in the shop. Times are counted by the shop's own rates: set-ups, passes, metres."""

from __future__ import annotations

from drawerwright.basics.lengths import Mm, WrittenLength, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.bench_place import BenchPlace
from drawerwright.joints.joint import BenchWork
from drawerwright.joints.kinds.finger.finger_row import FingerRow
from drawerwright.joints.setting import SAME_SETTING, CornerGeometry

STACKED = 2
"""So many ends are notched at once, held together on edge (common practice, no source)."""


def finger_work(row: FingerRow, corner: CornerGeometry, kerf: Mm, place: BenchPlace) -> tuple[BenchWork, ...]:
    """The work for one corner."""
    machine = phrase("router table or saw")
    flat, upright = corner.flat_thickness, corner.upright_thickness
    notches = 2 * row.fingers - 1
    jig = phrase(
        "Jig: pin {pin} wide, {gap} from pin to cutter, pitch {pitch} (see its card). Test cut in scrap of the same "
        "stock, and try the fit.",
        pin=millimetres(row.notch),
        gap=millimetres(place.shown("tongue", row.tongue)),
        pitch=millimetres(row.pitch),
    )
    lines = (
        phrase(
            "{pieces}: bit {height} high. First notch {start} from the lower edge, against a stop block "
            "with the pin out; then each notch on the pin for the next.",
            pieces=place.flat_words,
            height=millimetres(place.shown("bit_height_flat", upright)),
            start=millimetres(place.flat_low + row.first_notch),
        ),
        _upright_line(row, millimetres(place.shown("bit_height_upright", flat)), place),
        phrase(
            "Start every end from the lower edge, and push every notch against the same side of the pin. Hold two ends "
            "together, with scrap behind them."
        ),
    )
    passes = notches * row.passes(kerf)
    metres = passes * (flat + upright) / 2 / 1000
    return (
        BenchWork(phrase("Set up the finger jig"), machine, (jig,), is_setting=True),
        BenchWork(
            phrase("Cut the fingers"), machine, lines, passes=passes / STACKED, metres=metres / STACKED
        ),
    )


def _upright_line(row: FingerRow, height: WrittenLength, place: BenchPlace) -> Phrase:
    """The piece may reach below the other one: there it stays as long as it is."""
    low = place.upright_low
    if low < SAME_SETTING:
        return phrase(
            "{pieces}: bit {height} high. Notch {end} wide at the lower edge, then on the pin.",
            pieces=place.upright_words,
            height=height,
            end=millimetres(row.end_notch),
        )
    return phrase(
        "{pieces}: bit {height} high. First notch from {low} to {high} above the lower edge, against a stop block; "
        "leave the wood below it. Then on the pin.",
        pieces=place.upright_words,
        height=height,
        low=millimetres(low),
        high=millimetres(low + row.end_notch),
    )
