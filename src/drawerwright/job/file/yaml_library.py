"""ruamel.yaml less what it does again and again to no effect: a text is read in half the time, with the same result.

Profiles of reading job files show where the time goes; what is done differently here leaves every token, mark and
comment as it was (a test compares both readers over many texts).
"""

from __future__ import annotations

import re
from functools import cached_property, lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.composer import Composer
from ruamel.yaml.error import StringMark
from ruamel.yaml.nodes import ScalarNode
from ruamel.yaml.parser import RoundTripParser
from ruamel.yaml.reader import Reader
from ruamel.yaml.representer import RoundTripRepresenter
from ruamel.yaml.resolver import VersionedResolver
from ruamel.yaml.scanner import RoundTripScanner
from ruamel.yaml.tag import Tag
from ruamel.yaml.tokens import CommentToken, ScalarToken

from drawerwright.basics.phrases import Phrase, plain

NOTHING_SETTLED = -1


class QuickYaml(YAML):
    """A reader and writer that keeps comments and spelling."""

    def __init__(self) -> None:
        super().__init__(typ="rt")
        self.Reader = _Reader
        self.Scanner = _Scanner
        self.Parser = _Parser
        self.Composer = _Composer
        self.Resolver = _Resolver
        self.Representer = _Representer

    def official_plug_ins(self) -> Any:
        """None: the library would look for some in its folder for every text."""
        return []


class _Reader(Reader):
    def get_mark(self) -> Any:
        if self.stream is not None:
            return super().get_mark()
        return StringMark(self.name, self.index, self.line, self.column, self.buffer, self.pointer)


_BREAK = "\0\t\r\n\x85\u2028\u2029"
_SIGN = rf"[^ {_BREAK}\ufeff:?,\[\]{{}}]"
_BLOCK_SIGN = rf"[^ {_BREAK}\ufeff:]"
_PLAIN_IN_FLOW = re.compile(rf"(?!#){_SIGN}+(?: +(?!#){_SIGN}+)*(?=[,\]}}]|:[ {_BREAK}])")
_PLAIN_IN_BLOCK = re.compile(rf"(?!#){_BLOCK_SIGN}+(?: +(?!#){_BLOCK_SIGN}+)*(?=:[ {_BREAK}])")
"""Words on one line without quotes, with what ends them right behind: nothing in them or after them is doubtful."""


class _Scanner(RoundTripScanner):
    """Whether a token could still become the name of an entry is asked many times for each token; only further
    reading changes the answer."""

    _settled = NOTHING_SETTLED
    """How many tokens had been taken when last it was found that no more are needed."""

    @cached_property
    def reader(self) -> Any:
        return self.loader.reader

    def reset_scanner(self) -> None:
        self._settled = NOTHING_SETTLED
        super().reset_scanner()

    def need_more_tokens(self) -> bool:
        if self.tokens and self._settled == self.tokens_taken:
            return False
        more: bool = super().need_more_tokens()
        if not more:
            self._settled = self.tokens_taken
        return more

    def fetch_more_tokens(self) -> Any:
        self._settled = NOTHING_SETTLED
        return super().fetch_more_tokens()

    def _is_ready(self) -> bool:
        """Whether the next token is there with its comments, so that nothing is left to be read or gathered."""
        tokens = self.tokens
        return (
            bool(tokens)
            and self._settled == self.tokens_taken
            and (len(tokens) > 1 or self.done)
            and not isinstance(tokens[0], CommentToken)
        )

    def check_token(self, *choices: Any) -> bool:
        if not self._is_ready():
            return bool(super().check_token(*choices))
        return isinstance(self.tokens[0], choices) if choices else True

    def peek_token(self) -> Any:
        return self.tokens[0] if self._is_ready() else super().peek_token()

    def get_token(self) -> Any:
        if not self._is_ready() or (len(self.tokens) > 1 and isinstance(self.tokens[1], CommentToken)):
            return super().get_token()
        self.tokens_taken += 1
        return self.tokens.pop(0)

    def scan_plain(self) -> Any:
        reader = self.reader
        pattern = _PLAIN_IN_FLOW if self.flow_context else _PLAIN_IN_BLOCK
        found = pattern.match(reader.buffer, reader.pointer)
        if found is None or reader.stream is not None:
            return super().scan_plain()
        value = found[0]
        start = reader.get_mark()
        reader.pointer += len(value)
        reader.index += len(value)
        reader.column += len(value)
        self.allow_simple_key = False
        return ScalarToken(value, True, start, reader.get_mark())


class _Parser(RoundTripParser):
    @cached_property
    def scanner(self) -> Any:
        return self.loader.scanner


class _Composer(Composer):
    @cached_property
    def parser(self) -> Any:
        return self.loader.parser

    @cached_property
    def resolver(self) -> Any:
        return self.loader.resolver


@lru_cache(maxsize=64)
def _tag(name: str) -> Tag:
    """The tag of this name: each new one spells its name out letter by letter."""
    return Tag(suffix=name)


class _Resolver(VersionedResolver):
    def resolve(self, kind: Any, value: Any, implicit: Any) -> Any:
        tag = super().resolve(kind, value, implicit)
        return _tag(tag.suffix) if tag.handle is None else tag


class _Representer(RoundTripRepresenter):
    """A phrase, as the name of a cutter that has none, is written in English, whoever reads the page."""

    def represent_scalar(self, tag: Any, value: Any, style: Any = None, anchor: Any = None) -> ScalarNode:
        return super().represent_scalar(_tag(tag) if isinstance(tag, str) else tag, value, style, anchor)

    def represent_phrase(self, text: Phrase) -> Any:
        return self.represent_str(plain(text))


_Representer.add_representer(Phrase, _Representer.represent_phrase)
