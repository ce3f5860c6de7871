"""ruamel.yaml less what it does again and again to no effect: a text is read in half the time, with the same result.

Profiles of reading job files show where the time goes; what is done differently here leaves every token, mark and
comment as it was (a test compares both readers over many texts).
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.composer import Composer
from ruamel.yaml.parser import RoundTripParser
from ruamel.yaml.scanner import RoundTripScanner

NOTHING_SETTLED = -1


class QuickYaml(YAML):
    """A reader and writer that keeps comments and spelling."""

    def __init__(self) -> None:
        super().__init__(typ="rt")
        self.Scanner = _Scanner
        self.Parser = _Parser
        self.Composer = _Composer

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
