"""Strategies: what a good text or a good tree of entries becomes when it is spoiled here and there."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from hypothesis import strategies as st

from fuzz.odd_values import ODD_TEXTS, ODD_VALUES

MOST_EDITS = 4
Way = tuple[Any, ...]


def spoiled_text(goods: Sequence[str]) -> st.SearchStrategy[str]:
    """One of the texts with up to four pieces put in, taken out, repeated or moved."""

    @st.composite
    def spoiled(draw: st.DrawFn) -> str:
        text = draw(st.sampled_from(goods))
        for _edit in range(draw(st.integers(1, MOST_EDITS))):
            begin = draw(st.integers(0, len(text)))
            end = min(len(text), begin + draw(st.integers(0, 40)))
            piece = draw(st.sampled_from((*ODD_TEXTS, text[begin:end], text[begin:end] * 3)))
            text = text[:begin] + piece + text[end:]
        return text

    return spoiled()


def spoiled_tree(goods: Sequence[Any], write: Callable[[Any], str]) -> st.SearchStrategy[str]:
    """One of the trees with up to four entries replaced, taken out, renamed or put in each other's places, as text."""

    @st.composite
    def spoiled(draw: st.DrawFn) -> str:
        tree = copy.deepcopy(draw(st.sampled_from(goods)))
        for _edit in range(draw(st.integers(1, MOST_EDITS))):
            ways = list(places(tree))
            if not ways:
                break
            *above, last = draw(st.sampled_from(ways))
            node = at(tree, above)
            match draw(st.sampled_from(("odd", "odd", "other", "number", "gone", "renamed"))):
                case "gone":
                    del node[last]
                case "renamed" if isinstance(node, dict):
                    node[draw(st.sampled_from(("x", "", 7, *map(str, node))))] = node.pop(last)
                case "other":
                    node[last] = copy.deepcopy(at(tree, draw(st.sampled_from(ways))))
                case "number":
                    node[last] = draw(st.one_of(st.floats(), st.integers(-(10**6), 10**6)))
                case _:
                    node[last] = copy.deepcopy(draw(st.sampled_from(ODD_VALUES)))
        return write(tree)

    return spoiled()


def places(node: Any, way: Way = ()) -> Iterator[Way]:
    """The way to every entry below `node`."""
    for step, below in node.items() if isinstance(node, dict) else enumerate(node):
        yield (*way, step)
        if isinstance(below, dict | list):
            yield from places(below, (*way, step))


def at(tree: Any, way: Sequence[Any]) -> Any:
    """The entry there."""
    for step in way:
        tree = tree[step]
    return tree
