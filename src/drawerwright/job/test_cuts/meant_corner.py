"""Which corner of a job a trial file means: by its name in the plan, or by what is said of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias, TypeGuard

from drawerwright.basics.lengths import kept_length
from drawerwright.job.file.trial_model import CornerEntry
from drawerwright.job.planning.corners import JobCorner, PlainJobCorner
from drawerwright.joints.corner_key import PlainKeyedCorner

AnyCorner: TypeAlias = JobCorner | PlainJobCorner
"""A corner of a job, made by a cutter or without one."""


def is_plain_corner(corner: AnyCorner) -> TypeGuard[PlainJobCorner]:
    """Whether no cutter makes it."""
    return isinstance(corner.keyed, PlainKeyedCorner)


def meant(corners: Sequence[AnyCorner], said: CornerEntry) -> list[AnyCorner]:
    """The corners of a job that may be meant: the one of that name, else all that what is said is true of."""
    by_name = [corner for corner in corners if corner.name == said.name]
    return by_name or [corner for corner in corners if _is_true_of(said, corner)]


def _is_true_of(said: CornerEntry, corner: AnyCorner) -> bool:
    key, keyed = corner.key, corner.keyed
    return all(
        wanted is None or wanted in known
        for wanted, known in (
            (said.name, (corner.short, *corner.drawers)),
            (said.drawer, corner.drawers),
            (said.cutter, (keyed.maker, key.cutter)),
            (said.flat, (keyed.flat.name, key.flat)),
            (said.upright, (keyed.upright.name, key.upright)),
            (None if said.lip is None else kept_length(said.lip), (key.lip,)),
            (said.orientation, (key.orientation,)),
        )
    )


def corner_words(said: CornerEntry) -> str:
    """What somebody says of a corner, as they wrote it."""
    if said.name is not None:
        return repr(said.name)
    return ", ".join(f"{name}: {value}" for name, value in said.model_dump(exclude_none=True).items())
