"""A doubtful design yields findings, not exceptions: the user decides, the tool says what it sees."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from drawerwright.basics.names import places_in_row
from drawerwright.basics.phrases import Phrase, Reader, phrase, said


class Severity(StrEnum):
    """How much a finding matters."""

    NOTE = "note"
    """Worth knowing; nothing has to change."""
    WARNING = "warning"
    """The work can be done, but something will be weaker, uglier or less sure than it looks."""
    STOP = "stop"
    """Do not cut until this is settled."""

    @property
    def words(self) -> Phrase:
        """The one word for it, on screen and on paper."""
        return _SEVERITY_WORDS[self]


_SEVERITY_WORDS = {
    Severity.NOTE: phrase("Note"),
    Severity.WARNING: phrase("Warning"),
    Severity.STOP: phrase("STOP"),
}


@dataclass(frozen=True, slots=True)
class Finding:
    """Something doubtful about a job.

    `code` is stable and lower-case with hyphens (`thin-neck`); `where` names the place in the user's own
    words (drawer, part, corner, stock); `text` says what is so, with the figures; `remedy` what to change.
    What it concerns is known by name, never read out of `where`: `drawers`, all of the job where it names none,
    the `stock`, where it is about one, the `size` of the drawers (`width` or `depth`), where one is at fault, and the
    `entry` of the job file, step by step, where what was typed there is in doubt.
    """

    code: str
    severity: Severity
    where: str
    text: str
    remedy: str
    drawers: tuple[str, ...] = ()
    stock: str = ""
    size: str = ""
    entry: tuple[str | int, ...] = ()

    @property
    def stops(self) -> bool:
        """Whether nothing should be cut before this is settled."""
        return self.severity is Severity.STOP

    def concerns(self, drawers: Iterable[str]) -> bool:
        """Whether it is about one of these drawers."""
        return not self.drawers or not set(self.drawers).isdisjoint(drawers)

    def told(self, reader: Reader) -> str:
        """All of it on one line, in the unit of a reader on the terminal."""
        where, text, remedy = (said(words, reader) for words in (self.where, self.text, self.remedy))
        return f"{self.severity} {self.code} ({where}): {text} {remedy}"

    def __str__(self) -> str:
        return f"{self.severity} {self.code} ({self.where}): {self.text} {self.remedy}"


def about(findings: Iterable[Finding], drawers: Iterable[str], stock: str = "") -> tuple[Finding, ...]:
    """The same findings with the drawers, and the stock, that they concern; what names its own keeps them."""
    names = tuple(dict.fromkeys(drawers))
    return tuple(
        replace(finding, drawers=finding.drawers or names, stock=finding.stock or stock)
        for finding in findings
    )


@dataclass(frozen=True, slots=True)
class FindingGroup:
    """What is said alike of several places: one thing to read, and one to mend."""

    members: tuple[Finding, ...]

    @property
    def finding(self) -> Finding:
        """The first of them, which says what all of them say."""
        return self.members[0]

    @property
    def severity(self) -> Severity:
        return self.finding.severity

    @property
    def stops(self) -> bool:
        """Whether nothing should be cut before this is settled."""
        return self.finding.stops

    @property
    def where(self) -> str:
        """Every place, in as few words as tell them all."""
        return places_in_row([finding.where for finding in self.members])

    @property
    def drawers(self) -> tuple[str, ...]:
        """The drawers that it concerns; all of the job where it names none."""
        if not all(finding.drawers for finding in self.members):
            return ()
        return tuple(dict.fromkeys(name for finding in self.members for name in finding.drawers))

    @property
    def as_one(self) -> Finding:
        """All of it as a single finding."""
        return replace(self.finding, where=self.where, drawers=self.drawers)

    def __str__(self) -> str:
        return str(self.as_one)


FIGURE = re.compile(r"\d+\.\d+")
"""A measure in a text. A whole number counts or names something."""


def grouped(findings: Iterable[Finding]) -> tuple[FindingGroup, ...]:
    """Findings that say the same of several places, together; in the order of the first of each.

    What is said of two stocks is two things: each has its own entry to mend. Measures that differ in the last digit
    shown are one measure that was rounded either way.
    """
    found: dict[tuple[str, ...], list[dict[Finding, None]]] = {}
    groups: list[dict[Finding, None]] = []
    for finding in findings:
        frame = tuple(FIGURE.sub("#", words) for words in (finding.text, finding.remedy))
        alike = found.setdefault((finding.code, finding.severity, finding.stock, *frame), [])
        group = next((group for group in alike if _same_figures(next(iter(group)), finding)), None)
        if group is None:
            group = {}
            alike.append(group)
            groups.append(group)
        group[finding] = None
    return tuple(FindingGroup(tuple(group)) for group in groups)


def _same_figures(one: Finding, other: Finding) -> bool:
    """Whether the measures of two findings, otherwise worded alike, are the same but for how they were rounded."""
    pairs = (FIGURE.findall(f"{finding.text} {finding.remedy}") for finding in (one, other))
    return all(_same_but_rounded(*pair) for pair in zip(*pairs, strict=True))


def _same_but_rounded(one: str, other: str) -> bool:
    digits = len(one.partition(".")[2])
    steps = abs(Decimal(one) - Decimal(other)).scaleb(digits)
    return digits == len(other.partition(".")[2]) and steps <= 1
