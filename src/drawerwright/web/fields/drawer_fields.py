"""The entries of banks and boxes as fields: the columns of their tables, and the panels of what is rarer."""

from __future__ import annotations

from typing import Any, TypeAlias

from drawerwright.job.file.cutter_places import cutter_places
from drawerwright.job.file.entry_paths import members_at, rows_at, value_at
from drawerwright.web.fields.duty_fields import duty_fields
from drawerwright.web.fields.field import Field, Kind
from drawerwright.web.fields.field_plate import TitledFields
from drawerwright.web.fields.held_fields import hanger_fields, tray_fields
from drawerwright.web.fields.opening_fields import divided_groups, part_fields, reading_fields
from drawerwright.web.fields.runner_fields import bank_runner_fields, own_clearances
from drawerwright.web.fields.single_drawer_fields import single_drawer_fields
from drawerwright.web.fields.usual_text import usual_text
from drawerwright.web.reader.words import gettext as _

Choices: TypeAlias = tuple[tuple[str, str], ...]


def columns_of(name: str, item: Any) -> tuple[Field, ...]:
    """The columns of the table of banks or of boxes for one row; paths are relative to the row."""
    if name == "boxes":
        return (
            Field(("name",), _("Name"), "text"),
            Field(("count",), _("How many"), "whole", absent=usual_text("boxes", "count")),
            Field(("outer", "width"), _("Outer width"), head=_("Width")),
            Field(("outer", "depth"), _("Outer depth"), head=_("Depth")),
            Field(("outer", "height"), _("Outer height"), head=_("Height")),
        )
    divided = "–" if value_at(item, ("opening", "of")) is not None else ""
    sizes = (
        Field(("name",), _("Name"), "text"),
        Field(("opening", "width"), _("Opening width"), head=_("Width"), absent=divided),
        Field(("opening", "height"), _("Opening height"), head=_("Height"), absent=divided),
        Field(("opening", "depth"), _("Opening depth"), head=_("Depth"), absent=divided),
    )
    return sizes if name == "openings" else (*sizes, heights_field(value_at(item, ("fronts", "heights"))))


def heights_field(heights: Any) -> Field:
    """The one field of a height rule that always stands in the table: the heights, or how many."""
    label = _("Heights or number")
    rule = next(iter(heights), "given") if isinstance(heights, dict) else "given"
    kinds: dict[str, tuple[tuple[str, ...], Kind]] = {
        "given": (("given",), "lengths"),
        "equal": (("equal",), "whole"),
        "arithmetic": (("arithmetic", "count"), "whole"),
        "geometric": (("geometric", "count"), "whole"),
    }
    path, kind = kinds.get(rule, kinds["given"])
    return Field(("fronts", "heights", *path), label, kind, head=_("Fronts"))


def panels_of(name: str, item: Any, data: Any) -> tuple[TitledFields, ...]:
    """The entries of one bank or box that its table does not have, in groups: those asked first, then the rarer."""
    return (*asked_panels(name, item, data), *rarer_panels(name, item, data))


def asked_panels(name: str, item: Any, data: Any) -> tuple[TitledFields, ...]:
    """What nearly every bank or box says."""
    if name == "openings":
        return divided_groups(item, data)
    stocks = _stocks(data)
    groups: list[TitledFields] = []
    if name == "banks":
        if part := part_fields(item, data):
            groups.append((_("Opening of a divided carcase"), part))
        groups += [(_("Fronts"), _front_fields(item, stocks)), (_("Runners"), bank_runner_fields(item, data))]
    groups.append((_("Bottom"), _bottom_fields(item, stocks)))
    groups.append((_("Box"), _box_fields(name, stocks)))
    return tuple(groups)


def rarer_panels(name: str, item: Any, data: Any) -> tuple[TitledFields, ...]:
    """What the page folds to one line each."""
    if name == "openings":
        return ()
    groups: list[TitledFields] = [
        (
            _("Joint, and stock piece by piece"),
            (*_pieces(name, _stocks(data)), *_cutters(item, data), *_joint_fields(item)),
        )
    ]
    if name == "banks":
        groups.append((_("Pulls"), (*_pull_fields(item), *_scoop_fields(item))))
    groups.append((_("Load and place"), duty_fields(data)))
    if name == "banks":
        groups.append((_("Single drawers that differ"), single_drawer_fields(item, _every_cutter(data))))
    groups.append((_("Hanging folders"), hanger_fields(name, item)))
    if name == "boxes":
        groups.append((_("A tray in a drawer"), tray_fields(item, data)))
    groups.append((_("Edge banding"), _banding_fields(value_at(item, ("banding",)), name)))
    if name == "banks":
        own = own_clearances(item)
        if own:
            groups.append((_("Clearances that differ"), own))
        groups.append((_("Readings of the opening"), reading_fields(item)))
        groups.append((_("Equal banks"), _like_fields(item, data)))
    return tuple(groups)


def _box_fields(name: str, stocks: Choices) -> tuple[Field, ...]:
    first = (
        (Field(("side_height",), _("Side height"), "lengths", absent=_("set by front")),)
        if name == "banks"
        else (
            Field(("front_height",), _("Front height"), absent=_("as the sides")),
            Field(("lip",), _("Lip"), absent=usual_text("boxes", "lip")),
            Field(("lip_right",), _("Lip on the right"), absent=_("as the lip")),
        )
    )
    return (Field(("box", "all"), _("Box stock"), "choice", stocks), *first)


def _pieces(name: str, stocks: Choices) -> tuple[Field, ...]:
    return (
        Field(("box", "front"), _("Front stock"), "choice", stocks, absent=_("as the box")),
        Field(("box", "sides"), _("Side stock"), "choice", stocks, absent=_("as the box")),
        Field(("box", "back"), _("Back stock"), "choice", stocks, absent=_("as the box")),
        Field(
            ("orientation",),
            _("Flat on the table"),
            "choice",
            _orientations(),
            absent=usual_text(name, "orientation", words=_orientations()),
        ),
    )


def _joint_fields(item: Any) -> tuple[Field, ...]:
    """A joint without a cutter, and its own measures where it has some."""
    from drawerwright.job.file.usual_entries import joints_without_cutter

    joints = {joint.name: joint for joint in joints_without_cutter()}
    choices = tuple((name, _(joint.meaning)) for name, joint in joints.items())
    whole = value_at(item, ("joint",))
    is_open = isinstance(whole, dict)
    path = ("joint", "kind") if is_open else ("joint",)
    known = joints.get(str(value_at(whole, ("kind",)))) if is_open else None
    return (
        Field(path, _("Joint without a cutter"), "choice", choices, absent=_("a cutter's")),
        *(
            Field(("joint", measure.name), _(measure.words), absent=_("as usual"))
            for measure in (known.measures if known else ())
        ),
    )


def _front_fields(item: Any, stocks: Choices) -> tuple[Field, ...]:
    heights = value_at(item, ("fronts", "heights"))
    overlay = ("fronts", "overlay")
    inside = _("inside")
    is_applied = value_at(item, ("fronts", "style")) == "applied"
    fields = [
        Field(("fronts", "style"), _("How the fronts sit"), "choice", _front_styles(), pictures="fronts"),
        Field(("drawer",), _("Drawers behind the fronts"), "usual"),
        *(
            [
                Field(
                    ("fronts", "false_fronts"),
                    _("Fronts without a drawer"),
                    "numbers",
                    absent=_("none"),
                    hint=_("by their numbers from the top: 1; 3"),
                )
            ]
            if value_at(item, ("drawer",)) is not False
            else []
        ),
        Field(("fronts", "heights"), _("Front heights"), "rule", _height_rules()),
        # A list of heights is too long for a cell; the table says how many there are.
        *(field for field in [heights_field(heights)] if field.kind == "lengths"),
        *(
            field
            for rule, terms in _terms().items()
            if value_at(heights, (rule,)) is not None
            for field in terms
        ),
        Field(
            ("fronts", "reveal"),
            _("Reveal between the fronts"),
            absent=usual_text("banks", "fronts", "reveal"),
        ),
        Field((*overlay, "sides"), _("Overlay, each side"), absent=inside),
        *(
            Field((*overlay, edge), label, absent=_("as each side"))
            for edge, label in (("left", _("Overlay, left")), ("right", _("Overlay, right")))
        ),
        Field((*overlay, "top"), _("Overlay, top"), absent=inside),
        Field((*overlay, "bottom"), _("Overlay, bottom"), absent=inside),
    ]
    if value_at(item, ("opening", "of")) is not None or value_at(item, (*overlay, "shared")) is not None:
        words = _("Share the wood between two openings that both have fronts")
        fields.append(Field((*overlay, "shared"), words, "usual"))
    # What a file says of applied fronts is shown for others too, so that nothing in it is out of reach.
    own = (
        Field(("fronts", "stock"), _("Applied-front stock"), "choice", stocks),
        Field(("fronts", "grain_upright"), _("Grain upright on the fronts"), "yes"),
        Field(
            ("fronts", "oversize"),
            _("Cut larger, trimmed after the dry fit"),
            absent=usual_text("banks", "fronts", "oversize"),
        ),
        Field(
            ("fronts", "match"),
            _("Cut side by side, so the figure runs through"),
            "yes-or-name",
            absent=_("no"),
            hint=_("yes for this bank, or a name that several banks share"),
        ),
        Field(
            ("fronts", "match_direction"),
            _("The figure runs"),
            "choice",
            _directions(),
            absent=usual_text("banks", "fronts", "match_direction", words=_directions()),
        ),
    )
    fields += [field for field in own if is_applied or value_at(item, field.path) is not None]
    return tuple(fields)


def _pull_fields(item: Any) -> tuple[Field, ...]:
    pull = ("fronts", "pull")
    holes = [Field(pull, _("Drill holes for pulls"), "part")]
    if value_at(item, pull) is not None:
        holes += [
            Field((*pull, "spacing"), _("Hole spacing"), absent=_("0: one hole")),
            Field((*pull, "below_top"), _("Below the front's upper edge"), absent=_("middle")),
            Field((*pull, "hole"), _("Hole diameter"), absent=usual_text("banks", *pull, "hole")),
            Field((*pull, "price"), _("Price of one"), "price", absent="–"),
        ]
    return tuple(holes)


def _scoop_fields(item: Any) -> tuple[Field, ...]:
    scoop = ("fronts", "scoop")
    part = Field(scoop, _("A scoop in the upper edge"), "part")
    if value_at(item, scoop) is None:
        return (part,)
    return (
        part,
        Field((*scoop, "width"), _("Width of the scoop")),
        Field((*scoop, "depth"), _("Depth of the scoop")),
        Field(
            (*scoop, "radius"),
            _("Radius of its corners"),
            absent=usual_text("banks", "fronts", "scoop", "radius"),
        ),
    )


def _terms() -> dict[str, tuple[Field, ...]]:
    heights = ("fronts", "heights")
    return {
        "arithmetic": (
            Field((*heights, "arithmetic", "step"), _("Each front taller by")),
            Field((*heights, "arithmetic", "smallest"), _("or: height of the top front")),
        ),
        "geometric": (
            Field((*heights, "geometric", "ratio"), _("Each front taller by a factor of"), "number"),
            Field((*heights, "geometric", "smallest"), _("or: height of the top front")),
        ),
    }


def _bottom_fields(item: Any, stocks: Choices) -> tuple[Field, ...]:
    stock = Field(("bottom", "stock"), _("Bottom stock"), "choice", stocks, absent=_("no bottom"))
    if not isinstance(value_at(item, ("bottom",)), dict):
        return (stock,)
    styles = (("captured", _("captured")), ("slid", _("slid in")), ("fixed", _("fixed")))
    groove = (
        Field(
            ("bottom", "groove_depth"),
            _("Groove depth"),
            absent=usual_text("banks", "bottom", "groove_depth"),
        ),
        Field(
            ("bottom", "groove_height"),
            _("Groove above the sides' lower edges"),
            absent=usual_text("banks", "bottom", "groove_height"),
        ),
        Field(
            ("bottom", "groove_play"),
            _("Groove wider than the bottom by"),
            absent=usual_text("banks", "bottom", "groove_play"),
        ),
    )
    is_fixed = value_at(item, ("bottom", "style")) == "fixed"
    return (
        Field(
            ("bottom", "style"),
            _("How it is held"),
            "choice",
            styles,
            absent=usual_text("banks", "bottom", "style", words=styles),
            pictures="bottoms",
        ),
        stock,
        *(field for field in groove if not is_fixed or value_at(item, field.path) is not None),
        Field(
            ("bottom", "clearance"),
            _("Bottom smaller than its space, each way"),
            absent=usual_text("banks", "bottom", "clearance"),
        ),
        Field(
            ("bottom", "oversize"),
            _("Cut larger, trimmed after the dry fit"),
            absent=usual_text("banks", "bottom", "oversize"),
        ),
    )


def _banding_fields(banding: Any, name: str) -> tuple[Field, ...]:
    fields = [Field(("banding",), _("Edges are banded"), "part")]
    if banding is not None:
        fields.append(Field(("banding", "thickness"), _("Banding thickness")))
        if name == "banks":
            fields.append(Field(("banding", "applied_front"), _("All round applied fronts"), "usual"))
        fields.append(Field(("banding", "box_top"), _("Upper edges of the box"), "yes"))
    return tuple(fields)


def _like_fields(item: Any, data: Any) -> tuple[Field, ...]:
    own = value_at(item, ("name",))
    names = [str(value_at(bank, ("name",))) for bank in rows_at(data, ("banks",))]
    choices = tuple((name, name) for name in names if name != own)
    return (
        Field(("count",), _("How many banks like this"), "whole", absent=usual_text("banks", "count")),
        Field(("like",), _("Same as bank, except for what is entered here"), "choice", choices, absent="–"),
    )


def _stocks(data: Any) -> Choices:
    return tuple((str(stock), str(stock)) for stock in members_at(data, ("stock",)))


def _cutters(item: Any, data: Any) -> tuple[Field, ...]:
    """Which cutter cuts the corners: asked where a job has several, or a row names one."""
    places = cutter_places(data)
    if len(places) == 1 and value_at(item, ("cutter",)) is None:
        return ()
    choices = _every_cutter(data)
    none = "" if value_at(item, ("joint",)) is None else _("none")
    return (Field(("cutter",), _("Cutter"), "choice", choices, absent=none),)


def _every_cutter(data: Any) -> Choices:
    return tuple((place.name, place.name) for place in cutter_places(data))


def _front_styles() -> Choices:
    return (("applied", _("applied")), ("lipped", _("lipped")), ("inset", _("inset")))


def _directions() -> Choices:
    return (("down", _("down, from front to front")), ("across", _("across, from bank to bank")))


def _height_rules() -> Choices:
    return (
        ("given", _("one by one")),
        ("equal", _("all equal")),
        ("arithmetic", _("by a step")),
        ("geometric", _("by a factor")),
    )


def _orientations() -> Choices:
    return (("fronts-flat", _("the fronts")), ("sides-flat", _("the sides: only glue holds the fronts")))
