"""What is changed by hand of what a picture showed: which stretches there are, and how changes add up."""

from __future__ import annotations

from drawerwright.basics.phrases import Phrase
from drawerwright.joints.scan.by_hand import FACES, edits_in
from drawerwright.joints.scan.section import face_words


def stretch_words() -> tuple[tuple[str, Phrase, Phrase], ...]:
    """The faces whose stretches can be left out or moved: letter, and what it is called on either piece."""
    return tuple((face, face_words(face, True), face_words(face, False)) for face in FACES)


def with_change(kept: str, stretch: str, move: str) -> str:
    """Changes as they are written, and one more: a stretch such as `A2` that is moved by so many dots, or left out
    where `move` is empty."""
    moved = move.strip().replace(",", ".")
    if stretch and moved.lstrip("+-").replace(".", "", 1).isdecimal():
        kept += f" {stretch}{'~' if moved.startswith('-') else '+'}{moved.lstrip('+-')}"
    elif stretch:
        kept += f" {stretch}-"
    return " ".join(map(str, edits_in(kept)))
