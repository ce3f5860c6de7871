"""What each command takes, as the argument parser knows it: for completion and for the page of all commands."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path


class Value(Enum):
    """What stands after an option, or for an argument without one."""

    NONE = "nothing"
    FILE = "a file"
    FOLDER = "a folder"
    WORD = "one of some words"
    OTHER = "anything else"


@dataclass(frozen=True, slots=True)
class CommandArgument:
    """An option, or an argument without one, whose `names` are empty.

    value_name: what stands for its value in help, empty for none. suffix: of the files it takes, empty for any.
    """

    names: tuple[str, ...]
    value: Value
    value_name: str
    meaning: str
    is_required: bool
    words: tuple[str, ...] = ()
    suffix: str = ""


@dataclass(frozen=True, slots=True)
class ToldCommand:
    """A command with all that it takes, whatever else is given."""

    name: str
    summary: str
    example: str
    arguments: tuple[CommandArgument, ...]

    @property
    def options(self) -> tuple[CommandArgument, ...]:
        return tuple(each for each in self.arguments if each.names)

    @property
    def others(self) -> tuple[CommandArgument, ...]:
        return tuple(each for each in self.arguments if not each.names)


def told_commands(parser_for: Callable[[Sequence[str]], argparse.ArgumentParser]) -> tuple[ToldCommand, ...]:
    """Every command. What `settings` takes hangs on the kind of joint: here it takes what any kind asks for."""
    from drawerwright.job.command_words import words_of

    merged: dict[str, dict[tuple[str, ...] | str, CommandArgument]] = {}
    for kind in words_of("settings", "--kind"):
        for name, parser in commands_of(parser_for(("settings", "--kind", kind))).items():
            taken = merged.setdefault(name, {})
            for each in arguments_of(name, parser):
                taken.setdefault(each.names or each.value_name, each)
    said = commands_of(parser_for(()))
    return tuple(
        ToldCommand(name, str(said[name].description), example_of(said[name]), tuple(taken.values()))
        for name, taken in merged.items()
    )


def with_example(example: str) -> str:
    """What stands below a command's help."""
    return f"example:\n  {example}"


def example_of(parser: argparse.ArgumentParser) -> str:
    """The example that stands below a command's help."""
    return str(parser.epilog).partition("\n  ")[2]


def commands_of(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """The parser of each command, by its name."""
    return next(
        dict(action.choices) for action in parser._actions if isinstance(action, argparse._SubParsersAction)
    )


def arguments_of(command: str, parser: argparse.ArgumentParser) -> Iterator[CommandArgument]:
    """What a command takes, in the order of its help."""
    from drawerwright.job.command_words import words_of

    formatter = parser._get_formatter()
    for action in parser._actions:
        if action.help == argparse.SUPPRESS or isinstance(action, argparse._HelpAction):
            continue
        option = action.option_strings[-1] if action.option_strings else ""
        words = tuple(map(str, action.choices or ())) or words_of(command, option)
        shown = _value_name(action)
        is_flag = action.nargs == 0
        yield CommandArgument(
            tuple(action.option_strings),
            Value.NONE if is_flag else _value(action, shown, words),
            "" if is_flag else shown,
            formatter._expand_help(action) if action.help else "",
            action.required,
            words,
            Path(shown).suffix if action.type is Path or "." in shown else "",
        )


def _value_name(action: argparse.Action) -> str:
    if isinstance(action.metavar, tuple):
        return " ".join(action.metavar)
    return action.metavar or action.dest.upper().replace("-", "_")


def _value(action: argparse.Action, shown: str, words: tuple[str, ...]) -> Value:
    if words:
        return Value.WORD
    if shown == "DIR":
        return Value.FOLDER
    return Value.FILE if action.type is Path or "." in shown else Value.OTHER
