"""The checker itself must see what it is for: each drawing here is spoilt on purpose."""

from __future__ import annotations

from drawerwright.drawings.scene import Path, Scene, Text, framed
from legible import clipped_texts, overlapping_texts, struck_texts


def scene(*items: Path | Text) -> Scene:
    return framed("spoilt", items)


def test_overlap_is_seen_and_neighbours_are_not() -> None:
    on_top = scene(Text((0, 0), "side", 3.0), Text((2, 1), "back", 3.0))
    assert len(overlapping_texts(on_top)) == 1
    assert not overlapping_texts(scene(Text((0, 0), "side", 3.0), Text((0, 4), "back", 3.0)))


def test_turned_texts_are_judged_by_their_turned_boxes() -> None:
    level = Text((0, 0), "a long name here", 3.0)
    standing = Text((10, -12), "upright name", 3.0, angle=90)
    beside = Text((40, -12), "upright name", 3.0, angle=90)
    assert overlapping_texts(scene(level, standing))
    assert not overlapping_texts(scene(level, beside))


def test_text_over_the_edge_is_seen() -> None:
    narrow = Scene("narrow", (Text((0, 0), "wider than its paper", 3.0),), -1, -2, 10, 6)
    assert clipped_texts(narrow)
    assert not clipped_texts(scene(Text((0, 0), "wider than its paper", 3.0)))


def test_a_heavy_line_through_a_word_is_seen() -> None:
    word = Text((0, 0), "shoulder", 3.0)
    assert struck_texts(scene(word, Path(((-5, 1), (30, 1)))))
    assert not struck_texts(scene(word, Path(((-5, 6), (30, 6)))))
