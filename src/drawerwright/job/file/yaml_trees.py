"""Trees of texts, to look at and to change: a text is read once, and copied for each change.

A text never changes, so what was read from it does not either.
"""

from __future__ import annotations

import io
import pickle
import re
from functools import lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap
from ruamel.yaml.timestamp import TimeStamp

from drawerwright.job.file.yaml_text import read_tree, sequence_indent, yaml_reader

REMEMBERED = 16
"""How many texts are kept with their lines. A text is read at once for its title, its faults and its page, and is then
changed; what one change leads to is often looked at again."""
LONG = 20_000
"""Signs; of longer texts only the last few are kept."""
LONG_REMEMBERED = 2
WIDEST_LINE = 4096
"""Lines are never folded; this is only a bound that ruamel.yaml asks for."""


def shared_tree(text: str, file: str | None = None) -> Any:
    """As `read_tree`, remembered; nobody changes what comes from here."""
    return (_tree_of_long if len(text) > LONG else _tree_of)(text, file)


_tree_of = lru_cache(maxsize=REMEMBERED)(read_tree)
_tree_of_long = lru_cache(maxsize=LONG_REMEMBERED)(read_tree)


def own_tree(text: str) -> tuple[YAML, Any]:
    """A tree to be changed, and what writes it in the text's own way; an empty text is one without entries.

    Raises:
        FaultyInputError: it is not YAML.
    """
    yaml = yaml_reader()
    yaml.width = WIDEST_LINE
    yaml.indent(mapping=2, sequence=sequence_indent(text), offset=sequence_indent(text) - 2)
    tree = _copied(text.replace("\r\n", "\n"), yaml)
    return yaml, CommentedMap() if tree is None else tree


def seen_tree(text: str) -> Any:
    """As the tree of `own_tree`, to be looked at only."""
    tree = shared_tree(text.replace("\r\n", "\n"))
    return CommentedMap() if tree is None else tree


def _copied(text: str, yaml: YAML) -> Any:
    """The tree of a text: a copy, which takes a tenth of the time of reading."""
    if _DIRECTIVE.search(text):  # who writes it must have read that
        return read_tree(text, yaml=yaml)
    try:
        return pickle.loads((_kept_long if len(text) > LONG else _kept)(text))
    except RecursionError:  # copies go less deep
        return read_tree(text, yaml=yaml)


_DIRECTIVE = re.compile("^%", re.MULTILINE)


class _Keeper(pickle.Pickler):
    def reducer_override(self, kept: Any) -> Any:
        """A time of day knows how it was written, and by itself does not take that along."""
        return (*kept.__reduce_ex__(4)[:2], vars(kept)) if isinstance(kept, TimeStamp) else NotImplemented


def _keep(text: str) -> bytes:
    stream = io.BytesIO()
    _Keeper(stream).dump(shared_tree(text))
    return stream.getvalue()


_kept = lru_cache(maxsize=REMEMBERED)(_keep)
_kept_long = lru_cache(maxsize=LONG_REMEMBERED)(_keep)


def written(yaml: YAML, tree: Any) -> str:
    """The text of a tree."""
    stream = io.StringIO()
    yaml.dump(tree, stream)
    return stream.getvalue()


@lru_cache(maxsize=REMEMBERED)
def written_again(text: str) -> str:
    """A text that can be read, as the library writes it without any change."""
    return written(*own_tree(text))
