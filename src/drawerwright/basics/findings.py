"""A doubtful design yields findings, not exceptions: the user decides, the tool says what it sees."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters."""

    NOTE = "note"
    """Worth knowing; nothing has to change."""
    WARNING = "warning"
    """The work can be done, but something will be weaker, uglier or less sure than it looks."""
    STOP = "stop"
    """Do not cut before this is settled."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something doubtful about a job.

    `code` is stable and lower-case with hyphens (`thin-neck`); `where` names the place in the user's own
    words (drawer, part, corner, stock); `text` says what is so, with the figures; `remedy` what to change.
    """

    code: str
    severity: Severity
    where: str
    text: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.severity} {self.code} ({self.where}): {self.text} {self.remedy}"
