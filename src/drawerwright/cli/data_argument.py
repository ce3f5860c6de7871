"""The argument of commands that look after the data: where it lies."""

from __future__ import annotations

import argparse
from pathlib import Path


def add_data_folder(parser: argparse.ArgumentParser) -> None:
    """`--data DIR`, in `data` of what was given; None stands for the user's own folder."""
    parser.add_argument(
        "--data", type=Path, metavar="DIR", help="folder of the data (default: your user data folder)"
    )
