"""The kind of a joint as an option of a command, and the options that hang on it."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence

from drawerwright.basics import usual
from drawerwright.cli.length_arguments import TypedLength, length, measure
from drawerwright.cli.number_arguments import whole
from drawerwright.joints.registry import USUAL


def add_kind(parser: argparse.ArgumentParser) -> None:
    """Add `--kind`. What there is to choose from is only known when it is used: kinds are loaded then."""
    parser.add_argument(
        "--kind", default=USUAL, metavar="KIND", help=f"the joint that the cutter makes (default: {USUAL})"
    )


def kind_in(given: Sequence[str]) -> str:
    """The kind that the arguments of a command name, before anything else of them is read."""
    parser = argparse.ArgumentParser(add_help=False, allow_abbrev=False, exit_on_error=False)
    add_kind(parser)
    try:
        return str(parser.parse_known_args(list(given))[0].kind)
    except argparse.ArgumentError:  # the command itself says what is wrong
        return USUAL


def add_measures(parser: argparse.ArgumentParser, kind: str) -> None:
    """Add the measures that a kind asks for: those of its cutter, or its own. Of an unknown kind nothing is asked: the
    command says that there is none."""
    if kind == USUAL:
        return add_cutter_measures(parser)
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.job.one_plain_corner import measures_of

    try:
        own = measures_of(kind)
    except InvalidValueError as error:
        parser.error(str(error))
    if own is None:
        return add_cutter_measures(parser)
    for each in own:
        parser.add_argument(
            f"--{each.name}", dest=destination(each.name), type=length, metavar="LENGTH", help=str(each.hint)
        )
    for option, words in (("--mid-depth", "mid depth"), ("--step", "step")):
        said = _of_a_cutter(kind, words, [f"--{each.name}" for each in own])
        parser.add_argument(option, type=said, help=argparse.SUPPRESS)
    return None


def _of_a_cutter(kind: str, words: str, own: Sequence[str]) -> Callable[[str], TypedLength]:
    """argparse type of a cutter's measure for a kind that needs no such cutter: says that it has none."""
    instead = f"{kind} has {', '.join(own)}" if own else "leave it out"

    def refused(text: str) -> TypedLength:
        raise argparse.ArgumentTypeError(
            f"{text!r}: --kind {kind} has no {words}, which is a self-mating cutter's; {instead}"
        )

    return refused


def destination(name: str) -> str:
    """Where the value of a joint's own measure is kept: no option of the command is called so."""
    return f"joint_{name}"


def reading(text: str) -> tuple[str, TypedLength]:
    """argparse type of a reading: its name and its length."""
    name, sign, value = text.partition("=")
    if not sign:
        raise argparse.ArgumentTypeError(f"{text!r} must be a name and a length, such as width=14.7")
    return name.strip(), length(value)


def add_cutter_measures(parser: argparse.ArgumentParser) -> None:
    """Add what is asked of a joint that a self-mating cutter makes."""
    parser.add_argument(
        "--mid-depth",
        type=measure(usual.CUTTER_MEASURE),
        required=True,
        help="from the cutter's top to its middle",
    )
    parser.add_argument(
        "--step", type=measure(usual.CUTTER_MEASURE), required=True, help="the cutter's total inset"
    )
    parser.add_argument(
        "--fence",
        default="one",
        help="one: same setting for both pieces; tooth: only the tooth cuts the upright; or the upright's setting "
        "(default: one)",
    )
    parser.add_argument("--boards", type=whole, default=2, help="how many boards make the panel (default: 2)")
    parser.add_argument(
        "--cutting-height", type=length, help="the cutter's cutting height, to check the bit height against"
    )
    parser.add_argument("--least-play", type=length, help="least play that counts as a fit")
    parser.add_argument("--most-play", type=length, help="most play that counts as a fit")
    parser.add_argument("--flushness", type=length, help="how far the lip may be off, either way")
    parser.add_argument(
        "--repeatability", type=length, help="standard deviation of a setting dialled in again"
    )
    parser.add_argument(
        "--height-gauge-offset",
        type=measure(usual.GAUGE),
        help="how much the height gauge reads high",
    )
    parser.add_argument(
        "--fence-gauge-offset", type=measure(usual.GAUGE), help="how much the fence scale reads high"
    )
    parser.add_argument("--height-gauge-step", type=length, help="distance between marks of the height gauge")
    parser.add_argument("--fence-gauge-step", type=length, help="distance between marks of the fence scale")
