"""What somebody changed by hand of what a picture showed, out of the fields beside it."""

from __future__ import annotations

from collections.abc import Mapping


def changes_by_hand(typed: Mapping[str, str], picture: str) -> str:
    """The changes kept so far of the picture of this field and the one just chosen, as
    `drawerwright.joints.scan.by_hand` writes them."""
    from drawerwright.job.scan.hand_changes import with_change  # loads numpy

    if typed.get(f"{picture}_all"):
        return ""
    kept, stretch, move = (typed.get(f"{picture}_{field}", "") for field in ("edits", "stretch", "move"))
    return with_change(kept, stretch, move) if kept or stretch else ""
