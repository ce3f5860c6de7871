"""The corner whose measures a form holds: a job's own where they are the job's, else one of these measures alone."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from starlette.requests import Request

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.web.fields import job_text
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.reader.preferences import Preferences

if TYPE_CHECKING:
    from drawerwright.basics.lengths import Mm
    from drawerwright.job.job import Job
    from drawerwright.job.planning.corners import JobCorner
    from drawerwright.job.planning.draft import Corner
    from drawerwright.job.tried_corner import CornerMeasures, CornerToTry
    from drawerwright.web.server.shop import Shop

MEASURES = ("mid_depth", "step", "flat", "upright")
LONGEST_KEPT = 40
"""Characters of an entry that an address keeps."""
is_plain = re.compile(r"\d+(?:[.,]\d+)?").fullmatch
ONE = "one"
"""How the fence sum is shared where both pieces have one setting; else the upright piece's setting stands there."""


def typed_measures(measures: CornerMeasures, reader: Preferences) -> dict[str, str]:
    """The cutter and the wood of a corner as the page's fields show them."""
    typed = {name: typed_length(getattr(measures, name), reader) for name in (*MEASURES, "lip")}
    return typed | {"slope": f"{round(measures.slope, 1):g}", "kind": measures.kind}


def typed_length(length: Mm, reader: Preferences) -> str:
    """A length as a field of the page shows it."""
    return reader.lengths.typed(length)


def in_address(request: Request) -> dict[str, str]:
    """What somebody typed on the page before, as its address keeps it: lengths with the unit they were typed in."""
    from drawerwright.job.tried_corner import SETTINGS

    reader: Preferences = request.state.reader
    given = {name: value for name, value in request.query_params.items() if len(value) <= LONGEST_KEPT}
    kept: dict[str, str] = {name: given[name] for name in given if name in ("kind", "slope")}
    for name in (*SETTINGS, *MEASURES, "lip"):
        if name in given:
            kept[name] = _read_again(given[name], reader)
    return kept


def _read_again(text: str, reader: Preferences) -> str:
    """A length as its reader's fields show one; what is none stays as it was typed."""
    try:
        length = parse_length(text, default_unit=reader.typed_unit)
    except InvalidValueError:
        return text
    plain = text.removesuffix(reader.typed_unit).strip()
    return plain if is_plain(plain) else typed_length(length, reader)


def room_of(text: str) -> float:
    """How many pixels there are for a drawing, as a page says; a usual figure where it does not."""
    from drawerwright.job.pictures.corner_pictures import ROOM

    return float(text) if text.isdecimal() and len(text) < 5 else ROOM


def typed_split(corner: Corner, reader: Preferences) -> str:
    """How the setting of a corner shares the fence sum, as a field holds it."""
    setting = corner.setting
    return ONE if setting.has_one_fence else typed_length(setting.fence_upright, reader)


def typed_corner(shop: Shop, form: LengthsForm, reader: Preferences) -> CornerToTry:
    """The corner that a form without faults holds, at the recommended settings.

    Raises:
        InvalidValueError: no cutter has such measures.
    """
    from drawerwright.job.tried_corner import measures_in_job, try_in_job, try_measures

    job, corner = _of_job(shop, form)
    split = form.values.get("split")
    if job is not None and corner is not None:
        shown = typed_measures(measures_in_job(corner), reader)
        if all(form.typed.get(name, "").strip() == text for name, text in shown.items()):
            return try_in_job(job, corner, split)
    like = None
    if job is not None and job.cutters:
        like = job.cutters[0] if corner is None else job.cutter_of(corner.key.cutter)
    return try_measures(_measures(form.typed, form.values), split, unit=reader.lengths.unit, like=like)


def _measures(typed: Mapping[str, str], values: Mapping[str, float]) -> CornerMeasures:
    from drawerwright.job.tried_corner import FIRST_MEASURES, CornerMeasures

    numbers = {name: values[name] for name in (*MEASURES, "lip", "slope")}
    return CornerMeasures(kind=typed.get("kind") or FIRST_MEASURES.kind, **numbers)


def _of_job(shop: Shop, form: LengthsForm) -> tuple[Job | None, JobCorner | None]:
    """The job and its corner that a form names, where it does."""
    from drawerwright.job.tried_corner import corner_named

    number = whole_number(form.typed.get("job", ""))
    job = None if number is None else job_text.job_of(shop.jobs.load(number).text)
    return job, None if job is None else corner_named(job, form.typed.get("of", ""))
