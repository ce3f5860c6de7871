"""Arguments that are lengths, and the unit of those that name none."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from drawerwright.basics.lengths import Mm

LengthUnit = Literal["mm", "in"]


@dataclass(frozen=True, slots=True)
class TypedLength:
    """What was typed for a length, until it is known in which unit a bare number is."""

    text: str
    read: Callable[[str, LengthUnit], Any]

    def value(self, unit: LengthUnit) -> Any:
        """What it says (mm), bare numbers in `unit`.

        Raises:
            InvalidValueError: it is longer than anything in a shop.
        """
        return self.read(self.text, unit)


def add_units(parser: argparse.ArgumentParser) -> None:
    """The option that says in which unit bare numbers are, and the text that is printed."""
    parser.add_argument(
        "--units",
        choices=("mm", "in"),
        default="mm",
        help="unit of numbers that name none, and of the text printed (default: %(default)s)",
    )


def read_lengths(args: argparse.Namespace) -> None:
    """Make values (mm) of all lengths that were given to a command that knows its unit."""
    unit = getattr(args, "units", None)
    for name, given in list(vars(args).items()):
        if unit is not None and isinstance(given, TypedLength):
            setattr(args, name, given.value(unit))


def json_in_mm(data: Mapping[str, Any]) -> str:
    """What a command found as JSON, which says that its lengths are mm; `--units` is for people."""
    import json

    return json.dumps({"units": {"length": "mm"}, **data}, indent=1)


def length(text: str) -> TypedLength:
    """argparse type of a length argument."""
    return _given(text, _length)


def measure(usual: Mm) -> Callable[[str], TypedLength]:
    """argparse type of a length that may say how well it is known, `5.65 ± 0.05`; else it has the usual doubt (mm)."""

    def read(text: str, unit: LengthUnit) -> Any:
        from functools import partial

        from drawerwright.basics.typed_lengths import parse_length
        from drawerwright.job.file.entry_types import parse_estimate

        return parse_estimate(text, partial(parse_length, default_unit=unit), usual=usual)

    return lambda text: _given(text, read)


def _length(text: str, unit: LengthUnit) -> Mm:
    from drawerwright.basics.typed_lengths import parse_length

    return parse_length(text, default_unit=unit)


def _given(text: str, read: Callable[[str, LengthUnit], Any]) -> TypedLength:
    """What was typed, once it can be read at all."""
    from drawerwright.basics.errors import InvalidValueError

    try:
        read(text, "mm")
    except InvalidValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
    return TypedLength(text, read)
