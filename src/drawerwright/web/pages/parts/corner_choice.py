"""Which corner of a job a page shows, or a form is about: by the token of its key, which no change of the job moves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from drawerwright.basics.errors import InvalidValueError
from drawerwright.web.reader.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.planning.corners import PlainJobCorner
    from drawerwright.job.planning.draft import Corner, JobDraft


AnyCorner = TypeVar("AnyCorner", "Corner", "Corner | PlainJobCorner")


def shown_corner(corners: Sequence[AnyCorner], token: str) -> AnyCorner:
    """The corner that an address names; the job's first where it has no such corner. There must be one."""
    return next((corner for corner in corners if corner.key.token == token), corners[0])


def meant_corner(corners: Sequence[AnyCorner], token: str) -> AnyCorner:
    """The corner that a form is about.

    Raises:
        InvalidValueError: the job has no such corner.
    """
    found = next((corner for corner in corners if corner.key.token == token), None)
    if found is None:
        raise InvalidValueError(_("This corner is no longer in the job."))
    return found


def bench_only(draft: JobDraft, style: LengthStyle) -> Mapping[str, Any]:
    """Instead of a page about cutters' corners, for a job that has none: its other corners with their figures."""
    from drawerwright.job.papers.bench_cards import bench_corners
    from drawerwright.job.pictures.corner_pictures import corner_made

    return {
        "part": "bench_corners.html",
        "bench_corners": [(bench, corner_made(bench.made, style)) for bench in bench_corners(draft)],
    }


def corner_links(
    corners: Sequence[Corner | PlainJobCorner], chosen: Corner | PlainJobCorner, style: LengthStyle
) -> Mapping[str, Any]:
    """The corners of a job to choose from, each with its drawing, for `corner_links.html`."""
    from drawerwright.job.pictures.corner_pictures import corners_to_choose
    from drawerwright.job.planning.draft import Corner

    drawings = corners_to_choose(
        tuple(corner.setting if isinstance(corner, Corner) else corner.keyed.made for corner in corners),
        style,
    )
    return {
        "corners": corners,
        "corner_drawings": drawings,
        "chosen": chosen.key.token,
    }
