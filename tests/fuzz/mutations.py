"""What a good text or a good tree of entries becomes when it is spoiled here and there."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator, Sequence
from random import Random
from typing import Any

from fuzz.odd_values import ODD_TEXTS, ODD_VALUES

MOST_EDITS = 4
Way = tuple[Any, ...]
Maker = Callable[[Random], str]


def any_of(*makers: Maker) -> Maker:
    """One of several makers, each time another."""
    return lambda random: random.choice(makers)(random)


def signs(alphabet: Sequence[str], most: int) -> Maker:
    """Signs of an alphabet, in any order."""
    return lambda random: "".join(random.choice(alphabet) for _sign in range(random.randint(0, most)))


def any_signs(most: int) -> Maker:
    """Signs of any script, half of a pair too."""
    return lambda random: "".join(
        chr(random.choice((random.randint(0, 0x2FF), random.randint(0, 0x10FFFF))))
        for _sign in range(random.randint(0, most))
    )


def spoiled_text(goods: Sequence[str]) -> Maker:
    """One of the texts with up to four pieces put in, taken out, repeated or moved."""

    def spoiled(random: Random) -> str:
        text = random.choice(goods)
        for _edit in range(random.randint(1, MOST_EDITS)):
            begin = random.randint(0, len(text))
            end = min(len(text), begin + random.randint(0, 40))
            piece = random.choice((*ODD_TEXTS, text[begin:end], text[begin:end] * 3))
            text = text[:begin] + piece + text[end:]
        return text

    return spoiled


def spoiled_tree(goods: Sequence[Any], write: Callable[[Any], str]) -> Maker:
    """One of the trees with up to four entries replaced, taken out, renamed or put in each other's places, as text."""
    written = [json.dumps(good) for good in goods]

    def spoiled(random: Random) -> str:
        tree = json.loads(random.choice(written))  # a copy, quicker than a deep one
        for _edit in range(random.randint(1, MOST_EDITS)):
            ways = list(places(tree))
            if not ways:
                break
            *above, last = random.choice(ways)
            node = at(tree, above)
            match random.choice(("odd", "odd", "other", "number", "gone", "renamed")):
                case "gone":
                    del node[last]
                case "renamed" if isinstance(node, dict):
                    node[random.choice(("x", "", "7", *map(str, node)))] = node.pop(last)
                case "other":
                    node[last] = copy.deepcopy(at(tree, random.choice(ways)))
                case "number":
                    node[last] = any_number(random)
                case _:
                    node[last] = copy.deepcopy(random.choice(ODD_VALUES))
        return write(tree)

    return spoiled


def any_number(random: Random) -> float:
    """As small or large as numbers go, or one that a workshop knows."""
    kind = random.choice(("whole", "near", "any"))
    if kind == "whole":
        return random.randint(-(10**6), 10**6)
    exponent = random.uniform(-2, 3) if kind == "near" else random.uniform(-300, 300)
    return random.choice((1.0, 1.0, -1.0)) * float(10.0**exponent)


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
