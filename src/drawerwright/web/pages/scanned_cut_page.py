"""Readings of a test cut from pictures of its sawn pieces: they fill the form, and whoever sends it keeps them."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import TYPE_CHECKING

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError, MissingLibraryError
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.entry_types import Given
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.pages.parts.changes_by_hand import changes_by_hand
from drawerwright.web.pages.parts.job_frame import job_id_of
from drawerwright.web.pages.parts.kept_pictures import KEPT, numbers_in, remove, show
from drawerwright.web.pages.test_cut_page import bench_at, cut_page
from drawerwright.web.reader.rendering import set_reader_of_form
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.job.scan.scanned_test_cut import LoadedPicture
    from drawerwright.job.scan.scanner_scale import ScannerScale

FINEST_DOUBT: Mm = 0.01
"""As fine as calipers show."""
PICTURES = "pictures"
"""Under which name a fault of the pictures stands."""
DPI, SLICE, SCANNER = "dpi", "slice_height", "scanner"
PIECES = {"flat_picture": "flat", "upright_picture": "upright"}
"""The fields of the pictures, and of the thicknesses that check their scales."""


async def read(request: Request) -> Response:
    """The page of test cuts with its form filled by what the pictures say; nothing is kept yet."""
    async with request.form(max_files=2) as form:
        set_reader_of_form(request, form)
        typed = {name: value[:400] for name, value in form.items() if isinstance(value, str)}
        loaded = {
            name: (upload.filename or name, await upload.read())
            for name in PIECES
            if isinstance(upload := form.get(name), UploadFile) and upload.size
        }
    return await asyncio.to_thread(_read, request, typed, loaded)


def _read(request: Request, typed: Mapping[str, str], loaded: Mapping[str, tuple[str, bytes]]) -> Response:
    from drawerwright.job.scan.picture_files import TakenWith
    from drawerwright.job.scan.scanned_test_cut import scanned_test_cut
    from drawerwright.job.test_cuts.bench import Bench
    from drawerwright.job.test_cuts.kept_cuts import HEIGHT

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    corner = typed.get("corner", "")
    bench = bench_at(shop, job, corner)
    if not isinstance(bench, Bench):
        raise HTTPException(422, _("This corner's pictures cannot be read."))
    form = LengthsForm(typed, request.state.reader)
    form.read([*PIECES.values(), HEIGHT, SLICE], over_zero=True, with_doubt=True)
    loaded = {**shop.pictures.sources(job.id, numbers_in(typed)), **loaded}
    edits = {name: changes_by_hand(typed, name) for name in PIECES}
    try:
        found = scanned_test_cut(
            _pictures(form, loaded, edits),
            kind=bench.trial.cutter.kind,
            taken=TakenWith(
                _dpi(typed.get(DPI, "")), _slice_height(form), _scanner(shop, typed.get(SCANNER, ""))
            ),
            bit_height=_measured(form, HEIGHT) if typed.get("by_block") else None,
        )
    except (InvalidValueError, MissingLibraryError) as error:
        return cut_page(request, job, corner, typed, {PICTURES: str(error)}, 422)
    style: LengthStyle = request.state.reader.lengths
    fields = {rule.name: rule.field for rule in (*bench.rules, *bench.of_sections)}
    filled = {fields[name]: _typed(given, style) for name, given in found.readings.items() if name in fields}
    pieces = [name for name in PIECES if name in loaded]
    numbers = [
        shop.pictures.add(job.id, name, content, piece, loaded[piece][1])
        for (name, content), piece in zip(found.pictures, pieces, strict=True)
    ]
    filled |= {f"{name}_edits": text for name, text in edits.items()}
    filled[KEPT] = " ".join(map(str, numbers))
    return cut_page(request, job, corner, {**typed, **filled}, {}, 200, scanned=found)


def _pictures(
    form: LengthsForm, loaded: Mapping[str, tuple[str, bytes]], edits: Mapping[str, str]
) -> list[LoadedPicture]:
    from drawerwright.job.scan.scanned_test_cut import LoadedPicture

    if not loaded:
        raise InvalidValueError(phrase("choose a picture of the flat piece, of the upright one, or both"))
    return [
        LoadedPicture(
            *loaded[name],
            is_flat=piece == "flat",
            thickness=_measured(form, piece),
            by_hand=edits[name],
        )
        for name, piece in PIECES.items()
        if name in loaded
    ]


def _measured(form: LengthsForm, name: str) -> Estimate | None:
    """A length by caliper; None where it is not given or cannot be read, which its own field says when it is sent."""
    from drawerwright.job.test_cuts.cut_entries import Instruments

    return Instruments().measured(form.given(name)) if name in form.values else None


def _slice_height(form: LengthsForm) -> Estimate | None:
    if SLICE not in form.values:
        return None
    given = form.given(SLICE)
    return Estimate.given(given.value, given.uncertainty, usual=usual.SLICE_READING)


def _scanner(shop: Shop, name: str) -> ScannerScale | None:
    from drawerwright.job.scan.scanner_calibration import scanner_on

    return scanner_on(shop.shelf, name) if name else None


def _dpi(typed: str) -> float | None:
    if not typed.strip():
        return None
    try:
        return float(typed.replace(",", "."))
    except ValueError:
        raise InvalidValueError(
            phrase("dots per inch are a number such as 300, not {given!r}", given=typed)
        ) from None


def _typed(given: Given, style: LengthStyle) -> str:
    """A reading as its field holds it, with a doubt that is never shown as nothing."""
    doubt = style.show_doubt(max(given.uncertainty or 0.0, FINEST_DOUBT), with_unit=False)
    return f"{style.typed(given.value)} ± {doubt}"


def sheet(request: Request) -> Response:
    """The sheet that slices are photographed on, for the reader's paper and language."""
    from drawerwright.job.scan.sheet_paper import slice_sheet_pdf

    style: LengthStyle = request.state.reader.lengths
    return Response(
        slice_sheet_pdf(style),
        media_type="application/pdf",
        headers={"content-disposition": 'inline; filename="slice-sheet.pdf"'},
    )


ROUTES = (
    Route("/jobs/{job_id:int}/trial/scan", read, methods=["POST"]),
    Route("/jobs/{job_id:int}/trial/pictures/{number:int}", show),
    Route("/jobs/{job_id:int}/trial/pictures/{number:int}/remove", remove, methods=["POST"]),
    Route("/slice-sheet.pdf", sheet),
)
