"""A doubtful design yields findings, not exceptions: the user decides, the tool says what it sees."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters."""

    NOTE = "note"
    """Worth knowing; nothing has to change."""
    WARNING = "warning"
    """The work can be done, but something will be weaker, uglier or less sure than it looks."""
    STOP = "stop"
    """Do not cut until this is settled."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something doubtful about a job.

    `code` is stable and lower-case with hyphens (`thin-neck`); `where` names the place in the user's own
    words (drawer, part, corner, stock); `text` says what is so, with the figures; `remedy` what to change.
    What it concerns is known by name, never read out of `where`: `drawers`, all of the job where it names none,
    and the `stock`, where it is about one.
    """

    code: str
    severity: Severity
    where: str
    text: str
    remedy: str
    drawers: tuple[str, ...] = ()
    stock: str = ""

    @property
    def stops(self) -> bool:
        """Whether nothing should be cut before this is settled."""
        return self.severity is Severity.STOP

    def concerns(self, drawers: Iterable[str]) -> bool:
        """Whether it is about one of these drawers."""
        return not self.drawers or not set(self.drawers).isdisjoint(drawers)

    def __str__(self) -> str:
        return f"{self.severity} {self.code} ({self.where}): {self.text} {self.remedy}"


def about(findings: Iterable[Finding], drawers: Iterable[str], stock: str = "") -> tuple[Finding, ...]:
    """The same findings with the drawers, and the stock, that they concern; what names its own keeps them."""
    names = tuple(dict.fromkeys(drawers))
    return tuple(
        replace(finding, drawers=finding.drawers or names, stock=finding.stock or stock)
        for finding in findings
    )
