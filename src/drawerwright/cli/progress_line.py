"""The progress of a sheet search on a terminal."""

from __future__ import annotations

import sys

PATIENCE = 1.0
"""Seconds before a search says how far it is."""


def show_search(name: str, best: float | None, bound: float, seconds: float) -> None:
    """Print what has been found so far, if somebody is watching.

    Args:
        name: what sheets are searched for.
        best: cost of the best sheets so far, None before there are any.
        bound: a cost that none can undercut.
        seconds: since the search began.
    """
    if sys.stderr.isatty() and seconds > PATIENCE:
        found = "none yet" if best is None else f"{best:g}"
        print(
            f"{name}: best {found}, at least {bound:g}, {seconds:.0f} s (Ctrl-C to stop and use the best so far)",
            file=sys.stderr,
        )
