"""Rails that folders hang on: which drawers get the same, and what is said of fixing them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.hangers import HungRails
from drawerwright.run.work import HangRails

LEAST_PACKING: Mm = 0.3
"""What is less closes as the screws are tightened (common practice, no source)."""
RAILS_IN_A_DRAWER = 2


def rail_work(boxes: Iterable[DrawerBox]) -> list[HangRails]:
    """The drawers with rails, those with the same together."""
    alike: dict[HungRails, list[str]] = {}
    for box in boxes:
        if (rails := box.rails) is not None:
            alike.setdefault(rails, []).append(box.name)
    return [HangRails(tuple(names), rails) for rails, names in alike.items()]


def rail_lines(items: Sequence[HangRails], style: LengthStyle) -> list[Phrase]:
    """What is said of them."""
    lines = []
    for item in items:
        rails = item.rails
        words = {
            "drawers": names_in_row(item.drawers),
            "length": style.written(rails.length),
            "level": style.written(rails.level),
            "span": style.written(rails.hangers.span),
        }
        lines.append(
            phrase(
                "{drawers}: screw a rail {length} long to the inner face of each side, its upper edge {level} above "
                "the sides' lower edges; {span} from the middle of one to that of the other.",
                **words,
            )
            if rails.hangers.is_across
            else phrase(
                "{drawers}: screw a rail {length} long to the inner faces of front and back, its upper edge {level} "
                "above the sides' lower edges; {span} from the middle of one to that of the other.",
                **words,
            )
        )
        if rails.packing > LEAST_PACKING:
            lines.append(phrase("Pack each off by {packing}.", packing=style.written(rails.packing)))
    lines.append(
        phrase("Hang a folder in before you fix the second rail, and deburr the ends of metal rails.")
    )
    return lines
