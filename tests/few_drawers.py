"""The example with all that it has, but two drawers in each bank: quickly planned and drawn."""

from __future__ import annotations

from drawerwright.job.file.first_jobs import example_text

FEW_DRAWERS = (
    example_text()
    .replace("{equal: 7}", "{equal: 2}")
    .replace("{count: 5, smallest: 118}", "{count: 2, smallest: 118}")
)
