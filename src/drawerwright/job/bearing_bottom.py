"""The use case `bottom`: how far one bottom sags under a load, straight from its measures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm, millimetres
from drawerwright.basics.loads import show_load
from drawerwright.basics.phrases import phrase, plain
from drawerwright.job.moving_wood import taken_for
from drawerwright.job.plain_data import Data, clean, mm
from drawerwright.strength.bottom_load import CREEP, THINNEST_SPAN, LoadedBottom
from drawerwright.strength.plate import Supports
from drawerwright.strength.sag_limit import USUAL_SAG, SagLimit
from drawerwright.wood.board import board_bending
from drawerwright.wood.movement import USUAL_SAWN, Sawn, sawn_named, source_words
from drawerwright.wood.sourced import least_sure
from drawerwright.wood.species import find_species, others_meant
from drawerwright.wood.thickness import Panel, board_words

TOLD_SPAN_OVER = 10.0
"""A sag of more than the span over this is told without a figure: thin plates are reckoned for small ones (common
practice, no source), and a unit is likely wrong."""

_Kind = TypeVar("_Kind", bound=StrEnum)


@dataclass(frozen=True, slots=True)
class BottomAnswer:
    """A bottom under its load; `name` is its panel or species."""

    name: str
    bottom: LoadedBottom
    others: tuple[str, ...] = ()
    """Species that the name could have meant as well."""

    def __str__(self) -> str:
        return self.text(LengthStyle())

    @property
    def deflection(self) -> Mm:
        """How far it sags at once (mm)."""
        return self.bottom.deflection

    @property
    def limit(self) -> Mm:
        """How far it may sag (mm)."""
        return self.bottom.sag_limit

    @property
    def stress(self) -> float:
        """Its greatest bending stress (N/mm²)."""
        return max(self.bottom.stresses)

    @property
    def ok(self) -> bool:
        """Whether it keeps both limits."""
        return self.bottom.holds

    @property
    def data(self) -> Data:
        """As JSON-ready data: mm, kg, N/mm²."""
        return {**bottom_data(self.bottom), "of": self.name, "could_be": list(self.others)}

    def text(self, style: LengthStyle) -> str:
        """For a person."""
        return "\n".join(self._lines(style))

    def _lines(self, style: LengthStyle) -> Iterator[str]:
        bottom = self.bottom
        yield from self._sag_lines(style)
        yield (
            phrase("It holds.")
            if bottom.holds
            else phrase("It does not hold: use thicker stock, or carry it in the middle.")
        )
        if self.others:
            yield taken_for(self.name, self.others)
        yield phrase("Sources: {sources}.", sources=source_words(bottom.board.sources))
        yield phrase("Calculated for edges resting in their grooves; no drawer was tested.")

    def _sag_lines(self, style: LengthStyle) -> Iterator[str]:
        """How far it sags, and how much of its strength that takes, where figures say anything."""
        bottom = self.bottom
        if bottom.deflection > bottom.span / TOLD_SPAN_OVER:
            yield phrase(
                "{name}, {thickness} thick, under {load}: it breaks, or sags more than a tenth of its span. "
                "Check its thickness and the unit.",
                name=board_words(self.name),
                load=self._load(style),
                thickness=style.show(bottom.thickness, fine=True),
            )
            return
        yield phrase(
            "{name}, {thickness} thick, under {load}: sags {sag}; the limit is {limit}.",
            name=board_words(self.name),
            load=self._load(style),
            thickness=style.show(bottom.thickness, fine=True),
            sag=style.show(bottom.deflection, fine=True),
            limit=style.show(bottom.sag_limit, fine=True),
        )
        if bottom.is_far_past:
            yield phrase("That is far past the limit; plate figures do not hold so far.")
        else:
            says = {"sag": style.show(bottom.deflection_in_years), "times": CREEP}
            yield (
                phrase(
                    "A load that stays for years makes it about {sag} ({times:g} times as much): past the "
                    "limit, which applies to the sag on the first day.",
                    **says,
                )
                if bottom.deflection <= bottom.sag_limit < bottom.deflection_in_years
                else phrase(
                    "A load that stays for years makes it about {sag} ({times:g} times as much).", **says
                )
            )
        yield phrase(
            "Bending uses {share:.0f} %; 100 % stands for half its strength in a test, since the load stays.",
            share=100 * bottom.stress_share,
        )
        if bottom.is_bowl:
            yield phrase("It sags further than half its thickness and stiffens there: the true sag is less.")

    def _load(self, style: LengthStyle) -> str:
        """The load as it was understood."""
        spread, point = (show_load(each, style) for each in (self.bottom.load, self.bottom.point))
        if not self.bottom.point:
            return spread
        return phrase("{spread} spread over it and {point} on one place", spread=spread, point=point)


def bottom_data(bottom: LoadedBottom) -> Data:
    """A bottom under its load as JSON-ready data: mm, N/mm², N/mm for the force on its edges."""
    along, across = bottom.stresses
    return {
        "deflection": clean(bottom.deflection),
        "stress": clean(max(along, across)),
        "limit": mm(bottom.sag_limit),
        "ok": bottom.holds,
        "supports": str(bottom.supports),
        "deflection_in_years": clean(bottom.deflection_in_years),
        "stress_along": clean(along),
        "stress_across": clean(across),
        "stress_share": round(bottom.stress_share, 4),
        "edge_force": clean(bottom.edge_force),
        "sources": [plain(source.words) for source in bottom.board.sources],
        "provenance": str(least_sure(*bottom.board.sources)),
    }


def bear(
    width: Mm,
    length: Mm,
    thickness: Mm,
    panel: Panel | str,
    load: float,
    *,
    point: float = 0.0,
    supports: Supports | str | None = None,
    species: str | None = None,
    cut: Sawn | str | None = None,
    lengthwise: bool = False,
    limit: SagLimit | None = None,
) -> BottomAnswer:
    """How far a bottom sags, and whether it holds.

    Args:
        width: from side to side, between the edges that carry it (mm).
        length: from front to back (mm).
        thickness: mm.
        panel: what it is of.
        load: spread over it (kg).
        point: standing on one place as well, the worst one (kg).
        supports: on how many edges it lies; on four where it is not given.
        species: of solid wood.
        cut: how solid wood lies in the log.
        lengthwise: whether the grain of its face runs from front to back.
        limit: how far it may sag; the usual limit where it is not given.

    Raises:
        InvalidValueError: a figure cannot be, or nothing is known of the board.
    """
    kind = panel_named(panel)
    sawn = USUAL_SAWN if cut is None else sawn_named(str(cut))
    if kind is Panel.SOLID and species is None:
        raise InvalidValueError(phrase("solid wood bends by its species: name it"))
    if kind is not Panel.SOLID and species is not None:
        raise InvalidValueError(phrase("a species is that of solid wood, not of {panel}", panel=str(kind)))
    known = None if species is None else find_species(species)
    carried = Supports.FOUR if supports is None else supports_named(supports)
    board = board_bending(kind, thickness, known, sawn)
    if board is None:
        raise InvalidValueError(
            phrase("how far a panel of kind {kind} bends is not known: name its kind", kind=str(kind))
            if known is None
            else phrase(
                "how {name} bends is not known: take the figures of a wood that is as heavy and as hard",
                name=known.name,
            )
        )
    loaded = LoadedBottom(
        width, length, thickness, board, load, point, carried, lengthwise, limit or USUAL_SAG
    )
    if loaded.span < THINNEST_SPAN * thickness:
        raise InvalidValueError(
            phrase(
                "a bottom {thickness} thick over a span of {span} is a block, not a plate: its span must be {times:g} "
                "times its thickness or more, here {least} (common practice, no source); check both and their unit",
                thickness=millimetres(thickness, "g"),
                span=millimetres(loaded.span, "g"),
                times=THINNEST_SPAN,
                least=millimetres(THINNEST_SPAN * thickness, "g"),
            ),
            entry=("thickness",),
        )
    if species is None or known is None:
        return BottomAnswer(str(kind), loaded)
    return BottomAnswer(known.name, loaded, others_meant(species))


def sag_limit(span_over: float | None = None, most: Mm | None = None) -> SagLimit:
    """How far a bottom may sag; what is not given is as usual.

    Raises:
        InvalidValueError: a figure is not more than 0.
    """
    for given in (span_over, most):
        if given is not None and not given > 0:
            raise InvalidValueError(phrase("a limit must be more than 0, not {given:g}", given=given))
    usual = SagLimit()
    return SagLimit(usual.span_over if span_over is None else span_over, usual.most if most is None else most)


def panel_named(given: str) -> Panel:
    """A kind of panel by its name.

    Raises:
        InvalidValueError: there is none of this name.
    """
    return _one_of(Panel, given, "panel")


def supports_named(given: str) -> Supports:
    """On how many edges a bottom lies, by its name.

    Raises:
        InvalidValueError: there is none of this name.
    """
    return _one_of(Supports, given, "supports")


def _one_of(kinds: type[_Kind], given: str, entry: str) -> _Kind:
    """A member of an enumeration by its name.

    Raises:
        InvalidValueError: there is none of this name.
    """
    try:
        return kinds(given)
    except ValueError:
        raise InvalidValueError(
            phrase("there is no {given!r}; choose from {names}", given=str(given), names=", ".join(kinds)),
            entry=(entry,),
        ) from None
