"""A job for those who look at it: whatever its text says, there is something to show, and words for what is missing."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.errors import DrawerwrightError, Fault, FaultyInputError
from drawerwright.basics.findings import Finding
from drawerwright.job.file.building import read_job
from drawerwright.job.job import Job
from drawerwright.job.own_faults import own_fault
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.job_findings import draft_findings


@dataclass(frozen=True, slots=True)
class ShownJob:
    """What a text is worth: the job with what follows from it at once, or the faults that stand in the way.

    A job is only there together with its draft: what cannot be drafted has a fault, even if each entry can be read.
    """

    job: Job | None = None
    draft: JobDraft | None = None
    findings: tuple[Finding, ...] = ()
    faults: tuple[Fault, ...] = ()


def shown_job(text: str) -> ShownJob:
    """Read a job file's text and draft the job. Nothing that the text says makes this fail: an error that nobody
    allowed for is a fault of the whole text, and reported as one of the program."""
    try:
        job = read_job(text)
        draft = draft_job(job)
        return ShownJob(job, draft, draft_findings(draft))
    except FaultyInputError as error:
        return ShownJob(faults=error.faults)
    except DrawerwrightError as error:
        return ShownJob(faults=(Fault("", str(error)),))
    except Exception as error:
        return ShownJob(faults=(Fault("", own_fault(error, "While reading and drafting a job")),))
