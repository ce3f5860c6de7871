"""`drawerwright completion`: a shell that knows the commands, their options and what these take."""

from __future__ import annotations

import argparse

from drawerwright.cli.exits import DONE

NAME = "completion"
SUMMARY = "print the script that makes Tab complete commands, options and files in your shell"
EXAMPLE = "drawerwright completion bash > drawerwright.bash"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("shell", choices=("bash", "zsh", "fish"), help="your shell")


def run(args: argparse.Namespace) -> int:
    from drawerwright.cli import build_parser
    from drawerwright.cli.command_arguments import told_commands
    from drawerwright.cli.shell_completion import script_for

    print(script_for(args.shell, told_commands(build_parser)), end="")
    return DONE
