"""Value types that hold measures: whoever makes one may give a plain number, whoever reads it finds an estimate.

A class that `holds_measures` is a frozen dataclass. It declares such a field as `Measure`, by `measure`, with the doubt
of a number of which nothing is said; the number becomes an `Estimate` when the value is made, and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, dataclass, field
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar, dataclass_transform

from drawerwright.basics.declared import checked
from drawerwright.basics.uncertain import Estimate

Value = TypeVar("Value")
UsualDoubt: TypeAlias = float | Callable[[Any], float]
"""A standard uncertainty, or the one that belongs to a value."""

if TYPE_CHECKING:

    class Measure:
        """A field that takes a number or an estimate and holds an estimate, as type checkers see it."""

        def __get__(self, instance: object, owner: type) -> Estimate: ...

        def __set__(self, instance: object, value: Estimate | float) -> None: ...

    class MeasureOrNone:
        """The same, or None for none."""

        def __get__(self, instance: object, owner: type) -> Estimate | None: ...

        def __set__(self, instance: object, value: Estimate | float | None) -> None: ...

else:
    Measure = Estimate | float
    MeasureOrNone = Estimate | float | None


def measure(*, usual: UsualDoubt, default: Estimate | Any = MISSING) -> Any:
    """A field that holds a measure.

    Args:
        usual: standard uncertainty of a plain number, marked as assumed; 0 for what is exact as it was read.
        default: what it holds where nothing is given; None for what there may not be.
    """
    return field(default=default, metadata={"usual": usual})


@dataclass_transform(frozen_default=True, field_specifiers=(measure, field))
def holds_measures(cls: type[Value]) -> type[Value]:
    """Make a frozen dataclass with slots of a class, and estimates of the plain numbers in its measures.

    Making a value raises `InvalidValueError` where a measure is neither a number nor an estimate, or another field is
    not what it declares (`checked`).
    """
    check: Callable[[Any], None] | None = cls.__dict__.get("__post_init__")

    def post_init(value: Any) -> None:
        for each in measures:
            _hold(value, each.name, each.metadata["usual"])
        if check is not None:
            check(value)

    cls.__post_init__ = post_init  # type: ignore[attr-defined]
    made: Any = dataclass(frozen=True, slots=True)(cls)
    measures = [each for each in made.__dataclass_fields__.values() if "usual" in each.metadata]
    return checked(made)  # type: ignore[no-any-return]


def _hold(value: object, name: str, usual: UsualDoubt) -> None:
    given = getattr(value, name)
    if given is None or isinstance(given, Estimate):
        return
    doubt = usual(value) if callable(usual) else usual
    stated = None if doubt else 0.0
    object.__setattr__(value, name, Estimate.given(float(given), stated, usual=doubt))
