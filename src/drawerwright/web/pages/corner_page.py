"""The live section: what the wood does at any height and fence, beside the corner as it should be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import joined
from drawerwright.store import JobRecord
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.pages.parts.corner_choice import shown_corner
from drawerwright.web.pages.parts.planned import planned_page
from drawerwright.web.pages.parts.typed_corner import (
    MEASURES,
    ONE,
    TypedCorner,
    recommended_in_job,
    typed_corner,
    typed_length,
    typed_measures,
    typed_split,
)
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.job import Job
    from drawerwright.job.planning.draft import Corner
    from drawerwright.job.planning.job_plan import JobPlan
    from drawerwright.joints.setting import CornerSetting

SETTINGS = ("bit_height", "fence_flat", "fence_upright")
FIRST_LOOK = {"mid_depth": 6.0, "step": 4.0, "flat": 15.0, "upright": 15.0, "lip": 0.0}
"""Round figures to begin with, until the bench's own are typed (mm)."""
FIRST_SLOPE = "45"
SLIDER_REACH = 3.0
"""How far a slider goes to either side of the recommended setting (mm)."""
SHOWN_SCALE = 3.0


def bench(request: Request) -> Response:
    """The page for a corner whose measures are typed here."""
    from drawerwright.joints.joint import self_mating_joints
    from drawerwright.joints.registry import USUAL

    reader: Preferences = request.state.reader
    typed = {
        name: reader.lengths.show(value, fine=True, with_unit=False) for name, value in FIRST_LOOK.items()
    }
    typed |= {"slope": FIRST_SLOPE, "kind": USUAL}
    typed |= {
        name: value for name, value in request.query_params.items() if name in typed and len(value) < 30
    }
    context = {"typed": typed, "corners": (), "kinds": self_mating_joints()}
    return shop_of(request).renderer.page(request, "corner.html", context)


def of_job(request: Request) -> Response:
    """The page for the corners of a job, at the settings of its plan."""
    return planned_page(request, "corner", _("Corner"), "corner_part.html", _of_plan, by_day=False)


def _of_plan(request: Request, job: JobRecord, plan: JobPlan) -> Mapping[str, Any]:
    from drawerwright.job.kept_settings import keeps_settings, recommended_settings
    from drawerwright.joints.joint import self_mating_joints
    from drawerwright.joints.setting_words import play_words

    reader: Preferences = request.state.reader
    corner = shown_corner(plan.corners, request.query_params.get("corner", ""))
    setting = corner.setting
    typed = typed_measures(setting.cutter, setting.corner, reader) | _own_settings(setting, plan.job, reader)
    typed |= {"split": typed_split(setting, reader), "job": str(job.id), "of": corner.key.token}
    return {
        "typed": typed,
        "kinds": self_mating_joints(),
        "corners": plan.corners,
        "chosen": corner.key.token,
        "in_job": setting,
        "recommended": recommended_settings(plan.job)[corner.key],
        "is_kept": keeps_settings(plan.job),
        "play_words": play_words(setting, reader.lengths),
        **_odds(plan, corner, reader),
    }


def _own_settings(setting: CornerSetting, job: Job, reader: Preferences) -> dict[str, str]:
    """The settings of a corner that are not the recommended ones: what the fields begin with."""
    from drawerwright.joints.setting import is_one_setting

    right = recommended_in_job(setting, job)
    return {
        name: typed_length(getattr(setting, name), reader)
        for name in SETTINGS
        if not is_one_setting(getattr(setting, name), getattr(right, name))
    }


def _odds(plan: JobPlan, corner: Corner, reader: Preferences) -> Mapping[str, Any]:
    """How sure the first cut of a corner is: in words, drawn, and for all that is cut with it."""
    from drawerwright.job.planning.first_cut_odds import corner_words, percent
    from drawerwright.web.pages.parts.odds_pictures import lip_picture, misfit_picture

    odds = plan.odds.of(corner.key)
    fit, setting = plan.odds.cut.fit, odds.corner.setting
    return {
        "odds": odds,
        "odds_words": corner_words(odds, reader.lengths),
        "odds_pictures": (
            misfit_picture(odds.misfit_estimate, fit, setting.cutter, reader),
            lip_picture(odds.lip_estimate, fit, setting.corner.lip, reader),
        ),
        "together": plan.odds.together,
        "percent": percent,
    }


def section(request: Request) -> Response:
    """The drawing and its figures for what the form holds now."""
    form = _read(request)
    context: dict[str, Any] = {"faults": form.faults, "shown": None, "words": ""}
    if not form.faults:
        try:
            meant = typed_corner(shop_of(request), form, request.state.reader)
            context |= _look(form, meant, request.state.reader)
        except InvalidValueError as error:
            context["words"] = str(error)
    return shop_of(request).renderer.page(request, "corner_section.html", context)


def _read(request: Request) -> LengthsForm:
    """The form as far as it can be read; settings that are left empty are the recommended ones."""
    form = LengthsForm(
        {name: value[:40] for name, value in request.query_params.items()}, request.state.reader
    )
    form.read(MEASURES, over_zero=True)
    form.read(("lip",), least=0.0)
    form.read_angle("slope")
    given = [name for name in SETTINGS if form.typed.get(name, "").strip()]
    if form.typed.get("split", ONE) != ONE:
        given.append("split")
    form.read(given, over_zero=True)
    return form


def true_size(request: Request) -> Response:
    """The corner at the settings of the form at 1:1, to print and lay the wood on."""
    from drawerwright.drawings.corner_section import FULL_SIZE, draw_corner
    from drawerwright.drawings.svg import write_svg

    form = _read(request)
    if form.faults:
        raise InvalidValueError(
            joined((joined((name, words), ": ") for name, words in form.faults.items()), "; ")
        )
    tried = _tried(form, typed_corner(shop_of(request), form, request.state.reader).right)
    drawing = write_svg(
        draw_corner(tried, scale=FULL_SIZE, annotated=False, style=request.state.reader.lengths), ground=False
    )
    return shop_of(request).renderer.page(request, "corner_print.html", {"drawing": drawing, "tried": tried})


@lru_cache(maxsize=16)
def _meant(right: CornerSetting, style: LengthStyle) -> str:
    """The corner as it should be; it stays the same while sliders move."""
    from drawerwright.drawings.corner_section import draw_corner
    from drawerwright.drawings.svg import write_svg

    return write_svg(draw_corner(right, scale=SHOWN_SCALE, style=style), ground=False)


def _tried(form: LengthsForm, right: CornerSetting) -> CornerSetting:
    """The settings that the form holds; the recommended ones where it holds none."""
    return replace(
        right,
        bit_height=form.values.get("bit_height", right.bit_height),
        fence_flat=form.values.get("fence_flat", right.fence_flat),
        fence_upright=form.values.get("fence_upright", right.fence_upright),
    )


def _look(form: LengthsForm, meant: TypedCorner, reader: Preferences) -> Mapping[str, Any]:
    from drawerwright.drawings.seating import draw_both_states
    from drawerwright.drawings.svg import write_svg
    from drawerwright.joints.corner_findings import setting_findings
    from drawerwright.joints.fit import seat_setting
    from drawerwright.joints.joint import expected_readings
    from drawerwright.joints.setting_words import play_words
    from drawerwright.joints.targets import card_targets

    right = meant.right
    tried = _tried(form, right)
    fit = seat_setting(tried)
    style = reader.lengths
    sliders = {name: getattr(right, name) for name in SETTINGS}
    return {
        "shown": fit,
        "tried": tried,
        "right": right,
        "sliders": sliders,
        "reach": SLIDER_REACH,
        "now": {name: getattr(tried, name) for name in SETTINGS},
        "seated": write_svg(draw_both_states(fit, scale=SHOWN_SCALE, style=style), ground=False),
        "meant": _meant(right, style),
        "findings": setting_findings(tried, ""),
        "targets": card_targets(right, meant.fit),
        "play_words": play_words(right, style),
        "readings": expected_readings(tried),
    }


ROUTES = (
    Route("/corner", bench),
    Route("/jobs/{job_id:int}/corner", of_job),
    Route("/corner/section", section),
    Route("/corner/print", true_size),
)
