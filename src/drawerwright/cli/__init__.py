"""The command line: arguments to use cases, nothing more.

Each command is a module of this room with `NAME`, `SUMMARY`, `add_arguments(parser)` and `run(args)`. At
import a command module may load argparse and the standard library only; what it needs beyond is imported
inside `run`, so that `--help` stays quick.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from drawerwright import __version__
from drawerwright.basics.errors import DrawerwrightError
from drawerwright.cli import check, correct, cutter, fit, plan, serve, settings, sheets
from drawerwright.cli.exits import BAD_INPUT, INTERRUPTED

SUMMARY = "Settings, sizes, bands, sheets and shop papers for drawers with router-cut corner joints."
COMMANDS = (plan, check, settings, fit, cutter, correct, sheets, serve)


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

    Returns 0 when done, 2 for input that cannot be used, 130 when Ctrl-C ended it, else the command's own code.
    """
    args = build_parser().parse_args(argv)
    try:
        return int(args.run(args))
    except DrawerwrightError as error:
        print(error, file=sys.stderr)
        return BAD_INPUT
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        return 1
