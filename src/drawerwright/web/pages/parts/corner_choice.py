"""Which corner of a job a page shows, or a form is about: by the token of its key, which no change of the job moves."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from drawerwright.basics.errors import InvalidValueError
from drawerwright.web.reader.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.job.planning.draft import Corner


def shown_corner(corners: Sequence[Corner], token: str) -> Corner:
    """The corner that an address names; the job's first where it has no such corner.

    Raises:
        InvalidValueError: no cutter makes a corner of the job, so that there is none to show.
    """
    if not corners:
        raise InvalidValueError(
            _("No cutter makes the corners of this job, so there is nothing to set or test.")
        )
    return next((corner for corner in corners if corner.key.token == token), corners[0])


def meant_corner(corners: Sequence[Corner], token: str) -> Corner:
    """The corner that a form is about.

    Raises:
        InvalidValueError: the job has no such corner.
    """
    found = next((corner for corner in corners if corner.key.token == token), None)
    if found is None:
        raise InvalidValueError(_("This corner is no longer in the job."))
    return found
