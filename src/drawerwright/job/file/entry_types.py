"""Entry types that every file of the user shares: lengths, and values with their uncertainty."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Annotated, Any, NotRequired

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field
from typing_extensions import TypedDict

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import millimetres
from drawerwright.basics.loads import HEAVIEST, LOAD_PATTERN, parse_load
from drawerwright.basics.phrases import joined, phrase
from drawerwright.basics.typed_lengths import (
    LONGEST,
    at_plus_minus,
    length_pattern,
    parse_length,
    shortened,
    with_doubt,
)
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.mating import mating, self_mating_names
from drawerwright.joints.plain_joint import ChosenJoint, plain_joint, plain_joints
from drawerwright.wood.species import find_species


class Entries(BaseModel):
    """Base of all models of a file: unknown entries are faults, values do not change once read.

    The text below an entry is its meaning: the schema for editors and the tables of the docs show it. It is read out of
    the source when they ask (`described`), not at each start.
    """

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        arbitrary_types_allowed=True,
        allow_inf_nan=False,
    )


@dataclass(frozen=True, slots=True)
class Told:
    """What people and editors are told of an entry's values: what is written there, in what unit, and from where on.

    `least` and `most` may be reached, `above` may not; `pattern` says what it looks like as text. Kinds that can be
    added to are asked for when somebody wants to know.
    """

    kind: str | Callable[[], str]
    unit: str = ""
    least: float | None = None
    above: float | None = None
    most: float | None = None
    pattern: str | None = None

    def __get_pydantic_json_schema__(self, core: Any, handler: Any) -> dict[str, Any]:
        told = {
            "x-unit": self.unit or None,
            "minimum": self.least,
            "exclusiveMinimum": self.above,
            "maximum": self.most,
            "pattern": self.pattern,
        }
        return {**handler(core), **{key: value for key, value in told.items() if value is not None}}


@dataclass(frozen=True, slots=True)
class LengthsByName:
    """Says of a mapping that no model describes that its entries are lengths, but for some of them."""

    but: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Usual:
    """The value used for a missing entry that stays empty itself, unlike a plain default."""

    value: Any

    def __get_pydantic_json_schema__(self, core: Any, handler: Any) -> dict[str, Any]:
        return {**handler(core), "x-usual": str(self.value)}


def _length(value: Any) -> float:
    if isinstance(value, list | dict) or value is None:
        raise InvalidValueError(phrase("must be a length, for instance 14.65 or 3/4 in"))
    return parse_length(value)


def _positive(value: float) -> float:
    if value <= 0:
        raise InvalidValueError(phrase("must be more than 0, not {value}", value=millimetres(value, "g")))
    return value


def _not_negative(value: float) -> float:
    if value < 0:
        raise InvalidValueError(phrase("must be 0 or more, not {value}", value=millimetres(value, "g")))
    return value


@dataclass(frozen=True, slots=True)
class Given:
    """A value as it was written, with its standard uncertainty, or None if it states none."""

    value: float
    uncertainty: float | None = None

    def estimate(self, usual: float) -> Estimate:
        """With the usual uncertainty, marked as assumed, where none is stated."""
        return Estimate.given(self.value, self.uncertainty, usual=usual)

    def kept(self, digits: int) -> float | str:
        """As an entry holds it, with so many decimals.

        >>> Given(0.12).kept(4), Given(0.123456, 0.05).kept(4)
        (0.12, '0.1235 ± 0.05')
        """
        value = round(self.value, digits)
        return value if self.uncertainty is None else f"{value:g} ± {round(self.uncertainty, digits):g}"


def parse_given(value: Any, parse: Callable[[Any], float] = parse_length) -> Given:
    """Read `6.1`, `6.1 ± 0.05`, `6.1 +- 0.05 mm` or `{value: 6.1, uncertainty: 0.05}`. `± 0` says exact.

    Raises:
        InvalidValueError: it is none of these.
    """
    if isinstance(value, Given):
        return value
    if isinstance(value, dict):
        unknown = set(value) - {"value", "uncertainty"}
        if unknown or "value" not in value:
            raise InvalidValueError(phrase("needs 'value' and, if known, 'uncertainty'"))
        doubt = value.get("uncertainty")
        return Given(parse(value["value"]), None if doubt is None else _doubt(doubt, parse))
    if isinstance(value, str):
        best, *doubts = at_plus_minus(value)
        if len(doubts) > 1:
            raise InvalidValueError(phrase("has more than one ±: {value!r}", value=shortened(value)))
        return Given(parse(best), _doubt(doubts[0], parse) if doubts else None)
    return Given(parse(value))


def parse_estimate(value: Any, parse: Callable[[Any], float] = parse_length, *, usual: float) -> Estimate:
    """Read a value like `parse_given`; the usual uncertainty stands in where none is stated.

    Raises:
        InvalidValueError: it cannot be read, or its uncertainty is less than zero.
    """
    return value if isinstance(value, Estimate) else parse_given(value, parse).estimate(usual)


def _doubt(value: Any, parse: Callable[[Any], float]) -> float:
    """An uncertainty is read like its value, but may be zero."""
    doubt = parse_length(value) if parse is positive_length else parse(value)
    if doubt < 0:
        raise InvalidValueError(
            phrase("an uncertainty must be zero or more, not {uncertainty}", uncertainty=doubt)
        )
    return doubt


FINEST_DOUBT = 0.001
"""A doubt is written no finer (mm), and a smaller one as this: written as 0 it would say exact."""


def written_estimate(known: Estimate) -> str:
    """An entry that says what is known, to be read again; a doubt that is only assumed is left out.

    >>> written_estimate(Estimate(5.6187, 0.0192))
    '5.619 ± 0.019'
    >>> written_estimate(Estimate(5.6187, 0.0)), written_estimate(Estimate(5.6187, 0.0002))
    ('5.619 ± 0', '5.619 ± 0.001')
    """
    if known.is_assumed:
        return f"{known.value:.3f}"
    doubt = f"{max(known.uncertainty, FINEST_DOUBT):.3f}" if known.uncertainty else "0"
    return f"{known.value:.3f} ± {doubt}"


def as_written(known: Estimate) -> Estimate:
    """What is read again of `written_estimate`."""
    doubt = max(round(known.uncertainty, 3), FINEST_DOUBT) if known.uncertainty else 0.0
    return replace(known, value=round(known.value, 3), uncertainty=doubt)


def positive_length(value: Any) -> float:
    """Read a length that must be more than zero."""
    return _positive(_length(value))


def _number(value: Any) -> float:
    try:
        return float(str(value).replace(",", ".").removesuffix("°").removesuffix("degrees").strip())
    except ValueError:
        raise InvalidValueError(phrase("cannot read {value!r} as a number", value=value)) from None


_ANGLE = r"^\s*[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)\s*(?:°|degrees)?\s*$"
Id = Annotated[str, Field(min_length=1, max_length=80)]
"""A name that lasts."""
_LENGTH = "length"
_LENGTH_GIVEN = "length, ± its uncertainty"
ANY, ZERO_OR_MORE, MORE = length_pattern(signed=True), length_pattern(), length_pattern(positive=True)
"""What a length looks like in writing: of either sign, 0 or more, more than 0."""


class Doubted(TypedDict):
    """A figure and how well it is known, as a section."""

    __pydantic_config__ = ConfigDict(extra="forbid")  # type: ignore[misc]

    value: float | str
    uncertainty: NotRequired[float | str | None]


Length = Annotated[
    float,
    BeforeValidator(_length, json_schema_input_type=float | str),
    Told(_LENGTH, unit="mm", most=LONGEST, pattern=ANY),
]
"""A length in mm, of either sign."""
PositiveLength = Annotated[
    float,
    BeforeValidator(positive_length, json_schema_input_type=float | str),
    Told(_LENGTH, unit="mm", above=0, most=LONGEST, pattern=MORE),
]
"""A length in mm, more than zero."""
Clearance = Annotated[
    float,
    BeforeValidator(lambda v: _not_negative(_length(v)), json_schema_input_type=float | str),
    Told(_LENGTH, unit="mm", least=0, most=LONGEST, pattern=ZERO_OR_MORE),
]
"""A length in mm, zero or more."""
PositiveLengthGiven = Annotated[
    Given,
    BeforeValidator(
        lambda v: parse_given(v, positive_length),
        json_schema_input_type=float | str | Doubted,
    ),
    Told(_LENGTH_GIVEN, unit="mm", above=0, most=LONGEST, pattern=with_doubt(MORE, ZERO_OR_MORE)),
]
"""A length in mm, more than zero, with its standard uncertainty where one is stated."""
Load = Annotated[
    float,
    BeforeValidator(parse_load, json_schema_input_type=float | str),
    Told("load", unit="kg", least=0, most=HEAVIEST, pattern=LOAD_PATTERN),
]
"""A load in kg, zero or more."""
Price = Annotated[float, Field(ge=0, allow_inf_nan=False)]
"""A price, in any currency."""
SLOWEST_SPINDLE = 500.0
"""Turns in a minute; common practice, no source: routers turn some 6,000 to 30,000 times, and no spindle for wood turns
slower than this. 18,000 with a sign between its thousands is read as 18."""


def _spindle_speed(value: float) -> float:
    if not value >= SLOWEST_SPINDLE:
        raise InvalidValueError(
            phrase(
                "no spindle turns only {value:g} times a minute: must be {least:g} or more, written "
                "without a separator between thousands, as in 18000",
                value=value,
                least=SLOWEST_SPINDLE,
            )
        )
    return value


TurningSpeed = Annotated[
    float, AfterValidator(_spindle_speed), Told("number", unit="1/min", least=SLOWEST_SPINDLE)
]
"""Turns in a minute."""
Minutes = Annotated[float, Field(ge=0), Told("number", unit="min")]
"""A time that work takes."""
Pace = Annotated[float, Field(gt=0), Told("number", unit="m/min")]
"""Metres in a minute."""


def _estimate(parse: Callable[[Any], float], stand_in: float) -> BeforeValidator:
    return BeforeValidator(
        lambda v: parse_estimate(v, parse, usual=stand_in),
        json_schema_input_type=float | str | Doubted,
    )


def _cutter_kind(value: Any) -> str:
    name = str(value)
    mating(name)
    return name


class _KindsInSchema:
    """Editors are told the kinds that there are when they ask."""

    @classmethod
    def __get_pydantic_json_schema__(cls, _core: Any, _handler: Any) -> dict[str, Any]:
        return {"type": "string", "enum": list(self_mating_names())}


CutterKind = Annotated[
    str,
    BeforeValidator(_cutter_kind),
    _KindsInSchema,
    Told(lambda: ", ".join(f"`{name}`" for name in self_mating_names())),
]
"""The name of a joint that a self-mating cutter makes."""


def _chosen_joint(value: Any) -> ChosenJoint:
    """A joint by its name, or a mapping of its kind and the measures that are to be other than usual."""
    if isinstance(value, ChosenJoint):
        return value
    if not isinstance(value, dict):
        return ChosenJoint(plain_joint(str(value)))
    if "kind" not in value:
        raise InvalidValueError(phrase("needs 'kind', the name of a joint, beside its measures"))
    joint = plain_joint(str(value["kind"]))
    given = {str(name): _named_length(str(name), size) for name, size in value.items() if name != "kind"}
    return ChosenJoint(joint, joint.checked(given))


def _named_length(name: str, value: Any) -> float:
    try:
        return _length(value)
    except InvalidValueError as error:
        raise InvalidValueError(joined((name, error.args[0]), ": ")) from None


class _JointsInSchema:
    """Editors are told the joints that there are when they ask, with the measures of each."""

    @classmethod
    def __get_pydantic_json_schema__(cls, _core: Any, _handler: Any) -> dict[str, Any]:
        length = {"type": ["number", "string"], "maximum": LONGEST, "pattern": ANY}
        whole = [
            {
                "type": "object",
                "properties": {
                    "kind": {"const": joint.name},
                    **{measure.name: length for measure in joint.measures},
                },
                "required": ["kind"],
                "additionalProperties": False,
            }
            for joint in plain_joints()
        ]
        return {"anyOf": [{"type": "string", "enum": [joint.name for joint in plain_joints()]}, *whole]}


PlainJointChoice = Annotated[
    ChosenJoint,
    BeforeValidator(_chosen_joint),
    _JointsInSchema,
    LengthsByName(but=("kind",)),
    Told(lambda: ", ".join(f"`{joint.name}`" for joint in plain_joints()) + ", or `kind` and measures"),
]
"""A joint that needs no self-mating cutter: its name, or its kind with measures."""
CutterMeasure = Annotated[
    Estimate,
    _estimate(positive_length, usual.CUTTER_MEASURE),
    Told(_LENGTH_GIVEN, unit="mm", above=0, most=LONGEST, pattern=with_doubt(MORE, ZERO_OR_MORE)),
]
"""A mid depth or step in mm, more than zero."""
CutterSlope = Annotated[
    Estimate,
    _estimate(_number, usual.SLOPE),
    Told("angle, ± its uncertainty", unit="degrees", pattern=with_doubt(_ANGLE, _ANGLE)),
]
"""An angle in degrees."""
GaugeOffset = Annotated[
    Estimate,
    _estimate(parse_length, usual.GAUGE),
    Told(_LENGTH_GIVEN, unit="mm", most=LONGEST, pattern=with_doubt(ANY, ZERO_OR_MORE)),
]
"""What a gauge shows less what is true, in mm."""
MeanThickness = Annotated[
    Estimate,
    _estimate(positive_length, usual.CALIPER_READING),
    Told(_LENGTH_GIVEN, unit="mm", above=0, most=LONGEST, pattern=with_doubt(MORE, ZERO_OR_MORE)),
]
"""A mean thickness in mm, more than zero."""


def _species_name(value: Any) -> str:
    find_species(str(value))
    return str(value)


SpeciesName = Annotated[str, BeforeValidator(_species_name), Told("text")]
"""A species of wood by any of its names, as it was typed."""
