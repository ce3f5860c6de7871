"""Changes to the text of a user's file that leave everything else as it was: comments, order, spelling.

A path names an entry from the outside in, names of entries and places in lists (from 0):
``("stock", "birch", "measured", 2)``.
"""

from __future__ import annotations

import difflib
import io
import itertools
from collections.abc import Sequence
from typing import Any, TypeAlias

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import YAMLError

from drawerwright.basics.errors import Fault, FaultyInputError, InvalidValueError
from drawerwright.basics.phrases import phrase

Path: TypeAlias = Sequence[str | int]
WIDEST_LINE = 4096
"""Lines are never folded; this is only a bound that ruamel.yaml asks for."""


def set_value(text: str, path: Path, value: Any) -> str:
    """The text with one entry set; missing entries on the way are made, None takes the entry out.

    Args:
        text: a YAML text.
        path: where; the place one past the end of a list appends to it.
        value: plain values, lists or dicts.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: the path leads through a single value, or to a place that a list does not have.

    >>> print(set_value("kerf: 3.0  # new blade\\n", ["kerf"], 2.8), end="")
    kerf: 2.8  # new blade
    """
    yaml, tree = _load(text)
    before = _dump(yaml, tree)
    if not path:
        raise InvalidValueError(phrase("an entry to set needs a name"))
    node = tree
    for step, following in itertools.pairwise(path):
        if _is_missing(node, step):
            _put(node, step, CommentedSeq() if isinstance(following, int) else CommentedMap())
        node = node[step]
    if value is None:
        _take_out(node, path[-1])
    else:
        # A phrase is written as the text it is.
        plain = str.__str__(value) if isinstance(value, str) else value
        _put(node, path[-1], _rows_in_line(plain))
    return _as_spelt(text, before, _dump(yaml, tree))


def _rows_in_line(value: Any) -> Any:
    """A list of lists as one line for each inner list, not one for each number."""
    if not (isinstance(value, list) and value and all(isinstance(row, list) for row in value)):
        return value
    rows = CommentedSeq([CommentedSeq(row) for row in value])
    for row in rows:
        row.fa.set_flow_style()
    return rows


def insert_item(text: str, path: Path, place: int, value: Any) -> str:
    """The text with `value` put into the list at `path`, before the item at `place`.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no list at `path`.
    """
    yaml, tree = _load(text)
    before = _dump(yaml, tree)
    node = _walk(tree, path)
    if not isinstance(node, CommentedSeq):
        raise InvalidValueError(phrase("{path!r} is not a list", path=path))
    node.insert(max(0, min(place, len(node))), value)
    return _as_spelt(text, before, _dump(yaml, tree))


def get_value(text: str, path: Path, default: Any = None) -> Any:
    """The entry at `path` as plain values, or `default` where there is none.

    Raises:
        FaultyInputError: the text cannot be read.
    """
    _, tree = _load(text)
    try:
        return _walk(tree, path)
    except InvalidValueError:
        return default


def _load(text: str) -> tuple[YAML, Any]:
    yaml = YAML(typ="rt")
    yaml.preserve_quotes = True
    yaml.width = WIDEST_LINE
    yaml.indent(mapping=2, sequence=_sequence_indent(text), offset=_sequence_indent(text) - 2)
    try:
        tree = yaml.load(text)
    except YAMLError as error:
        raise FaultyInputError(
            (Fault("", phrase("cannot be read as YAML: {error}", error=str(error))),)
        ) from None
    return yaml, CommentedMap() if tree is None else tree


def _sequence_indent(text: str) -> int:
    """How far the items of lists stand in: 4 for dashes that are indented under their name, else 2."""
    lines = [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    for above, line in itertools.pairwise(lines):
        if line.lstrip().startswith("- ") and above.split("#")[0].rstrip().endswith(":"):
            dash = len(line) - len(line.lstrip())
            name = len(above) - len(above.lstrip())
            if above.lstrip().startswith("- "):
                name += 2
            return 4 if dash > name else 2
    return 4


def _dump(yaml: YAML, tree: Any) -> str:
    stream = io.StringIO()
    yaml.dump(tree, stream)
    return stream.getvalue()


def _as_spelt(text: str, before: str, after: str) -> str:
    """The changed text with every unchanged line as its author spelt it.

    The library writes some lines its own way (blanks within brackets, for one). `before` is the unchanged text
    as it writes it: where that has the same lines, only those that differ from `before` are taken from `after`.
    """
    spelt, plain, new = (part.splitlines(keepends=True) for part in (text, before, after))
    if len(spelt) != len(plain):
        return after
    kept: list[str] = []
    for tag, start, end, new_start, new_end in difflib.SequenceMatcher(None, plain, new, False).get_opcodes():
        kept += spelt[start:end] if tag == "equal" else new[new_start:new_end]
    return "".join(kept)


def _is_missing(node: Any, step: str | int) -> bool:
    if isinstance(node, CommentedSeq) and isinstance(step, int):
        return step >= len(node)
    if isinstance(node, CommentedMap):
        return node.get(step) is None
    raise InvalidValueError(phrase("{step!r} cannot stand below a single value", step=step))


def _put(node: Any, step: str | int, value: Any) -> None:
    if isinstance(node, CommentedMap):
        node[step] = value
    elif isinstance(node, CommentedSeq) and isinstance(step, int) and 0 <= step <= len(node):
        if step == len(node):
            node.append(value)
        else:
            node[step] = value
    else:
        raise InvalidValueError(phrase("there is no place {step!r} here", step=step))


def _take_out(node: Any, step: str | int) -> None:
    if isinstance(node, CommentedMap):
        node.pop(step, None)
    elif isinstance(node, CommentedSeq) and isinstance(step, int) and 0 <= step < len(node):
        del node[step]
    else:
        raise InvalidValueError(phrase("there is no place {step!r} here", step=step))


def _walk(tree: Any, path: Path) -> Any:
    node = tree
    for step in path:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            raise InvalidValueError(
                phrase("there is no entry {step!r} on the way {path!r}", step=step, path=path)
            ) from None
    return node
