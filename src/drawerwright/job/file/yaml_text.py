"""YAML as users write it, with every way in which it can be unreadable said as a fault with its line."""

from __future__ import annotations

import itertools
import re
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.constructor import ConstructorError, RoundTripConstructor
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import Node, ScalarNode
from ruamel.yaml.reader import ReaderError

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.yaml_library import QuickYaml

MOST_ENTRIES = 200_000
"""A file of a megabyte has fewer. More come only from references to references, which can stand for any number."""


TAB = "'\\t'"
"""In what the library says of a tab."""
MOST_OPEN = 100
"""Brackets that are open at once. The library looks at every open one again at each sign that follows."""


def _most_open(text: str) -> int:
    """How many brackets more are opened than closed, at most, wherever in the text they stand."""
    most = depth = 0
    for sign in _BRACKET.findall(text):
        depth = depth + 1 if sign in "[{" else max(depth - 1, 0)
        most = max(most, depth)
    return most


_BRACKET = re.compile(r"[][{}]")


class _Constructor(RoundTripConstructor):
    """Says of a value that looks like a date or a number, and is none, where it stands."""

    def construct_object(self, node: Node, deep: bool = False) -> Any:
        try:
            return super().construct_object(node, deep)
        except (ValueError, KeyError):
            value = node.value if isinstance(node, ScalarNode) else ""
            raise ConstructorError(
                problem=phrase(
                    "{value!r} looks like a date or a number but is neither; put it in quotes",
                    value=value[:40],
                ),
                problem_mark=node.start_mark,
            ) from None
        except (AttributeError, TypeError):
            tag = str(node.tag).replace("tag:yaml.org,2002:", "!!")
            raise ConstructorError(
                problem=phrase("what follows {tag} is nothing of that kind; take the tag out", tag=tag),
                problem_mark=node.start_mark,
            ) from None


def yaml_reader() -> YAML:
    """A reader and writer that keeps comments and spelling, quotes included."""
    yaml = QuickYaml()
    yaml.Constructor = _Constructor
    yaml.preserve_quotes = True
    return yaml


def read_tree(text: str, file: str | None = None, yaml: YAML | None = None) -> Any:
    """A text as ruamel.yaml's tree, whose parts know their lines.

    Args:
        text: the text.
        file: its name, for messages.
        yaml: made by `yaml_reader`, where the tree is to be written again.

    Raises:
        FaultyInputError: it is not YAML.
    """
    if _most_open(text) > MOST_OPEN:
        raise too_deep(file)
    try:
        return (yaml or yaml_reader()).load(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = mark.line + 1 if mark is not None else None
        words = (
            " ".join(bit for bit in (error.context, error.problem) if bit) if error.context else error.problem
        )
        if error.problem and TAB in error.problem:
            words = phrase("a tab stands there: indent with blanks")
        raise _unreadable(words, line, file) from None
    except ReaderError as error:
        line = 1 + text.count("\n", 0, error.position)
        sign = error.character if isinstance(error.character, str) else chr(error.character)
        raise _unreadable(
            phrase("the character U+{code:04X} is not allowed in it", code=ord(sign)), line, file
        ) from None
    except YAMLError as error:
        raise _unreadable(str(error), None, file) from None
    except RecursionError:
        raise too_deep(file) from None


def plain_tree(tree: Any, file: str | None = None) -> Any:
    """A tree as plain dicts, lists and scalars.

    Raises:
        FaultyInputError: references make it endless, or larger than any file could be.
    """
    try:
        return _Plain(file).of(tree)
    except RecursionError:
        raise too_deep(file) from None


def too_deep(file: str | None) -> FaultyInputError:
    """The message for entries nested without end."""
    return _unreadable(phrase("its entries are nested too deeply"), None, file)


def _unreadable(words: str, line: int | None, file: str | None) -> FaultyInputError:
    return FaultyInputError((Fault("", phrase("cannot be read as YAML: {words}", words=words), line, file),))


class _Plain:
    """Counts what it makes, since a few lines of references can stand for more than any machine holds."""

    def __init__(self, file: str | None) -> None:
        self._file = file
        self._left = MOST_ENTRIES

    def of(self, node: Any) -> Any:
        self._left -= 1
        if self._left < 0:
            raise _unreadable(phrase("its references expand to too many entries"), None, self._file)
        if isinstance(node, dict):
            return {str(key): self.of(value) for key, value in node.items()}
        if isinstance(node, list):
            return [self.of(value) for value in node]
        if isinstance(node, bool) or node is None:
            return node
        for base in (int, float):
            if isinstance(node, base):
                return base(node)
        # Half a sign, which only an escape can write, fits into no file.
        return str(node).encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def sequence_indent(text: str) -> int:
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
