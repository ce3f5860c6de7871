"""Arguments that are lengths or loads, and the unit of those that name none."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from drawerwright.basics.lengths import Mm
    from drawerwright.basics.loads import Kg

LengthUnit = Literal["mm", "in"]
NEGATIVE = re.compile(r"-[.,]?\d")


@dataclass(frozen=True, slots=True)
class TypedLength:
    """What was typed for a length or a load, until it is known in which unit a bare number is."""

    text: str
    read: Callable[[str, LengthUnit], Any]

    def value(self, unit: LengthUnit) -> Any:
        """What it says (mm, kg), bare lengths in `unit` and bare loads in what goes with it.

        Raises:
            InvalidValueError: it is longer than anything in a shop, or heavier than any load.
        """
        return self.read(self.text, unit)


def add_units(parser: argparse.ArgumentParser) -> None:
    """The option that says in which unit bare numbers are, and the text that is printed."""
    parser.add_argument(
        "--units",
        choices=("mm", "in"),
        default="mm",
        help="unit of lengths that name none, and of the text printed (default: %(default)s)",
    )


def read_lengths(args: argparse.Namespace) -> None:
    """Make values (mm) of all lengths that were given to a command that knows its unit."""
    unit = getattr(args, "units", None)
    for name, given in list(vars(args).items()):
        if unit is not None and isinstance(given, TypedLength):
            setattr(args, name, given.value(unit))


def json_in_mm(data: Mapping[str, Any], **others: str) -> str:
    """What a command found as JSON, which says that its lengths are mm, and the units of `others`; `--units` is for
    people."""
    import json

    return json.dumps({"units": {"length": "mm", **others}, **data}, indent=1)


def length(text: str) -> TypedLength:
    """argparse type of a length argument."""
    return _given(text, _length)


def load(text: str) -> TypedLength:
    """argparse type of a load argument."""
    return _given(text, _load)


@dataclass(frozen=True, slots=True)
class measure:  # noqa: N801 - stands beside `length` and `load` as an argparse type
    """argparse type of a length that may say how well it is known, `5.65 ± 0.05`; else by the usual doubt (mm)."""

    usual: Mm

    def __call__(self, text: str) -> TypedLength:
        return _given(text, self._read)

    def _read(self, text: str, unit: LengthUnit) -> Any:
        from functools import partial

        from drawerwright.basics.typed_lengths import parse_length
        from drawerwright.job.file.entry_types import parse_estimate

        return parse_estimate(text, partial(parse_length, default_unit=unit), usual=self.usual)


def name_lengths(parser: argparse.ArgumentParser) -> None:
    """Have help show LENGTH behind each option that takes one, where argparse would repeat the option's name."""
    for action in parser._actions:
        if action.metavar is None and (action.type is length or isinstance(action.type, measure)):
            action.metavar = "LENGTH"


def _length(text: str, unit: LengthUnit) -> Mm:
    from drawerwright.basics.typed_lengths import parse_length

    return parse_length(text, default_unit=unit)


def _load(text: str, unit: LengthUnit) -> Kg:
    from drawerwright.basics.loads import LOAD_UNITS, parse_load

    return parse_load(text, default_unit=LOAD_UNITS[unit])


def _given(text: str, read: Callable[[str, LengthUnit], Any]) -> TypedLength:
    """What was typed, once it can be read at all."""
    from drawerwright.basics.errors import InvalidValueError

    try:
        read(text, "mm")
    except InvalidValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
    return TypedLength(text, read)


def with_negative_values(given: Sequence[str]) -> list[str]:
    """Arguments in which a negative figure is the value of the option before it, to be refused in words.

    argparse takes `-1/4` for an option that it does not know, and says of the one before that its value is missing.

    >>> with_negative_values(["bottom", "--thickness", "-1/4", "--json"])
    ['bottom', '--thickness=-1/4', '--json']
    """
    found: list[str] = []
    for each in given:
        if NEGATIVE.match(each) and found and found[-1].startswith("--") and "=" not in found[-1]:
            found[-1] += f"={each}"
        else:
            found.append(each)
    return found
