"""The shop's own cutters, machine and stock beside the jobs: put there from a job, taken over into a job."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.cutter_places import OWN_ENTRIES, SEVERAL, cutter_places
from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.store.records import JobRecord, ShelfEntry, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import Field, read_path, shown
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.job_frame import job_id_of, save_and_announce
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

ENTRY = "entry"
"""Under which name a shelf text holds its values."""
Values = dict[EntryPath, Any]

MANY_VALUES = 8
"""A longer list is not written out beside another one."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One value that the shelf has otherwise than the job, under the label of its field."""

    label: str
    own: str
    shelf: str


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One part of a job file beside what the shelf has under the same name, if anything."""

    path: EntryPath
    name: str
    entry: ShelfEntry | None
    differences: tuple[Difference, ...]
    others: tuple[ShelfEntry, ...]


def kind_and_name(path: EntryPath, data: Any) -> tuple[ShelfKind, str]:
    """What a part of a job file is on the shelf, and its name there.

    Raises:
        InvalidValueError: the path names no such part.
    """
    place = next((place for place in cutter_places(data) if place.path == path), None)
    if place is not None:
        return ShelfKind.CUTTER, place.name
    if path == ("machine",):
        return ShelfKind.MACHINE, str(value_at(data, ("machine", "name")) or "machine")
    if len(path) == 2 and path[0] == "stock":
        return ShelfKind.STOCK, str(path[1])
    raise InvalidValueError(_("This part of a job cannot go on the shelf."))


def beside_shelf(
    shop: Shop, job: JobRecord, path: EntryPath, fields: Iterable[Field], reader: Preferences
) -> OnShelf:
    """A part of the job beside the shelf; `fields` are those that show its entries, of a table its first row's."""
    data = job_text.data_of(job.text)
    kind, name = kind_and_name(path, data)
    entries = shop.shelf.list(kind)
    entry = next((entry for entry in entries if entry.name == name), None)
    differences: tuple[Difference, ...] = ()
    if entry is not None:
        differences = tuple(_differences(path, value_at(data, path), _content(entry), fields, reader))
    taken = {place.name for place in cutter_places(data)} if kind is ShelfKind.CUTTER else {name}
    others = tuple(other for other in entries if other.name not in taken)
    if kind is ShelfKind.STOCK:
        others = ()
    return OnShelf(path, name, entry, differences, others)


def _differences(
    above: EntryPath, own_part: Any, shelf_part: Any, fields: Iterable[Field], reader: Preferences
) -> Iterator[Difference]:
    known = {field.path: field for field in fields}
    own, shelf = (dict(_leaves(_shared(part, above), above, by_row=True)) for part in (own_part, shelf_part))
    for path in {**own, **shelf}:
        if own.get(path) != shelf.get(path):
            no_field = Field(path, ".".join(str(step) for step in path[len(above) :]))
            field = known.get(tuple(0 if isinstance(step, int) else step for step in path), no_field)
            compared = (_compared(part.get(path), field, reader) for part in (own, shelf))
            yield Difference(_label(path, field), *compared)


def _label(path: EntryPath, field: Field) -> str:
    """What an entry is called; in a table of sheets or offcuts with its row."""
    if len(path) > 2 and isinstance(path[-2], int) and path[-3] in ("sheets", "offcuts"):
        words = _("sheet %(number)s, %(what)s") if path[-3] == "sheets" else _("offcut %(number)s, %(what)s")
        return words % {"number": path[-2] + 1, "what": field.label}
    return field.label


def _compared(value: Any, field: Field, reader: Preferences) -> str:
    """A value beside another one, as its field shows it; of a profile only how many points it has."""
    if isinstance(value, list) and len(value) > MANY_VALUES:
        return _("%(count)d values") % {"count": len(value)}
    text = shown(value, field.kind, reader)
    return dict(field.choices).get(text, text) or "–"


def _shared(part: Any, path: EntryPath) -> Any:
    """What a part of a job file, or a shelf entry that is to become it, has in common with other jobs: not its id, nor
    how this job uses it; one that stands under its name has no entry for that."""
    own = {*OWN_ENTRIES, "name"} if path[0] == SEVERAL else set(OWN_ENTRIES)
    return {key: value for key, value in part.items() if key not in own} if isinstance(part, dict) else part


def _for_shelf(data: Any, path: EntryPath, name: str) -> str:
    """The text of a shelf entry for a part of a job file."""
    from drawerwright.job.file.editing import set_value

    part = _shared(value_at(data, path) or {}, path)
    return set_value("", (ENTRY,), {"name": name, **part} if path[0] == SEVERAL else part)


def _content(entry: ShelfEntry) -> Any:
    return job_text.data_of(entry.text).get(ENTRY)


def shared_content(entry: ShelfEntry, path: EntryPath) -> Any:
    """What a shelf entry brings to the part of a job file at `path`."""
    return _shared(_content(entry), path)


def _values(node: Any) -> Values:
    return dict(_leaves(node, ()))


def _leaves(node: Any, path: EntryPath, *, by_row: bool = False) -> Iterator[tuple[EntryPath, Any]]:
    """Every value with its path; a list is one value, but for the rows of a table where they are asked for."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from _leaves(value, (*path, key), by_row=by_row)
    elif by_row and isinstance(node, list) and any(isinstance(row, dict) for row in node):
        for number, row in enumerate(node):
            yield from _leaves(row, (*path, number), by_row=True)
    elif node is not None:
        yield path, node


async def put(request: Request) -> Response:
    """Put a part of the job on the shelf, in place of what stands there under its name."""
    form = await request.form()
    return await asyncio.to_thread(_put, request, read_path(str(form.get("path", ""))) or ())


def _put(request: Request, path: EntryPath) -> Response:

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    kind, name = kind_and_name(path, data)
    text = _for_shelf(data, path, name)
    entry = next((entry for entry in shop.shelf.list(kind) if entry.name == name), None)
    if entry is None:
        shop.shelf.add(kind, name, text)
    else:
        shop.shelf.save(entry.id, text, name=name, base=entry.version)
    return Response(status_code=204, headers={"hx-trigger": '{"job-changed": {}}'})


def teach(shop: Shop, text: str, learnt: Iterable[tuple[Sequence[str | int], str]]) -> None:
    """Write what test cuts of a job taught into the shop's own cutter and machine.

    Args:
        shop: the shop.
        text: the job's text, with what was learnt in it.
        learnt: where in a job file, and what.

    What the shelf does not have yet goes there as the job has it; of the rest only these values change.
    """
    from drawerwright.job.file.editing import set_value

    data = job_text.data_of(text)
    for path, value in learnt:
        depth = 2 if path[0] == SEVERAL else 1
        part, inside = tuple(path[:depth]), path[depth:]
        kind, name = kind_and_name(part, data)
        entry = next((entry for entry in shop.shelf.list(kind) if entry.name == name), None)
        if entry is None:
            shop.shelf.add(kind, name, _for_shelf(data, part, name))
        else:
            taught = set_value(entry.text, (ENTRY, *inside), value)
            shop.shelf.save(entry.id, taught, name=name, base=entry.version)


async def take(request: Request) -> Response:
    """Take a shelf entry over into the job, value by value, so that the job's comments stay."""
    form = await request.form()
    path, entry_id = read_path(str(form.get("path", ""))) or (), str(form.get("entry", ""))
    return await asyncio.to_thread(_take, request, path, whole_number(entry_id) or 0)


def _take(request: Request, path: EntryPath, entry_id: int) -> Response:
    from drawerwright.job.file.cutter_entries import call_cutter
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.renaming import with_own_id

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    kind, name = kind_and_name(path, job_text.data_of(job.text))
    entry = shop.shelf.load(entry_id)
    part = value_at(job_text.data_of(job.text), path)
    own, shelf = _values(_shared(part, path)), _values(shared_content(entry, path))
    text = job.text
    if entry.name != name:  # another thing, and so are its corners
        for gone in OWN_ENTRIES:
            if value_at(part, (gone,)) is not None:
                text = set_value(text, (*path, gone), None)
    for key in {**own, **shelf}:
        if own.get(key) != shelf.get(key):
            text = set_value(text, (*path, *key), shelf.get(key))
    if kind is ShelfKind.STOCK:
        text = with_own_id(text, name)
    elif path[0] == SEVERAL:
        text = call_cutter(text, name, entry.name)
    note = phrase("{name} taken over from the shelf", name=entry.name)
    return save_and_announce(shop, job, text, note)


ROUTES = (
    Route("/jobs/{job_id:int}/shelf/put", put, methods=["POST"]),
    Route("/jobs/{job_id:int}/shelf/take", take, methods=["POST"]),
)
