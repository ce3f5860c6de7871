"""`drawerwright settings`: one corner, straight from its measures."""

from __future__ import annotations

import argparse

from drawerwright.cli.exits import DONE, length

NAME = "settings"
SUMMARY = "bit height, fence and lengths of one corner"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--kind", choices=("drawer-lock", "lock-mitre"), default="drawer-lock")


def run(args: argparse.Namespace) -> int:
    raise NotImplementedError
