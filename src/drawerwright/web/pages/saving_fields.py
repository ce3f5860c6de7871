"""Saving one field: everything typed is saved at once, and nobody's change is overwritten unseen."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeAlias

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.cutter_places import SEVERAL
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.store.records import ConflictError, JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.drawer_fields import columns_of
from drawerwright.web.fields.field import KINDS, Kind, cells_of, name_of, read_path, shown
from drawerwright.web.fields.field_words import called, in_words
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.fields.row_places import place_now
from drawerwright.web.fields.typed_changes import change, presents
from drawerwright.web.pages.parts.job_frame import (
    CHANGES_TOO_FAST,
    announced,
    job_id_of,
    saved,
    seen_text,
    version_headers,
)
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

LONGEST_TYPED = 2000
MOST_ROWS = 200
UNSEEN = "\0"
"""Stands for what a cell says in a row that the page does not have yet; no entry says this."""
Grow: TypeAlias = Callable[[str], str]
TRIES = 5
"""How often a save is tried again when somebody else saves another entry in the same moment."""


async def save(request: Request) -> Response:
    """Set one entry. The form names its path, the revision that was seen, and what is typed now."""
    form = await request.form()
    path = read_path(str(form.get("path", "")))
    kind = KINDS.get(str(form.get("kind", "")))
    if path is None or kind is None:
        raise InvalidValueError(_("A job file has no such field."))
    typed = str(form.get("value", ""))[:LONGEST_TYPED]
    return await asyncio.to_thread(_save, request, path, kind, Seen.told(form), typed)


def _save(request: Request, path: EntryPath, kind: Kind, told: Seen, typed: str) -> Response:
    shop = shop_of(request)
    drawn, seen = told.texts(shop, shop.jobs.load(job_id_of(request)))
    place = place_now(path, job_text.data_of(drawn), job_text.data_of(seen))
    was = "" if place is None else presents(seen, place, kind, request.state.reader)
    return _saved(
        request, [Wish(path if place is None else place, kind, was, typed, is_gone=place is None)], seen, None
    )


@dataclass(frozen=True, slots=True)
class Seen:
    """Which revisions a page tells with a change, as it writes them.

    `drawn` is the one whose rows its fields are numbered by. `base` is the one that its reader knows: later than
    `drawn` where the page made changes since and has not been drawn anew yet.
    """

    drawn: str
    base: str

    @classmethod
    def told(cls, form: FormData) -> Seen:
        """What a form says; a page that made no change of its own tells only one."""
        base = str(form.get("base", ""))
        return cls(str(form.get("drawn", base)), base)

    def texts(self, shop: Shop, job: JobRecord) -> tuple[str, str]:
        """The texts of both."""
        return seen_text(shop, job, self.drawn), seen_text(shop, job, self.base)


@dataclass(frozen=True, slots=True)
class Wish:
    """What somebody wants an entry to say, what it said when they began to type, and where it stood then."""

    path: EntryPath
    kind: Kind
    was: str
    typed: str
    present: str = ""
    """What it says now, where that is something else than it was."""
    is_gone: bool = False
    """Whether the row that it belongs to was taken out."""

    @property
    def entry(self) -> str:
        """The entry as the job-file reader names it."""
        return name_of(self.path)


def _saved(request: Request, wishes: Sequence[Wish], seen: str, grow: Grow | None) -> Response:
    """Save what can be saved; say of what others changed meanwhile what it says now, and let the reader choose."""
    shop = shop_of(request)
    reader = request.state.reader
    for _try in range(TRIES):
        job = shop.jobs.load(job_id_of(request))
        placed = [_placed(wish, seen, job.text) for wish in wishes]
        text = job.text if grow is None else grow(job.text)
        conflicts = []
        dropped: list[str] = []
        for wish in placed:
            if wish.is_gone:
                continue
            present = presents(text, wish.path, wish.kind, reader)
            if present == wish.typed.strip():
                continue
            if present != wish.was:
                conflicts.append(replace(wish, present=present))
            else:
                before, text = text, change(text, wish.path, wish.kind, wish.typed, reader)
                dropped += _dropped(before, text, wish.path)
        try:
            kept = job if text == job.text else saved(shop, job, text, _note(placed))
        except ConflictError:
            continue
        told = announced(shop, job, kept)
        gone = [wish for wish in placed if wish.is_gone]
        if not conflicts and not gone:
            if not dropped:
                return told
            headers = version_headers(job, kept)
            return shop.renderer.page(
                request, "dropped.html", {"job": kept, "dropped": dropped}, headers=headers
            )
        now, then = job_text.data_of(kept.text), job_text.data_of(seen)
        context = {
            "job": kept,
            "conflicts": [(wish, _said(wish, now)) for wish in conflicts],
            "gone": [_said(wish, then) for wish in gone],
        }
        headers = version_headers(job, kept)
        return shop.renderer.page(request, "conflict.html", context, status=409, headers=headers)
    raise InvalidValueError(CHANGES_TOO_FAST)


def _dropped(before: str, after: str, path: EntryPath) -> list[str]:
    """What a change took out beside the entry that was typed, as its page calls it."""
    from drawerwright.job.file.kind_changes import is_kind, kind_drops

    if not is_kind(path):
        return []
    data = job_text.data_of(before)
    return [called(entry, data) for entry in kind_drops(data, path, value_at(job_text.data_of(after), path))]


def _placed(wish: Wish, seen: str, text: str) -> Wish:
    """The wish with its entry where it stands in `text`."""
    place = None if wish.is_gone else place_now(wish.path, job_text.data_of(seen), job_text.data_of(text))
    return replace(wish, is_gone=True) if place is None else replace(wish, path=place)


@dataclass(frozen=True, slots=True)
class Said:
    """A wish in the words of the page: the entry, what it says now, what was typed."""

    entry: str
    present: str
    typed: str


def _said(wish: Wish, data: Any) -> Said:
    present, typed = (in_words(shown, wish.path, data) for shown in (wish.present, wish.typed))
    return Said(called(wish.path, data), present, typed)


def _note(wishes: Sequence[Wish]) -> str:
    return wishes[0].entry[:200] if len(wishes) == 1 else phrase("pasted cells")


async def add_item(request: Request) -> Response:
    """Put a new item at the end of a list, made like the last one where there is one."""
    form = await request.form()
    path = read_path(str(form.get("path", "")))
    if path is None or not _is_list(path):
        raise InvalidValueError(_("You cannot add to this list here."))
    return await asyncio.to_thread(_change_list, request, path, Seen.told(form), None)


async def remove_item(request: Request) -> Response:
    """Take an item out of a list, or a stock or one of several cutters out of the job. Undo brings it back."""
    form = await request.form()
    path = read_path(str(form.get("path", "")))
    if path is None or not (
        _is_list(path[:-1]) or (path[0] in ("stock", "cutters", "runners") and len(path) == 2)
    ):
        raise InvalidValueError(_("You cannot remove this entry here."))
    if path[0] in ("stock", "runners") and len(path) == 2:
        instead = form.get("instead")
        named = None if instead is None else str(instead)[:LONGEST_TYPED]
        return await asyncio.to_thread(_take_out, request, path, Seen.told(form), named)
    return await asyncio.to_thread(_change_list, request, path[:-1], Seen.told(form), path[-1])


def _take_out(request: Request, path: EntryPath, told: Seen, instead: str | None) -> Response:
    """Take out a stock or a sheet of runners; where it is in use, ask what takes its place."""
    from drawerwright.job.taking_out import in_use, taken_out

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    drawn, seen = (job_text.data_of(text) for text in told.texts(shop, job))
    if place_now(path, drawn, seen) is None or value_at(data, path) != value_at(seen, path):
        return _list_changed(request, job)
    used = in_use(data, path)
    if used.places and instead is None and (used.others or path[0] == "runners"):
        return shop.renderer.page(request, "instead.html", {"job": job, "path": path, "used": used})
    return announced(shop, job, saved(shop, job, taken_out(job.text, path, instead), name_of(path)))


def _is_list(path: EntryPath) -> bool:
    """Whether pages may add to and take from the list at a path."""
    if path in (("banks",), ("boxes",), ("openings",)) or path[2:] == ("runner", "lengths"):
        return True
    lists = {"stock": ("sheets", "offcuts"), "runners": ("lengths",)}
    return len(path) == 3 and path[2] in lists.get(str(path[0]), ())


def _change_list(request: Request, path: EntryPath, told: Seen, remove: str | int | None) -> Response:
    from drawerwright.job.drawer_renaming import with_drawers_followed
    from drawerwright.job.file.cutter_entries import remove_cutter
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.file.fresh_entries import next_item

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    data = job_text.data_of(job.text)
    drawn, seen = (job_text.data_of(text) for text in told.texts(shop, job))
    items = rows_at(data, path)
    place = (*path, len(items)) if remove is None else place_now((*path, remove), drawn, seen)
    if place is None or (value_at(data, path) or []) != (value_at(seen, path) or []):
        return _list_changed(request, job)
    if remove is not None and path == (SEVERAL,):
        text = remove_cutter(job.text, str(remove))
    else:
        text = set_value(
            job.text,
            place,
            None if remove is not None else next_item(path[-1], items, data, request.state.reader.say),
        )
        if remove is not None and path in (("banks",), ("boxes",)):
            text = with_drawers_followed(job.text, text, place)
    return announced(shop, job, saved(shop, job, text, name_of(place)))


def _list_changed(request: Request, job: JobRecord) -> Response:
    context = {"job": job, "conflicts": (), "gone": ()}
    return shop_of(request).renderer.page(request, "conflict.html", context, status=409)


async def paste(request: Request) -> Response:
    """Cells pasted from a spreadsheet: tabs between columns, line ends between rows."""
    form = await request.form()
    text = str(form.get("text", ""))
    start_row, start_column = (whole_number(str(form.get(name, ""))) for name in ("row", "column"))
    if start_row is None or start_column is None or form.get("list") not in ("banks", "boxes", "openings"):
        raise InvalidValueError(_("You cannot paste these cells here."))
    rows = cells_of(text)[:MOST_ROWS]
    return await asyncio.to_thread(
        _paste,
        request,
        str(form["list"]),
        (start_row, start_column),
        rows,
        Seen.told(form),
    )


def _paste(
    request: Request, name: str, start: tuple[int, int], rows: list[list[str]], told: Seen
) -> Response:
    def grow(text: str) -> str:
        return _with_rows(text, name, start[0] + len(rows), request.state.reader.say)

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    drawn, seen_now = told.texts(shop, job)
    seen, now = job_text.data_of(seen_now), job_text.data_of(job.text)
    seen_rows, rows_now = (len(rows_at(known, (name,))) for known in (seen, now))
    if start[0] > seen_rows:
        raise InvalidValueError(_("You cannot paste these cells here."))
    for row in range(start[0], min(seen_rows, start[0] + len(rows))):
        if place_now((name, row), job_text.data_of(drawn), now) != (name, row):
            return _list_changed(request, job)
    data = job_text.data_of(grow(job.text))
    reader = request.state.reader
    wishes = []
    for place, cells in enumerate(rows):
        row = start[0] + place
        item = value_at(data, (name, row))
        columns = columns_of(name, item)
        for number, cell in enumerate(cells[: len(columns) - start[1]]):
            column = columns[start[1] + number]
            typed = column.key_of(cell)
            path = (name, row, *column.path)
            known = seen if row < seen_rows else data
            before = (
                UNSEEN if seen_rows <= row < rows_now else shown(value_at(known, path), column.kind, reader)
            )
            wishes.append(Wish(path, column.kind, before, typed[:LONGEST_TYPED]))
    return _saved(request, wishes, seen_now, grow)


def _with_rows(text: str, name: str, count: int, say: Callable[[str], str]) -> str:
    """The text with as many banks or boxes as the pasted cells need."""
    from drawerwright.job.file.editing import set_value
    from drawerwright.job.file.fresh_entries import next_item

    data = job_text.data_of(text)
    items = list(rows_at(data, (name,)))
    while len(items) < count:
        items.append(next_item(name, items, data, say))
        text = set_value(text, (name, len(items) - 1), items[-1])
    return text


ROUTES = (
    Route("/jobs/{job_id:int}/entry", save, methods=["POST"]),
    Route("/jobs/{job_id:int}/items/add", add_item, methods=["POST"]),
    Route("/jobs/{job_id:int}/items/remove", remove_item, methods=["POST"]),
    Route("/jobs/{job_id:int}/paste", paste, methods=["POST"]),
)
