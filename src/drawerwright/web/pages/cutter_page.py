"""The job's own copy of its cutter, entry by entry."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics import usual
from drawerwright.job.file.entry_paths import members_at, value_at
from drawerwright.store.records import JobRecord, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.cutter_fields import cutter_fields, profile_fields
from drawerwright.web.fields.field import Field, shown
from drawerwright.web.fields.notices import findings_of, notices_by_field
from drawerwright.web.pages.parts.job_frame import job_id_of, job_page
from drawerwright.web.pages.parts.kept_cut_rows import KeptCut, said_cut
from drawerwright.web.pages.profile_page import profile_look
from drawerwright.web.pages.shelf_page import beside_shelf
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

Group = tuple[str, str, tuple[Field, ...]]


def page(request: Request) -> Response:
    """The cutter of the job."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    reader = request.state.reader
    groups: list[Group] = [
        ("cutter", _("Cutter"), cutter_fields(value_at(data, ("cutter", "points")) is not None))
    ]
    fields = [field for _key, _title, group in groups for field in group]
    faults, other_faults = job_text.faults_by_field(job.text, fields)
    draft, found = findings_of(job_text.job_of(job.text))
    notices = {} if draft is None else notices_by_field(draft, found, fields, data)[0]
    context = {
        "job": job,
        "tab": "cutter",
        "heading": _("Cutter"),
        "part": "cutter_part.html",
        "data": data,
        "groups": groups,
        "faults": faults,
        "other_faults": other_faults,
        "notices": notices,
        "show": lambda data, field: shown(value_at(data, field.path), field.kind, reader),
        "shelf": {
            key: beside_shelf(shop, job, (key,), (*group, *profile_fields()), reader)
            for key, _title, group in groups
            if value_at(data, (key,)) is not None
        },
        "usual_inset": shown(usual.PROFILE_INSET, "length", reader),
        "trial_cuts": _trial_cuts(shop, job, data, reader),
        **_cutter_look(job, data, reader),
    }
    if request.query_params.get("part"):
        return shop.renderer.page(request, "cutter_part.html", context)
    return job_page(request, "planned.html", "cutter", job, context)


def _trial_cuts(shop: Shop, job: JobRecord, data: Any, reader: Preferences) -> list[KeptCut]:
    """Every test cut made with a cutter of this name, in whatever job, the newest first; those of this job also
    where the cutter was called otherwise then."""
    from drawerwright.job.test_cuts.kept_cuts import key_of

    name = value_at(data, ("cutter", "name")) or "cutter"
    own_id = value_at(data, ("cutter", "id")) or name
    called = {
        str(value_at(entry, ("id",)) or stock): stock for stock, entry in members_at(data, ("stock",)).items()
    }
    cuts = []
    for entry in reversed(shop.shelf.list(ShelfKind.TRIAL_CUT)):
        cut = job_text.data_of(entry.text)
        is_of_job, key = cut.get("job") == job.id, key_of(cut)
        if cut.get("cutter") == name or (is_of_job and key is not None and key.cutter == own_id):
            cuts.append(said_cut(entry, reader, called if is_of_job else None))
    return cuts


def _cutter_look(job: JobRecord, data: Any, reader: Preferences) -> dict[str, Any]:
    from drawerwright.job.measured_cutter import kept_profile
    from drawerwright.job.pictures.cutter_pictures import any_cutter, cutter_of_job

    found = job_text.job_of(job.text)
    kept = kept_profile(data, found)
    return {
        "cutter": any_cutter(reader.lengths)
        if found is None
        else cutter_of_job(found, found.cutters[0].cutter, reader.lengths),
        "kept": {} if kept is None else profile_look(kept, reader),
    }


ROUTES = (Route("/jobs/{job_id:int}/cutter", page),)
