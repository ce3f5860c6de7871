"""What the eye sees of a corner that is put together: pictures to tap, and the question where nobody has looked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from drawerwright.web.reader.preferences import Preferences

if TYPE_CHECKING:
    from drawerwright.job.test_cuts.goes_home import HomeQuestion
    from drawerwright.job.test_cuts.trial_reading import Trial
    from drawerwright.joints.setting import CornerSetting
    from drawerwright.store import ShelfEntry

SEEN = ("play", "tight", "proud")
PICTURED_MISFIT = 0.35
"""How far off the pictures of what may be seen are drawn (mm): enough to tell them apart."""
PICTURE_SCALE = 2.0


@dataclass(frozen=True, slots=True)
class Asked:
    """The question about one kept test cut, and what hangs on the answer (None: a later one says that)."""

    entry: ShelfEntry
    question: str
    at_stake: str | None


def questions_of(
    trial: Trial, entries: Sequence[ShelfEntry], questions: Sequence[HomeQuestion]
) -> list[Asked]:
    """What is to be asked, each with the kept cut that it is about."""
    from drawerwright.job.test_cuts.goes_home import asked, at_stake

    by_block = bool(trial.cuts) and trial.cuts[-1].by_block
    return [Asked(entries[one.cut - 1], asked(one), at_stake(one, by_block=by_block)) for one in questions]


def pictures(setting: CornerSetting, reader: Preferences) -> dict[str, str]:
    """The corner as it looks with play, tight, and standing proud; to tap what one sees."""
    from drawerwright.drawings.seating import draw_seating
    from drawerwright.drawings.svg import write_svg
    from drawerwright.joints.fit import seat_setting

    if setting.play is None:
        return {}
    found = {}
    for name, off in zip(SEEN, (-PICTURED_MISFIT, 0.0, PICTURED_MISFIT), strict=True):
        fit = seat_setting(replace(setting, bit_height=setting.tight_bit_height + off))
        scene = draw_seating(
            fit,
            state="pulled" if name == "play" else "pressed",
            scale=PICTURE_SCALE,
            style=reader.lengths,
        )
        found[name] = write_svg(replace(scene, items=_without_words(scene.items)), ground=False)
    return found


def _without_words(items: tuple[Any, ...]) -> tuple[Any, ...]:
    """The wood, its gaps and contacts; figures and leaders would be illegible at this size."""
    from drawerwright.drawings.scene import Layer, Text

    shown = (Layer.WOOD, Layer.GRAIN, Layer.GAP, Layer.CONTACT)
    return tuple(item for item in items if item.layer in shown and not isinstance(item, Text))
