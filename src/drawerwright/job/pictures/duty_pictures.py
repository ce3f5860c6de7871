"""What drawers carry and how their wood moves, for a screen: alike drawers together, a picture of the bottom first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from drawerwright.basics.lengths import LengthStyle, millimetres
from drawerwright.basics.loads import WrittenLoad
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.seasons import YearsMovement, moisture_words
from drawerwright.drawings.sag_picture import draw_sag
from drawerwright.job.papers.duty_tables import moving_parts
from drawerwright.job.pictures.on_screen import on_screen
from drawerwright.job.planning.draft import JobDraft
from drawerwright.strength.bottom_load import LoadedBottom
from drawerwright.strength.drawer_load import DrawerLoad
from drawerwright.wood.movement import source_words

REMEMBERED = 32
"""Pictures that are kept while other drawers are changed."""
DIGITS = 9
"""Decimals of mm and kg in which alike drawers agree: a carcase in inches parts into openings that differ in the last
bit. So fine that no size in inches or mm lies where rounding may go either way."""


@dataclass(frozen=True, slots=True)
class CarriedDrawers:
    """Alike drawers: their names, what they weigh, how far that moves which moves most (empty where nothing does or
    nothing is known), the picture of their bottom (empty where nothing is known of it),
    what moves, and from what to what its moisture goes. `sources` says where the figures are from."""

    names: str
    weights: str
    moves_most: str
    picture: str
    moves: tuple[str, ...]
    moisture: str
    sources: str


def carried_drawers(draft: JobDraft, style: LengthStyle) -> tuple[CarriedDrawers, ...]:
    """Every kind of drawer of which a load is stated or that has solid parts, in the order of the job."""
    alike: dict[tuple[object, ...], list[str]] = {}
    made: dict[tuple[object, ...], DrawerLoad] = {}
    for drawer in draft.assembled:
        load = DrawerLoad(drawer)
        sizes = tuple(
            (part.kind, part.stock.key, round(part.length, DIGITS), round(part.width, DIGITS))
            for part in drawer.parts
        )
        if load.contents is not None or moving_parts(drawer):
            contents = None if load.contents is None else round(load.contents, DIGITS)
            key = (sizes, contents, drawer.box.duty)
            alike.setdefault(key, []).append(drawer.box.name)
            made.setdefault(key, load)
    return tuple(_carried(names, made[key], draft, style) for key, names in alike.items())


def _carried(names: list[str], load: DrawerLoad, draft: JobDraft, style: LengthStyle) -> CarriedDrawers:
    bottom = load.bottom(draft.job.sag_limit)
    moving = moving_parts(load.drawer)
    if load.full is None:
        weights = phrase("{empty} empty", empty=WrittenLoad(load.empty))
    else:
        weights = phrase(
            "{empty} empty, {full} with what lies in it",
            empty=WrittenLoad(load.empty),
            full=WrittenLoad(load.full),
        )
    sources = [] if bottom is None else list(bottom.board.sources)
    sources += [source for _kind, moved in moving for source in moved.sources]
    return CarriedDrawers(
        names_in_row(names),
        style.say(weights),
        style.say(_moves_most([moved for _kind, moved in moving])) if moving else "",
        "" if bottom is None else _sagging(bottom, names_in_row(names), style),
        tuple(style.say(_moves(kind, moved)) for kind, moved in moving),
        "; ".join(
            dict.fromkeys(
                style.say(joined([load.drawer.box.duty.climate.words, moisture_words(moved)], ": "))
                for _kind, moved in moving
            )
        ),
        style.say(source_words(tuple(dict.fromkeys(sources)))),
    )


@lru_cache(maxsize=REMEMBERED)
def _sagging(bottom: LoadedBottom, names: str, style: LengthStyle) -> str:
    scene = draw_sag(bottom, style=style)
    return on_screen(replace(scene, title=f"{scene.title}: {names}"))


def _moves_most(moving: list[YearsMovement]) -> Phrase:
    return phrase(
        "wood moves by up to {range} over the year",
        range=millimetres(max(each.range for each in moving), ".1f"),
    )


def _moves(kind: PartKind, moved: YearsMovement) -> str:
    return phrase(
        "{part}, {size} today: {dry} smaller in the dry season, {damp} larger in the damp one",
        part=phrase("sides") if kind is PartKind.LEFT else kind.words,
        size=millimetres(moved.size, ".0f"),
        dry=millimetres(-moved.at_dry, ".1f"),
        damp=millimetres(moved.at_damp, ".1f"),
    )
