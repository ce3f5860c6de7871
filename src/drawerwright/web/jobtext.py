"""What the pages ask about the text of a job file. The readers load when first needed, not at start."""

from __future__ import annotations

from drawerwright.basics.errors import Fault, FaultyInputError

NO_TITLE = "Job without a name"
LONGEST_TITLE = 120


def title_of(text: str) -> str:
    """The name that a job file gives its job; a stand-in where it gives none or cannot be read."""
    from drawerwright.job.reading import Document

    try:
        data = Document(text).data
    except FaultyInputError:
        return NO_TITLE
    name = data.get("job") if isinstance(data, dict) else None
    return str(name).strip()[:LONGEST_TITLE] if isinstance(name, str) and name.strip() else NO_TITLE


def checked_title(text: str, file: str) -> str:
    """The name in a text that is at least YAML.

    Raises:
        FaultyInputError: the text cannot be read at all.
    """
    from drawerwright.job.reading import Document

    Document(text, file)
    return title_of(text)


def faults_of(text: str) -> tuple[Fault, ...]:
    """Every fault of a job file's text, in its order; none for a text that can be planned."""
    from drawerwright.job.reading import Document

    try:
        Document(text)
    except FaultyInputError as error:
        return error.faults
    return ()
