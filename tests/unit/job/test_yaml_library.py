"""What is read quickly is what the library reads by itself: every event with its marks and comments, every error."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap
from ruamel.yaml.error import YAMLError

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.yaml_library import QuickYaml
from drawerwright.job.file.yaml_text import read_tree, sequence_indent, yaml_reader
from drawerwright.job.file.yaml_trees import WIDEST_LINE, own_tree, seen_tree, written, written_again

CORPUS = Path(__file__).parents[2] / "corpus"
ODD = (
    "",
    "# only a comment\n",
    "- 1\n- {a: b}\n# end\n",
    "a: &x {b: 1, c: 2.50}\nd:\n  <<: *x\n  e: 0x1F  # hex\nf: *x\n",
    "h: |\n  text\n  more\n\ni: >-\n  folded\n  lines\nj: 'q''uoted'\nk: \"w\\u00e9\\\n  x\"\n",
    "d: 2001-12-14t21:59:43.10-05:00\ne: 2001-12-14\nf: 1_000\ng: 007\nh: 1e3\ni: ~\nj: yes\n",
    "t: !other {a: 1}\nu: !!set {a, b}\nv: !!binary aGVsbG8=\nw: !!omap [a: 1]\n",
    "? [a, b]\n: x\n? c\n? d\n: y # after\n",
    "r: [1, 2, # within\n  3]\ns: {a: 1, # within\n  b: 2}\n",
    "a:\n  # above\n  b: 1 # beside\n\n  # below\n\nc:\n- 1\n\n# between\n- 2 # two\n- - 3\n  -   # three\n   4\n",
    "%YAML 1.1\n---\na: yes\nb: 012\n...\n",
    "a: b: c\n",
    "a: [1, 2\n",
    "a: 1\n b: 2\n",
    "a:\n\t- 1\n",
    "'a\n  b': 1\n",
    f"{'a' * 1100}: 1\n",
    f"a: 1\n{'b' * 20}\nc: 2\n",
    "a: 1\na: 2\n",
    "a: *none\n",
    "a: 1 # x\r\nb:\r\n- 2\r\n",
)


def texts() -> list[str]:
    kept = [path.read_text(errors="replace") for path in sorted(CORPUS.rglob("*.txt"))]
    return [example_text(), *(text for text in kept if len(text) < 20_000), *ODD]


def events(yaml: YAML, text: str) -> list[str]:
    """Everything that is read until the end or an error, as text."""
    found = []
    try:
        found.extend(f"{event!r} {event.start_mark} {event.end_mark}" for event in yaml.parse(text))
    except YAMLError as error:
        found.append(str(error))
    return found


def test_every_event_is_the_library_s() -> None:
    for text in texts():
        plain = events(YAML(typ="rt"), text)
        assert plain
        assert events(QuickYaml(), text) == plain


def test_a_copied_tree_is_written_as_the_library_writes_one_that_it_read() -> None:
    for text in texts():
        yaml = YAML(typ="rt")
        yaml.Constructor, yaml.preserve_quotes = yaml_reader().Constructor, True
        try:
            fresh = read_tree(text.replace("\r\n", "\n"), yaml=yaml)
        except FaultyInputError as error:
            with pytest.raises(FaultyInputError, match=re.escape(str(error))):
                own_tree(text)
            continue
        yaml.width, indent = WIDEST_LINE, sequence_indent(text)
        yaml.indent(mapping=2, sequence=indent, offset=indent - 2)
        if fresh is None:
            fresh = CommentedMap()
        assert written(*own_tree(text)) == written(yaml, fresh)


def test_what_is_done_to_a_tree_of_ones_own_stays_in_it() -> None:
    text = "a: [1, 2]  # two\nb: {c: 3}\n"
    before = written_again(text)
    _, tree = own_tree(text)
    tree["a"].append(3)
    del tree["b"]
    assert own_tree(text)[1] == seen_tree(text) == {"a": [1, 2], "b": {"c": 3}}
    assert written_again(text) == before == text
