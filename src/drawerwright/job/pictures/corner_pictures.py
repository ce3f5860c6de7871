"""A corner drawn: as it should be, as it seats, at its true size, and as the eye finds it."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.corner_section import FULL_SIZE, draw_corner
from drawerwright.drawings.scene import (
    Extent,
    Fill,
    Item,
    Layer,
    Point,
    Scene,
    Text,
    extent,
    framed,
)
from drawerwright.drawings.seating import State, draw_both_states, draw_seating
from drawerwright.drawings.test_pieces import draw_test_pieces, reading_letters
from drawerwright.job.pictures.drawing import Drawing
from drawerwright.job.pictures.on_screen import LETTERING, at_lettering_size, on_screen
from drawerwright.job.tried_corner import FIRST_MEASURES, SLIDER_REACH, TriedCorner, try_measures
from drawerwright.joints.corner import SEEN as SEEN_GAP
from drawerwright.joints.fit import Fit, seat_setting
from drawerwright.joints.joint import MadeCorner, joint_of
from drawerwright.joints.plain_joint import PlainCorner
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.setting import CornerSetting

ENLARGED = 3.0
SCALES = (3.0, 2.7, 2.4, 2.2, 2.0, 1.8, 1.6, 1.4, 1.2, 1.0)
"""Of the drawings on a screen, the largest first that leaves room for all of them."""
STATES: tuple[State, ...] = ("pressed", "pulled")
ROOM = 420.0
"""Pixels for one drawing where nobody says how many there are."""
SEEN = ("play", "tight", "proud")
"""What the eye may find of a corner that is put together."""
SEEN_MISFIT: Mm = 0.35
"""How far off the pictures of what may be seen are drawn: enough to tell them apart."""
SEEN_SCALE = 2.0
CHOICE_SCALE = 0.7
"""Of the drawings that a corner is chosen by: two thick pieces, and still small enough to stand beside each other."""
PARTING_SCALE = 2.0
PIECES_SCALE = 2.6
"""Of the two test pieces beside each other."""
FIRST_LIP: Mm = 7.0
"""Of the corner that somebody sees first: its front stands out over the side, as most do."""
FIRST_NAME_SIZE: Mm = 4.6


def drawn_corner(setting: CornerSetting) -> Drawing:
    """A corner at its settings, with its dimensions, by itself."""
    return Drawing.of(draw_corner(setting))


def drawn_seating(fit: Fit) -> Drawing:
    """A corner as it seats, pressed home and pulled, by itself."""
    return Drawing.of(draw_both_states(fit))


@dataclass(frozen=True, slots=True)
class CornerPictures:
    """A corner as it lies and as it should be, at one scale and one lettering; without play it lies one way only."""

    pressed: str
    pulled: str
    wanted: str


def corner_pictures(tried: TriedCorner, style: LengthStyle, room: float = ROOM) -> CornerPictures:
    """The corner as tried and as wanted, each as large as `room` (pixels) lets the widest be."""
    wanted, scale, least = _wanted_in(tried.right, style, room)
    fit = tried.fit
    pulled = _seated(fit, "pulled", scale, style, least) if fit.play > SEEN_GAP else None
    return CornerPictures(
        at_lettering_size(_seated(fit, "pressed", scale, style, least)),
        "" if pulled is None else at_lettering_size(pulled),
        wanted,
    )


def _seated(fit: Fit, state: State, scale: float, style: LengthStyle, least: Extent | None = None) -> Scene:
    return draw_seating(fit, state=state, scale=scale, beside_figures=True, style=style, least=least)


@lru_cache(maxsize=16)
def _wanted_in(right: CornerSetting, style: LengthStyle, room: float) -> tuple[str, float, Extent]:
    """The corner as it should be, the scale of all, and the room that a drawing beside it takes at whatever bit height
    its slider reaches: they stay the same while other settings are tried."""
    fits = _fits_in_reach(right)
    for scale in SCALES:
        scene = draw_corner(right, scale=scale, beside_figures=True, style=style)
        seated = [_seated(fits[0], state, scale, style) for state in STATES]
        if (max(each.width for each in (scene, *seated)) + SLIDER_REACH * scale) * LETTERING <= room:
            break
    seated += [_seated(fit, state, scale, style) for fit in fits[1:] for state in STATES]
    left, bottom, right_end, top = map(list, zip(*(extent(each.items) for each in seated), strict=True))
    return at_lettering_size(scene), scale, (min(left), min(bottom), max(right_end), max(top))


def _fits_in_reach(right: CornerSetting) -> list[Fit]:
    """How a corner seats as it should be, and with the bit as low and as high as its slider goes, where that cuts."""
    fits = [seat_setting(right)]
    for reach in (-SLIDER_REACH, SLIDER_REACH):
        with suppress(InvalidValueError):
            fits.append(seat_setting(replace(right, bit_height=right.bit_height + reach)))
    return fits


@lru_cache(maxsize=16)
def corner_as_wanted(right: CornerSetting, style: LengthStyle) -> str:
    """The corner as it should be, by itself."""
    return on_screen(draw_corner(right, scale=ENLARGED, style=style))


def corner_made(made: MadeCorner, style: LengthStyle) -> str:
    """A corner that no cutter makes, with its dimensions."""
    return on_screen(draw_corner(made, scale=PARTING_SCALE, style=style))


def corners_to_choose(made: tuple[CornerSetting | PlainCorner, ...], style: LengthStyle) -> list[str]:
    """Small drawings of several corners at one scale, by which they are told apart."""
    return [_to_choose(each, style) for each in made]


@lru_cache(maxsize=64)
def _to_choose(made: CornerSetting | PlainCorner, style: LengthStyle) -> str:
    if isinstance(made, CornerSetting):
        seated = draw_seating(seat_setting(made), scale=CHOICE_SCALE, style=style)
    else:
        seated = draw_corner(made, scale=CHOICE_SCALE, annotated=False, style=style)
    wood = [item for item in seated.items if item.layer in (Layer.WOOD, Layer.GRAIN)]
    return on_screen(framed(seated.title, wood, scale=CHOICE_SCALE))


def corner_parting(setting: CornerSetting, parting: Sequence[Point], style: LengthStyle) -> str:
    """The corner with the line along which it comes apart first."""
    return on_screen(draw_corner(setting, scale=PARTING_SCALE, annotated=False, style=style, parting=parting))


def corner_at_true_size(tried: TriedCorner, style: LengthStyle) -> str:
    """The corner at the settings that are tried, 1:1, to print and lay the wood on."""
    return on_screen(draw_corner(tried.setting, scale=FULL_SIZE, annotated=False, style=style))


def corner_of_a_drawer(style: LengthStyle) -> str:
    """Front and side of a drawer as they hold each other: what it is all about, for whoever comes here first."""
    corner = try_measures(replace(FIRST_MEASURES, lip=FIRST_LIP))
    made = replace(corner.right, bit_height=corner.right.tight_bit_height)
    scene = draw_seating(seat_setting(made), scale=ENLARGED, style=style)
    wood = _without_words(scene.items)
    left, low, right, high = extent(wood)
    over_side = (made.lip + made.corner.upright_thickness / 2) * ENLARGED
    along_front = high - made.corner.flat_thickness * ENLARGED / 2
    places = (
        ((right - 0.18 * (right - left), along_front), phrase("front"), Fill.WOOD),
        ((over_side, low + 0.22 * (high - low)), phrase("side"), Fill.WOOD_BEHIND),
    )
    names = [
        Text(at, style.say(name), FIRST_NAME_SIZE, "middle", bold=True, halo=ground)
        for at, name, ground in places
    ]
    title = style.say(phrase("Front and side of a drawer in section"))
    return on_screen(framed(title, [*wood, *names], scale=ENLARGED))


def corner_to_explain(style: LengthStyle, *, with_readings: bool = False) -> list[str]:
    """A corner with the names of its places; or its two test pieces with the letters of the readings."""
    right = try_measures(replace(FIRST_MEASURES, lip=FIRST_LIP)).right
    return test_piece_pictures(right, style) if with_readings else [corner_as_wanted(right, style)]


def corner_as_seen(setting: CornerSetting, style: LengthStyle) -> dict[str, str]:
    """The corner as it looks with play, tight, and standing proud, by the names of `SEEN`.

    All show the same stretch of wood, so that they have one scale in whatever width.
    Nothing of a corner without play to choose: its pieces look alike whatever the height.
    """
    if setting.play is None:
        return {}
    scenes: dict[str, Scene] = {}
    for name, off in zip(SEEN, (-SEEN_MISFIT, 0.0, SEEN_MISFIT), strict=True):
        fit = seat_setting(replace(setting, bit_height=setting.tight_bit_height + off))
        scene = draw_seating(
            fit, state="pulled" if name == "play" else "pressed", scale=SEEN_SCALE, style=style
        )
        scenes[name] = framed(
            scene.title, _without_words(scene.items), scale=SEEN_SCALE, description=scene.description
        )
    left, low = (min(getattr(scene, side) for scene in scenes.values()) for side in ("left", "bottom"))
    right, top = (max(getattr(scene, side) for scene in scenes.values()) for side in ("right", "top"))
    frame = {"left": left, "bottom": low, "width": right - left, "height": top - low}
    return {name: on_screen(replace(scene, **frame)) for name, scene in scenes.items()}


def _without_words(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """The wood, its gaps and contacts; figures and leaders would be illegible at this size."""
    shown = (Layer.WOOD, Layer.GRAIN, Layer.GAP, Layer.CONTACT)
    return tuple(item for item in items if item.layer in shown and not isinstance(item, Text))


def test_piece_pictures(setting: CornerSetting, style: LengthStyle) -> list[str]:
    """Where the calipers are held on the two test pieces, with what they read where all is as wanted: decimals."""
    style = replace(style, unit=style.typed_unit)
    return [
        at_lettering_size(scene)
        for scene in draw_test_pieces(setting, scale=PIECES_SCALE, style=style).values()
    ]


def letters_on_test_pieces(setting: CornerSetting) -> dict[ReadingKind, str]:
    """The letters that the readings have in the pictures of the test pieces."""
    return reading_letters(joint_of(setting.cutter))
