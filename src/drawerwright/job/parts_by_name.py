"""A part that somebody names, as it stands on the parts list."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from typing import Protocol, TypeVar

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase


class _Labelled(Protocol):
    @property
    def label(self) -> str: ...


Labelled = TypeVar("Labelled", bound=_Labelled)


def part_named(label: str, parts: Iterable[Labelled]) -> Labelled:
    """The part that is called so; upper and lower case are one.

    Raises:
        InvalidValueError: there is none; the message names the nearest.
    """
    labels = {part.label.casefold(): part for part in parts}
    wanted = " ".join(label.split()).casefold()
    if wanted in labels:
        return labels[wanted]
    near = get_close_matches(wanted, labels, n=3, cutoff=0.4) or list(labels)[:3]
    raise InvalidValueError(
        phrase(
            "the job has no part {label!r}: name it as on the parts list, for instance {near}",
            label=label,
            near=", ".join(labels[name].label for name in near),
        )
    )
