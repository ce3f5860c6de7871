"""Changes to the text of a user's file that leave everything else as it was: comments, order, spelling.

A path names an entry from the outside in, names of entries and places in lists (from 0):
``("stock", "birch", "measured", 2)``.
"""

from __future__ import annotations

import difflib
import itertools
import re
from collections.abc import Sequence
from typing import Any, TypeAlias

from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.scalarstring import DoubleQuotedScalarString, SingleQuotedScalarString

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.yaml_text import yaml_reader
from drawerwright.job.file.yaml_trees import own_tree, seen_tree, written, written_again

FOLDING = re.compile("[\x85\u2028\u2029]")
"""Line ends to YAML: written as such within quotes, they would come back as blanks."""
Path: TypeAlias = Sequence[str | int]


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
    if not path:
        raise InvalidValueError(phrase("an entry needs a name"))
    yaml, tree = own_tree(text)
    before = written_again(text)
    taken_out = _without_lines(text, tree, path) if value is None else None
    node = tree
    for step, following in itertools.pairwise(path):
        if _is_missing(node, step):
            _put(node, step, CommentedSeq() if isinstance(following, int) else CommentedMap())
        node = node[step]
    if value is None:
        _take_out(node, path[-1])
        if not node and len(path) > 1:
            _leave_empty(_walk(tree, path[:-2]), path[-2], node)
    else:
        _put(node, path[-1], _as_written(value) if isinstance(value, str) else _rows_in_line(value))
    changed = _as_spelt(text, before, written(yaml, tree))
    if taken_out is not None and _means_the_same(taken_out, changed):
        return taken_out
    return changed


def set_nothing(text: str, path: Path) -> str:
    """The text with an entry that says: nothing. Where an entry is taken over from elsewhere, that is another thing
    than no entry.

    Raises:
        FaultyInputError, InvalidValueError: as `set_value` does.

    >>> print(set_nothing("like: Low\\n", ["banding"]), end="")
    like: Low
    banding:
    """
    yaml, tree = own_tree(text)
    before = written_again(text)
    node = tree
    for step in path[:-1]:
        if _is_missing(node, step):
            _put(node, step, CommentedMap())
        node = node[step]
    _put(node, path[-1], None)
    return _as_spelt(text, before, written(yaml, tree))


def _as_written(text: str) -> str:
    """A text as the library can read it again; a phrase is written as the text it is."""
    plain = str.__str__(text)
    if FOLDING.search(plain):
        plain = DoubleQuotedScalarString(plain)
    elif plain.startswith(
        "?"
    ):  # within brackets the library marks keys without quotes, and stumbles over the mark
        plain = SingleQuotedScalarString(plain)
    return plain


def _rows_in_line(value: Any) -> Any:
    """A list of lists as one line for each inner list, not one for each number."""
    if not (isinstance(value, list) and value and all(isinstance(row, list) for row in value)):
        return value
    rows = CommentedSeq([CommentedSeq(row) for row in value])
    for row in rows:
        row.fa.set_flow_style()
    return rows


def rename_entry(text: str, path: Path, name: str) -> str:
    """The text with the entry at `path` called `name`; all else stays where and as it is.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no such entry, another one has that name, or the name stands in the text in a way
            that cannot be changed by itself.

    >>> print(rename_entry("stock:\\n  ash: 15  # from the loft\\n", ["stock", "ash"], "old ash"), end="")
    stock:
      old ash: 15  # from the loft
    """
    yaml, tree = own_tree(text)
    parent, old = _walk(tree, path[:-1]), path[-1]
    if not isinstance(parent, CommentedMap) or old not in parent:
        raise InvalidValueError(phrase("{path!r} has no entry {step!r}", step=old, path=path))
    if name in parent:
        raise InvalidValueError(phrase("an entry {name!r} already exists", name=name))
    lines = _lines(text)
    line, column = _place(parent, old)
    there = _NAME_IN_TEXT.match(lines[line], column)
    if there is not None:
        key = written(yaml, CommentedMap({_as_written(name): 0})).rpartition(":")[0]
        lines[line] = lines[line][:column] + key + lines[line][there.end() :]
    renamed = "".join(lines)
    places = list(parent)
    parent.insert(places.index(old), name, parent.pop(old))
    if _plain(seen_tree(renamed)) != _plain(tree):
        raise InvalidValueError(
            phrase("{name!r} cannot be renamed here: edit the text of the file", name=old)
        )
    return renamed


def nest_entry(text: str, path: Path, name: str) -> str:
    """The text with what stands at `path` one level further in, under `name`; comments go along.

    Raises:
        FaultyInputError: the text cannot be read.
        InvalidValueError: there is no such entry.

    >>> print(nest_entry("cutter:\\n  step: 3.4  # worn\\n", ["cutter"], "old one"), end="")
    cutter:
      old one:
        step: 3.4  # worn
    """
    yaml, tree = own_tree(text)
    before, parent, step = written_again(text), _walk(tree, path[:-1]), path[-1]
    if _is_missing(parent, step):
        raise InvalidValueError(phrase("{path!r} has no entry {step!r}", step=step, path=path))
    moved = _moved_in(text, tree, path, name)
    inner = CommentedMap({_as_written(name): parent[step]})
    if isinstance(parent[step], CommentedMap) and parent[step].fa.flow_style():
        inner.fa.set_flow_style()
    parent[step] = inner
    if moved is not None and _means_the_same(moved, written(yaml, tree)):
        return moved
    return _as_spelt(text, before, written(yaml, tree))


def _moved_in(text: str, tree: Any, path: Path, name: str) -> str | None:
    """The lines of an entry set further in under a line with `name`; None where it shares a line with another."""
    lines, node, bounds = _lines(text), tree, [len(_lines(text))]
    for step in path:
        if node.fa.flow_style():
            return None
        places = list(node)
        at = places.index(step)
        if at + 1 < len(places):
            bounds.append(_place(node, places[at + 1])[0])
        parent, node = node, node[step]
    if not isinstance(node, CommentedMap) or node.fa.flow_style() or not node:
        return None
    first, (inside, column) = _place(parent, path[-1])[0], _place(node, next(iter(node)))
    if inside <= first:
        return None
    last = _last_content(lines, inside, min(bounds))
    ending = "\r\n" if lines[first].endswith("\r\n") else "\n"
    key = written(yaml_reader(), CommentedMap({_as_written(name): 0})).rpartition(":")[0]
    step_in = " " * (column - _indent(lines[first]))
    within = [step_in + line if line.strip() else line for line in lines[first + 1 : last + 1]]
    return "".join([*lines[: first + 1], f"{' ' * column}{key}:{ending}", *within, *lines[last + 1 :]])


_NAME_IN_TEXT = re.compile(r"""\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'|[^'"\s][^\n]*?(?=\s*:(?:\s|$))""")
"""The name of an entry as it stands in the text: in quotes, or up to its colon."""


def _plain(tree: Any) -> Any:
    """The values of a tree, the order of entries included."""
    if isinstance(tree, CommentedMap):
        return [(key, _plain(value)) for key, value in tree.items()]
    return [_plain(item) for item in tree] if isinstance(tree, CommentedSeq) else tree


def get_value(text: str, path: Path, default: Any = None) -> Any:
    """The entry at `path` as plain values, or `default` where there is none.

    Raises:
        FaultyInputError: the text cannot be read.
    """
    _, tree = own_tree(text)
    try:
        return _walk(tree, path)
    except InvalidValueError:
        return default


def _as_spelt(text: str, before: str, after: str) -> str:
    """The changed text with every unchanged line as its author spelt it.

    The library writes some lines its own way (blanks within brackets, for one). `before` is the unchanged text
    as it writes it: where that has the same lines, only those that differ from `before` are taken from `after`.
    It also takes the comments below an entry for a part of it, so those go with a value that is replaced; here
    they stay.
    """
    ending = "\r\n" if "\r\n" in text else "\n"
    spelt, plain, new = (_lines(part) for part in (text, before, after.replace("\n", ending)))
    if len(spelt) != len(plain):
        return "".join(new)
    kept: list[str] = []
    changes = difflib.SequenceMatcher(None, _bare(plain), _bare(new), False).get_opcodes()
    for tag, start, end, new_start, new_end in changes:
        fresh = new[new_start:new_end]
        if tag == "equal":
            kept += spelt[start:end]
        elif tag == "insert":
            at = _above_comments(kept, _indent(fresh[0]))
            kept[at:at] = fresh
        else:
            below = spelt[_last_content(spelt, start, end) + 1 : end]
            kept += fresh + [line for line in below if line not in fresh]
    return "".join(kept)


def _above_comments(lines: list[str], indent: int) -> int:
    """Where to put a line after others: comments that stand further out belong to what follows."""
    at = len(lines)
    if not indent:
        return at
    while at and (
        not lines[at - 1].strip() or (_is_comment(lines[at - 1]) and _indent(lines[at - 1]) < indent)
    ):
        at -= 1
    return at


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _is_comment(line: str) -> bool:
    return line.lstrip().startswith("#")


def _lines(text: str) -> list[str]:
    """Lines with their ends; a line ends nowhere but at a line feed, as in YAML."""
    return re.findall(r"[^\n]*\n|[^\n]+", text)


def _bare(lines: list[str]) -> list[str]:
    return [line.rstrip("\r\n") for line in lines]


def _last_content(lines: list[str], start: int, end: int) -> int:
    """The last of some lines that is neither empty nor a comment; the one before them where there is none."""
    while end > start and (not lines[end - 1].strip() or _is_comment(lines[end - 1])):
        end -= 1
    return end - 1


def _without_lines(text: str, tree: Any, path: Path) -> str | None:
    """The text without the lines of an entry that has lines of its own, and with all comments around them.

    None where the entry shares a line with another, is the only one where it stands, or is not there.
    """
    lines = _lines(text)
    bounds = [len(lines)]
    node = tree
    for step in path:
        if (
            not isinstance(node, CommentedMap | CommentedSeq)
            or _is_missing(node, step)
            or node.fa.flow_style()
        ):
            return None
        places = list(node) if isinstance(node, CommentedMap) else list(range(len(node)))
        at = places.index(step)
        if at + 1 < len(places):
            bounds.append(_place(node, places[at + 1])[0])
        parent, node = node, node[step]
    line, column = _place(parent, path[-1])
    last = _last_content(lines, line, min(bounds))
    lead = lines[line][:column]
    is_own = not lead.strip() or (isinstance(parent, CommentedSeq) and lead.strip() == "-")
    if len(parent) == 1 or not is_own:
        return None
    return "".join(lines[:line] + lines[last + 1 :])


def _place(node: Any, step: str | int) -> tuple[int, int]:
    """Line and column (from 0) where an entry begins."""
    place = node.lc.key(step) if isinstance(node, CommentedMap) else node.lc.item(step)
    return int(place[0]), int(place[1])


def _means_the_same(text: str, other: str) -> bool:
    """Whether two texts hold the same values; what cannot be read means nothing."""
    try:
        return bool(seen_tree(text) == seen_tree(other))
    except FaultyInputError:
        return False


def _is_missing(node: Any, step: str | int) -> bool:
    if isinstance(node, CommentedSeq) and isinstance(step, int):
        return step >= len(node)
    if isinstance(node, CommentedMap):
        return node.get(step) is None
    raise InvalidValueError(phrase("{step!r} cannot go under a single value", step=step))


def _put(node: Any, step: str | int, value: Any) -> None:
    present = None if _is_missing(node, step) else node[step]
    if isinstance(present, CommentedSeq) and isinstance(value, list):
        _refill(present, value)
    elif isinstance(node, CommentedMap):
        node[step] = value
    elif isinstance(node, CommentedSeq) and isinstance(step, int) and 0 <= step <= len(node):
        if step == len(node):
            node.append(value)
        else:
            node[step] = value
    else:
        raise InvalidValueError(phrase("there is no place {step!r} here", step=step))


def _refill(node: CommentedSeq, values: list[Any]) -> None:
    """Other items into a list, which stays written as it was; what stays the same keeps its comment."""
    for place, value in enumerate(values[: len(node)]):
        if node[place] != value:
            node[place] = value
    node.extend(values[len(node) :])
    del node[len(values) :]


def _take_out(node: Any, step: str | int) -> None:
    if isinstance(node, CommentedMap):
        node.pop(step, None)
    elif isinstance(node, CommentedSeq) and isinstance(step, int) and 0 <= step < len(node):
        del node[step]
    else:
        raise InvalidValueError(phrase("there is no place {step!r} here", step=step))


def _leave_empty(parent: Any, step: str | int, node: Any) -> None:
    """Write a section or list that has lost its last entry within one line: by itself the library puts the brackets
    below a comment beside the name, where they cannot be read."""
    empty = type(node)()
    empty.fa.set_flow_style()
    parent[step] = empty


def _walk(tree: Any, path: Path) -> Any:
    node = tree
    for step in path:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            raise InvalidValueError(phrase("{path!r} has no entry {step!r}", step=step, path=path)) from None
    return node
