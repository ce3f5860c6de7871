"""The files of a plan, made in the background: drawings and packet, and everything in one archive."""

from __future__ import annotations

from typing import TYPE_CHECKING

from drawerwright.web.reader import words
from drawerwright.web.work.background import PATIENCE_SECONDS, State, Work, WorkDesk

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.papers.file_kinds import FileKind
    from drawerwright.job.papers.plan_papers import PlanPapers
    from drawerwright.job.planning.job_plan import JobPlan


class PaperDesk:
    """Makes the papers of plans and remembers the latest."""

    def __init__(self) -> None:
        self._papers: WorkDesk[PlanPapers] = WorkDesk("papers")
        self._archives: WorkDesk[bytes] = WorkDesk("archive")

    def ask(
        self, text: str, plan: JobPlan, job_id: int | None = None, patience: float = PATIENCE_SECONDS
    ) -> State[PlanPapers]:
        """The papers of a plan, if they are ready within `patience` seconds."""
        return self._papers.ask(
            text,
            lambda work: _make_papers(plan, work),
            variant=_variant(plan),
            job_id=job_id,
            patience=patience,
        )

    def ask_archive(
        self,
        text: str,
        plan: JobPlan,
        kinds: frozenset[FileKind],
        job_id: int | None = None,
        patience: float = PATIENCE_SECONDS,
        address: str = "",
    ) -> State[bytes]:
        """The files of these kinds of a plan in one archive; `address`: where telephones find the job's run."""
        return self._archives.ask(
            text,
            lambda work: _make_archive(plan, kinds, work, address),
            variant=(_variant(plan), kinds, address),
            job_id=job_id,
            patience=patience,
        )

    def cancel(self, text: str, plan: JobPlan, kinds: frozenset[FileKind], address: str = "") -> None:
        """Make no more of the papers and of the archive of these kinds."""
        self._papers.cancel(text, _variant(plan))
        self._archives.cancel(text, (_variant(plan), kinds, address))

    def forget(self, text: str) -> None:
        """Make both anew when next asked."""
        self._papers.forget(text)
        self.forget_archive(text)

    def forget_archive(self, text: str) -> None:
        """Make the archive anew when next asked."""
        self._archives.forget(text)

    def close(self) -> None:
        """End all work."""
        self._papers.close()
        self._archives.close()


def _variant(plan: JobPlan) -> tuple[LengthStyle, str, str]:
    """The name tells the days of a job apart."""
    return plan.job.style, words.language(), plan.job.name


def _make_papers(plan: JobPlan, work: Work[PlanPapers]) -> PlanPapers:
    from drawerwright.job.papers.plan_papers import make_papers

    return make_papers(plan, work.step)


def _make_archive(plan: JobPlan, kinds: frozenset[FileKind], work: Work[bytes], address: str) -> bytes:
    from drawerwright.job.papers.plan_papers import make_archive

    return make_archive(plan, work.text, kinds, work.step, address)
