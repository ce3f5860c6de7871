"""Every field of a job's pages, and on which page it stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from drawerwright.job.file.cutter_places import cutter_places
from drawerwright.job.file.entry_paths import members_at, rows_at, value_at
from drawerwright.web.fields.cutter_fields import cutter_fields
from drawerwright.web.fields.drawer_fields import columns_of, panels_of
from drawerwright.web.fields.field import Field
from drawerwright.web.fields.job_fields import machine_fields, time_fields, whole_fields
from drawerwright.web.fields.job_text import REMEMBERED, data_of, faults_of
from drawerwright.web.fields.stock_fields import sheet_fields, stock_fields


def every_field(data: Any) -> Iterator[tuple[str, Field]]:
    """The fields of a job with these entries, each with the last step of its page's address."""
    for section in ("banks", "boxes"):
        for place, item in enumerate(rows_at(data, (section,))):
            groups = (
                columns_of(section, item, data),
                *(group for _title, group in panels_of(section, item, data)),
            )
            yield from (("drawers", field.at(section, place)) for group in groups for field in group)
    for cutter in cutter_places(data):
        has_profile = value_at(data, (*cutter.path, "points")) is not None
        for field in cutter_fields(has_profile, is_only=not cutter.is_one_of_several):
            yield "cutter", field.at(*cutter.path)
    for name, entry in members_at(data, ("stock",)).items():
        yield from (("stock", field.at("stock", name)) for field in stock_fields())
        for rows in ("sheets", "offcuts"):
            for place, _sheet in enumerate(rows_at(entry, (rows,))):
                yield from (("stock", field.at("stock", name, rows, place)) for field in sheet_fields(rows))
    for _title, group in (*machine_fields(), *whole_fields(), ("", time_fields())):
        yield from (("stock", field) for field in group)


@lru_cache(maxsize=REMEMBERED)
def fault_links(text: str) -> Mapping[str, str]:
    """Where the pages of a job show the entries that have faults: the rest of an address, by the name of the entry.

    An entry that no page shows by itself is shown with the one around it, if that has a field.
    """
    faults = faults_of(text)
    places = (
        {field.path_name: f"{page}#{field.id}" for page, field in every_field(data_of(text))}
        if faults
        else {}
    )
    links = {}
    for fault in faults:
        name = fault.field
        while name and name not in places:
            name = name[: max(name.rfind("."), name.rfind("["), 0)]
        if name:
            links[fault.field] = places[name]
    return links
