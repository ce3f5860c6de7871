"""What the settings of a corner do beside what the law and the job ask for, in words."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase
from drawerwright.joints.setting import CornerSetting


def play_words(setting: CornerSetting, style: LengthStyle) -> str:
    """What the corner's bit height leaves, and where it would be tight; nothing of a cutter without play to choose."""
    if setting.play is None:
        return ""
    tight = style.written(setting.tight_bit_height, fine=True)
    if setting.stands_proud:
        return phrase(
            "stands proud by {proud}; tight would be {tight}",
            proud=style.written(setting.stands_proud, fine=True),
            tight=tight,
        )
    return phrase(
        "{play} of play; tight would be {tight}", play=style.written(setting.play, fine=True), tight=tight
    )


def lip_words(setting: CornerSetting, style: LengthStyle) -> str:
    """The lip that the fence settings make, where it is not just the one that is wanted."""
    made, wanted = (style.written(lip, fine=True) for lip in (setting.lip, setting.corner.lip))
    return (
        "" if str(made) == str(wanted) else phrase("lip {made} (wanted {wanted})", made=made, wanted=wanted)
    )
