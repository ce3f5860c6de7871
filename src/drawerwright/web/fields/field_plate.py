"""The fields of one plate of a page: what is asked first stands beside a drawing, the rest folds away."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from drawerwright.web.fields.field import Field

TitledFields: TypeAlias = tuple[str, tuple[Field, ...]]
"""A title and the fields below it."""


@dataclass(frozen=True, slots=True)
class FieldPlate:
    """Fields under one heading; `picture` names the drawing that shows where they are measured."""

    title: str
    picture: str
    first: tuple[Field, ...]
    folded: tuple[TitledFields, ...]

    @property
    def fields(self) -> Iterator[Field]:
        """Every field."""
        yield from self.first
        for _title, group in self.folded:
            yield from group

    def at(self, *above: str | int) -> FieldPlate:
        """The same fields below other entries."""
        return FieldPlate(
            self.title,
            self.picture,
            tuple(field.at(*above) for field in self.first),
            tuple((title, tuple(field.at(*above) for field in group)) for title, group in self.folded),
        )
