"""The boxes that come out of a job: outside and inside, drawers of one size together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.unbroken import unbroken
from drawerwright.drawers.box import DrawerBox
from drawerwright.job.job import Job


@dataclass(frozen=True, slots=True)
class BoxSizes:
    """Drawers of one size: width, depth and height outside, width and depth inside, as a reader reads them."""

    names: str
    outside: str
    inside: str


def box_sizes(job: Job, style: LengthStyle) -> tuple[BoxSizes, ...]:
    """Every size of box, in the order of the job."""
    style = style.in_a_row(size for box in job.all_boxes for size in _of_box(box))
    found: dict[tuple[str, str], list[str]] = {}
    for box in job.all_boxes:
        outside, inside = (_in_row(sizes, style) for sizes in (_of_box(box)[:3], _of_box(box)[3:]))
        found.setdefault((outside, inside), []).append(box.name)
    return tuple(BoxSizes(names_in_row(names), *sizes) for sizes, names in found.items())


def _in_row(sizes: Iterable[Mm], style: LengthStyle) -> str:
    """Sizes of which no end of a line parts one."""
    return " × ".join(unbroken(style.show(size, with_unit=False)) for size in sizes)


def _of_box(box: DrawerBox) -> tuple[Mm, Mm, Mm, Mm, Mm]:
    """Width, depth and height outside, width and depth inside."""
    return box.width, box.depth, box.height, box.inside_width, box.inside_depth
