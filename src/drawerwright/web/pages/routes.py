"""The routes of every page."""

from __future__ import annotations

from starlette.routing import Route

from drawerwright.web.pages import (
    corner_page,
    cutter_page,
    devices_page,
    drawers_page,
    drawing_style,
    front_height,
    glance_page,
    guided_start,
    health,
    help_page,
    import_page,
    jobs_page,
    keep_settings,
    late_changes,
    papers_page,
    profile_page,
    rack_page,
    reader_choices,
    replace_part,
    run_page,
    runners_page,
    saving_fields,
    scanned_cut_page,
    sheets_on_hand_page,
    sheets_page,
    shelf_page,
    stock_page,
    test_cut_page,
    which_joint_page,
)
from drawerwright.web.pages.parts import planned
from drawerwright.web.pages.parts.panels import framed

_EVERY_ROUTE: tuple[Route, ...] = (
    *corner_page.ROUTES,  # the first to be tried: a slider asks for its drawing with every step
    *guided_start.ROUTES,
    *jobs_page.ROUTES,
    *glance_page.ROUTES,
    *cutter_page.ROUTES,
    *stock_page.ROUTES,
    *runners_page.ROUTES,
    *profile_page.ROUTES,
    *papers_page.ROUTES,
    *replace_part.ROUTES,
    *drawers_page.ROUTES,
    *import_page.ROUTES,
    *which_joint_page.ROUTES,
    *front_height.ROUTES,
    *saving_fields.ROUTES,
    *planned.ROUTES,
    *sheets_page.ROUTES,
    *sheets_on_hand_page.ROUTES,
    *test_cut_page.ROUTES,
    *scanned_cut_page.ROUTES,
    *shelf_page.ROUTES,
    *run_page.ROUTES,
    *rack_page.ROUTES,
    *keep_settings.ROUTES,
    *drawing_style.ROUTES,
    *devices_page.ROUTES,
    *reader_choices.ROUTES,
    *late_changes.ROUTES,
    *health.ROUTES,
    *help_page.ROUTES,
)

ROUTES: tuple[Route, ...] = tuple(framed(route) for route in _EVERY_ROUTE)
