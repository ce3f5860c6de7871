"""What to change where a fence setting is too large for one piece: share the cut differently, or make less of it."""

from __future__ import annotations

import math

from drawerwright.basics.lengths import millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.reach import LargestLip, Reach, largest_lip, least_upright, most_upright
from drawerwright.joints.setting import SAME_SETTING, CornerSetting

LIP_TENTHS = 10
"""The largest lip is given in tenths of a millimetre, rounded down, so that whoever takes it keeps the limits."""


def share_remedy(setting: CornerSetting, reach: Reach) -> str:
    """What to change where a fence setting is too large for one piece: how to share the cut, or, where no sharing
    helps, how large the lip can be and what ends it."""
    cutter, corner = setting.cutter, setting.corner
    step = cutter.step.value
    largest = largest_lip(cutter, corner.upright_thickness, reach)
    if largest is not None and corner.lip > largest.lip + SAME_SETTING:
        return _smaller_lip(largest, reach)
    tooth, most = law.tooth_only_setting(step), most_upright(cutter, corner.upright_thickness, reach)
    if setting.fence_upright <= tooth + SAME_SETTING:
        return phrase(
            "The upright piece already gets the least cut, the tooth alone: use stock of at "
            "least {least} for it, or a cutter with a smaller step.",
            least=millimetres(least_upright(step), ".1f"),
        )
    wanted = corner.fence_sum(cutter)
    return phrase(
        "Share the cut differently: {least} to {most} for the upright piece, and the rest of "
        "{sum} for the flat piece.",
        least=millimetres(max(tooth, law.other_setting(wanted, reach.largest))),
        most=millimetres(most),
        sum=millimetres(wanted),
    )


def _smaller_lip(largest: LargestLip, reach: Reach) -> str:
    ends = {
        "reach": reach.words,
        "further": reach.remedy,
        "upright": millimetres(largest.upright),
        "neck": millimetres(largest.neck, ".1f"),
    }
    lip = math.floor(largest.lip * LIP_TENTHS) / LIP_TENTHS
    if lip < 0:
        return phrase(
            "No fence plan helps: both settings end at {reach}, and even a flush corner needs "
            "more. Use {further}, or thinner stock for the upright piece.",
            **ends,
        )
    return phrase(
        "No fence plan helps. The lip can be at most {lip}: the flat piece's setting ends at "
        "{reach}, the upright piece's at {upright}, where its neck is {neck}. Make the lip "
        "smaller (in a bank: less overlay, or runners that need less room), or use {further}.",
        lip=millimetres(lip, ".1f"),
        **ends,
    )
