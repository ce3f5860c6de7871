"""Entry types that every file of the user shares: lengths, and values with their uncertainty."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import PLUS_MINUS, millimetres, parse_length
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate


class Entries(BaseModel):
    """Base of all models of a file: unknown entries are faults, values do not change once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


def _length(value: Any) -> float:
    if isinstance(value, list | dict) or value is None:
        raise InvalidValueError(phrase("must be a length, for instance 14.65 or 3/4 in"))
    return parse_length(value)


def _positive(value: float) -> float:
    if value <= 0:
        raise InvalidValueError(phrase("must be more than 0 mm, not {value}", value=millimetres(value, "g")))
    return value


def _not_negative(value: float) -> float:
    if value < 0:
        raise InvalidValueError(phrase("must be 0 mm or more, not {value}", value=millimetres(value, "g")))
    return value


def parse_estimate(value: Any, parse: Callable[[Any], float] = parse_length) -> Estimate:
    """Read `6.1`, `6.1 ± 0.05`, `6.1 +- 0.05 mm` or `{value: 6.1, uncertainty: 0.05}`.

    Raises:
        InvalidValueError: it is none of these.
    """
    if isinstance(value, Estimate):
        return value
    if isinstance(value, dict):
        unknown = set(value) - {"value", "uncertainty"}
        if unknown or "value" not in value:
            raise InvalidValueError(phrase("must hold 'value' and, where it is known, 'uncertainty'"))
        return Estimate(parse(value["value"]), _doubt(value.get("uncertainty", 0), parse))
    if isinstance(value, str):
        best, *doubt = PLUS_MINUS.split(value)
        if len(doubt) > 1:
            raise InvalidValueError(phrase("has more than one ±: {value!r}", value=value))
        return Estimate(parse(best), _doubt(doubt[0], parse) if doubt else 0.0)
    return Estimate(parse(value))


def _doubt(value: Any, parse: Callable[[Any], float]) -> float:
    """An uncertainty is read like its value, but may be zero."""
    return parse_length(value) if parse is positive_length else parse(value)


def positive_length(value: Any) -> float:
    """Read a length that must be more than zero."""
    return _positive(_length(value))


def _number(value: Any) -> float:
    try:
        return float(str(value).replace(",", ".").removesuffix("°").removesuffix("degrees").strip())
    except ValueError:
        raise InvalidValueError(phrase("cannot read {value!r} as a number", value=value)) from None


Length = Annotated[float, BeforeValidator(_length, json_schema_input_type=float | str)]
"""A length in mm, of either sign."""
PositiveLength = Annotated[float, BeforeValidator(positive_length, json_schema_input_type=float | str)]
"""A length in mm, more than zero."""
Clearance = Annotated[
    float, BeforeValidator(lambda v: _not_negative(_length(v)), json_schema_input_type=float | str)
]
"""A length in mm, zero or more."""
LengthEstimate = Annotated[
    Estimate, BeforeValidator(parse_estimate, json_schema_input_type=float | str | dict[str, float | str])
]
"""A length in mm with its standard uncertainty."""
PositiveLengthEstimate = Annotated[
    Estimate,
    BeforeValidator(
        lambda v: parse_estimate(v, positive_length),
        json_schema_input_type=float | str | dict[str, float | str],
    ),
]
"""A length in mm, more than zero, with its standard uncertainty."""
AngleEstimate = Annotated[
    Estimate,
    BeforeValidator(
        lambda v: parse_estimate(v, _number), json_schema_input_type=float | str | dict[str, float | str]
    ),
]
"""An angle in degrees with its standard uncertainty."""
