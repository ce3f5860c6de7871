"""The command line: arguments to use cases, nothing more.

Each command is a module `*_command` of this room with `NAME`, `SUMMARY`, `EXAMPLE`, `add_arguments(parser)` and
`run(args)`. At import a command module may load argparse and the standard library only; what it needs beyond is
imported inside `run`, so that `--help` stays quick.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Sequence
from textwrap import fill

from drawerwright import __version__
from drawerwright.basics.errors import DrawerwrightError, FaultyInputError, SolverError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.cli import (
    backup_command,
    bottom_command,
    check_command,
    completion_command,
    correct_command,
    cutter_command,
    doctor_command,
    fit_command,
    import_command,
    made_command,
    movement_command,
    new_command,
    plan_command,
    rack_command,
    replace_command,
    restore_command,
    scan_command,
    schema_command,
    serve_command,
    settings_command,
    sheets_command,
    strength_command,
)
from drawerwright.cli.command_arguments import with_example
from drawerwright.cli.exits import BAD_INPUT, INTERRUPTED, NOBODY_READS, OWN_FAULT
from drawerwright.cli.length_arguments import name_lengths, read_lengths, with_negative_values
from drawerwright.cli.terminal import write_nothing_more, write_whatever_it_can

SUMMARY = "Settings, sizes, bands, sheets and shop papers for drawers with router-cut corner joints."
COMMANDS = (
    new_command,
    plan_command,
    replace_command,
    made_command,
    check_command,
    import_command,
    rack_command,
    schema_command,
    settings_command,
    fit_command,
    cutter_command,
    correct_command,
    scan_command,
    movement_command,
    bottom_command,
    strength_command,
    sheets_command,
    serve_command,
    backup_command,
    restore_command,
    doctor_command,
    completion_command,
)


OBJECTS_BETWEEN_LOOKS = 50_000
"""A command loads and makes much and drops little of it in circles: looking for these every 700 objects, as is usual,
is a fifteenth of the work of planning 24 drawers."""


def build_parser(given: Sequence[str] = ()) -> argparse.ArgumentParser:
    """The whole argument parser; documentation tests walk it. What some commands ask hangs on what is `given`."""
    parser = argparse.ArgumentParser(
        prog="drawerwright",
        description=SUMMARY,
        epilog="drawerwright COMMAND --help says what a command takes, with an example.",
    )
    parser.add_argument("--version", action="version", version=f"drawerwright {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for command in COMMANDS:
        sub = commands.add_parser(
            command.NAME,
            help=command.SUMMARY,
            description=fill(command.SUMMARY),
            epilog=with_example(command.EXAMPLE),
            formatter_class=argparse.RawDescriptionHelpFormatter,  # leaves the example on its line
        )
        if command is settings_command:
            settings_command.add_arguments(sub, given)
        else:
            command.add_arguments(sub)
        name_lengths(sub)
        sub.set_defaults(run=command.run)
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Returns a code of `drawerwright.cli.exits`: the command's own when it came to its end.
    """
    write_whatever_it_can()
    gc.set_threshold(OBJECTS_BETWEEN_LOOKS)
    given = with_negative_values(sys.argv[1:] if argv is None else argv)
    args = build_parser(given).parse_args(given)
    try:
        read_lengths(args)
        code = int(args.run(args))
        sys.stdout.flush()  # a full disk behind it shows only now
        return code
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:  # whoever read the output has gone
        write_nothing_more()
        return NOBODY_READS
    except SolverError as error:
        return _own_fault(error, args, argv)
    except DrawerwrightError as error:
        print(_told(error, args), file=sys.stderr)
        return BAD_INPUT
    except OSError as error:
        write_nothing_more()
        said = (error.filename or f"drawerwright {args.command}", error.strerror or error)
        print(": ".join(map(str, said)), file=sys.stderr)
        return BAD_INPUT
    except Exception as error:
        return _own_fault(error, args, argv)


def _told(error: DrawerwrightError, args: argparse.Namespace) -> str:
    """An error in the unit of the job at hand, or of the command, with its notes; a faulty file tells its own
    faults."""
    text = str(error) if isinstance(error, FaultyInputError) or not error.args else error.args[0]
    unit = getattr(args, "shown_in", None) or LengthStyle(getattr(args, "units", "mm"))
    return "\n".join((unit.say(text), *getattr(error, "__notes__", ())))


def _own_fault(error: Exception, args: argparse.Namespace, argv: Sequence[str] | None) -> int:
    """Say that the fault is ours, what was being done, and where all that is known about it lies."""
    from drawerwright.job.own_faults import own_fault

    given = " ".join(sys.argv[1:] if argv is None else argv)
    said = own_fault(error, f"drawerwright {given}")
    print(f"drawerwright {args.command}: {said} ({type(error).__name__}: {error})", file=sys.stderr)
    return OWN_FAULT
