"""What the settings of a corner do beside what the law and the job ask for, in words."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.table import RouterTable


def play_words(setting: CornerSetting, style: LengthStyle, table: RouterTable | None = None) -> str:
    """What the corner's bit height leaves, and where it would be tight; nothing of a cutter without play to choose.

    With a table, the tight height is what its gauge would show, to stand beside another reading.
    """
    if setting.play is None:
        return ""
    height = setting.tight_bit_height if table is None else table.height_reading(setting.tight_bit_height)
    tight = style.written(height, fine=True)
    if setting.stands_proud:
        return phrase(
            "{proud} proud; tight {tight}",
            proud=style.written(setting.stands_proud, fine=True),
            tight=tight,
        )
    return phrase("{play} play; tight {tight}", play=style.written(setting.play, fine=True), tight=tight)
