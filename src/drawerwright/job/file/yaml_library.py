"""ruamel.yaml less what it does again and again to no effect: a text is read in half the time, with the same result.

Profiles of reading job files show where the time goes; what is done differently here leaves every token, mark and
comment as it was (a test compares both readers over many texts).
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.composer import Composer
from ruamel.yaml.nodes import ScalarNode
from ruamel.yaml.parser import RoundTripParser
from ruamel.yaml.representer import RoundTripRepresenter
from ruamel.yaml.resolver import VersionedResolver
from ruamel.yaml.scanner import RoundTripScanner
from ruamel.yaml.tag import Tag

from drawerwright.basics.phrases import Phrase, plain

NOTHING_SETTLED = -1


class QuickYaml(YAML):
    """A reader and writer that keeps comments and spelling."""

    def __init__(self) -> None:
        super().__init__(typ="rt")
        self.Scanner = _Scanner
        self.Parser = _Parser
        self.Composer = _Composer
        self.Resolver = _Resolver
        self.Representer = _Representer

    def official_plug_ins(self) -> Any:
        """None: the library would look for some in its folder for every text."""
        return []


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


class _Parser(RoundTripParser):
    @cached_property
    def scanner(self) -> Any:
        return self.loader.scanner


class _Composer(Composer):
    @cached_property
    def parser(self) -> Any:
        return self.loader.parser


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
