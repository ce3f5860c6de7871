"""The command line: arguments to use cases, nothing more.

Each command is a module `*_command` of this room with `NAME`, `SUMMARY`, `add_arguments(parser)` and `run(args)`. At
import a command module may load argparse and the standard library only; what it needs beyond is imported
inside `run`, so that `--help` stays quick.
"""

from __future__ import annotations

import argparse
import os
import sys
import traceback
from collections.abc import Sequence

from drawerwright import __version__
from drawerwright.basics.errors import DrawerwrightError, FaultyInputError, SolverError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.cli import (
    bottom_command,
    check_command,
    correct_command,
    cutter_command,
    fit_command,
    movement_command,
    plan_command,
    serve_command,
    settings_command,
    sheets_command,
)
from drawerwright.cli.exits import BAD_INPUT, INTERRUPTED, OWN_FAULT
from drawerwright.cli.length_arguments import read_lengths

SUMMARY = "Settings, sizes, bands, sheets and shop papers for drawers with router-cut corner joints."
COMMANDS = (
    plan_command,
    check_command,
    settings_command,
    fit_command,
    cutter_command,
    correct_command,
    movement_command,
    bottom_command,
    sheets_command,
    serve_command,
)


def build_parser() -> argparse.ArgumentParser:
    """The whole argument parser; documentation tests walk it."""
    parser = argparse.ArgumentParser(
        prog="drawerwright",
        description=SUMMARY,
    )
    parser.add_argument("--version", action="version", version=f"drawerwright {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for command in COMMANDS:
        sub = commands.add_parser(command.NAME, help=command.SUMMARY, description=command.SUMMARY)
        command.add_arguments(sub)
        sub.set_defaults(run=command.run)
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Returns a code of `drawerwright.cli.exits`: the command's own when it came to its end.
    """
    args = build_parser().parse_args(argv)
    try:
        read_lengths(args)
        return int(args.run(args))
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:  # whoever read the output has gone; what is still to be written goes nowhere
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return INTERRUPTED
    except SolverError:
        return _own_fault()
    except DrawerwrightError as error:
        print(_told(error, args), file=sys.stderr)
        return BAD_INPUT
    except OSError as error:
        print(
            ": ".join(str(bit) for bit in (error.filename, error.strerror or error) if bit), file=sys.stderr
        )
        return BAD_INPUT
    except Exception:
        return _own_fault()


def _told(error: DrawerwrightError, args: argparse.Namespace) -> str:
    """An error in the unit of the job at hand, or of the command; a faulty file tells its own faults."""
    text = str(error) if isinstance(error, FaultyInputError) or not error.args else error.args[0]
    unit = getattr(args, "shown_in", None) or LengthStyle(getattr(args, "units", "mm"))
    return unit.say(text)


def _own_fault() -> int:
    """Say that the fault is ours, and all that is known about it."""
    traceback.print_exc()
    print(
        f"Drawerwright {__version__} hit an internal error; your input is not to blame. Please report the lines above "
        "and send the file that led to them.",
        file=sys.stderr,
    )
    return OWN_FAULT
