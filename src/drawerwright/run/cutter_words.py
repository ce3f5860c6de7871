"""Words for a cutter in the router: how fast it may turn, and what to do when it is changed."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.run.speeds import SpeedAdvice
from drawerwright.run.work import ChangeCutter


def speed_words(advice: SpeedAdvice | None) -> Phrase:
    """How fast a cutter may turn."""
    if advice is None:
        return phrase(
            "Neither the cutter's diameter nor its top speed is known: find the speed marked "
            "on it and never exceed it. Large cutters must run slowly."
        )
    if advice.choose is None:
        return phrase(
            "Spindle speed: at most {limit} for this cutter ({source}); never exceed the figure marked on the cutter.",
            limit=_turning(advice.limit, advice.at_the_rim),
            source=advice.source,
        )
    return phrase(
        "Spindle speed: {choose}. The limit for this cutter is {limit} ({source}); never exceed the figure marked on "
        "the cutter.",
        limit=_turning(advice.limit),
        choose=_turning(advice.choose, advice.at_the_rim),
        source=advice.source,
    )


def _turning(speed: float, at_the_rim: float | None = None) -> Phrase:
    """A spindle speed, and how fast the rim runs at it: in m/s for readers of inches too, as safety rules give it."""
    if at_the_rim is None:
        return phrase("{speed:,.0f} 1/min", speed=speed)
    return phrase("{speed:,.0f} 1/min ({rim:.0f} m/s at the rim)", speed=speed, rim=at_the_rim)


def mounting_words() -> Phrase:
    """How a cutter is put in. Common practice; the manuals govern."""
    return phrase(
        "Unplug the router before you touch the cutter. Insert the shank fully, back it off {gap}, tighten it, "
        "and turn the cutter by hand past fence and table before you switch on.",
        gap=RoughLength("2 mm", "1/16 in"),
    )


def change_words(change: ChangeCutter, style: LengthStyle) -> list[Phrase]:
    """What to do when a cutter is put in, with what can hurt there."""
    lines = [mounting_words()]
    if change.takes_out is not None:
        lines.insert(0, phrase("All bands for {cutter} are routed: take it out.", cutter=change.takes_out))
        lines.append(phrase("A cutter that has just run is hot and sharp: hold it with a rag."))
    lines.append(
        phrase("Check that table ring and fence opening suit this cutter.")
        if change.diameter is None
        else phrase(
            "Check that table ring and fence opening suit its diameter of {diameter}.",
            diameter=style.bought(change.diameter),
        )
    )
    lines.append(speed_words(change.advice))
    return lines
