"""The joint that a cutter makes, as an option of a command."""

from __future__ import annotations

import argparse

from drawerwright.joints.registry import USUAL


def add_kind(parser: argparse.ArgumentParser) -> None:
    """Add `--kind`. What there is to choose from is only known when it is used: kinds are loaded then."""
    parser.add_argument(
        "--kind", default=USUAL, metavar="KIND", help=f"the joint that the cutter makes (default: {USUAL})"
    )
