"""What a table may hold of what a drawer carries and how it stands: its load, rails for folders, the drawer it lies in.

Each row says it for its own drawer; a bank in the job file says it once, and what single drawers have otherwise.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from drawerwright.basics.phrases import phrase
from drawerwright.job.file.table_cells import ReadRow
from drawerwright.job.file.table_columns import TableField

_CARRIED = ("load", "contents")
"""A drawer has one of them at the most."""
_RAILS = ("span", "rail", "below", "drop", "direction")

DUTY_FIELDS = (
    TableField("load", phrase("Load"), ("gewicht", "belastung", "last"), holds="load"),
    TableField("contents", phrase("Contents"), ("inhalt",)),
    TableField("use", phrase("Use"), ("gebrauch", "nutzung")),
    TableField("climate", phrase("Climate"), ("klima",)),
    TableField(
        "rails_span",
        phrase("Rails for folders, middle to middle"),
        ("schienen für mappen, mitte zu mitte",),
        True,
    ),
    TableField("rails_rail", phrase("Rails for folders, thickness"), ("schienen für mappen, dicke",), True),
    TableField("rails_below", phrase("Folders below their rails"), ("mappen unter den schienen",), True),
    TableField(
        "rails_drop",
        phrase("Rails below the sides' upper edges"),
        ("schienen unter den oberkanten der seiten",),
        True,
    ),
    TableField("rails_direction", phrase("Folders hang"), ("mappen hängen",)),
)
"""Whatever a row makes may say them."""
BOX_FIELDS = (TableField("inside", phrase("Lies in the drawer"), ("liegt in der schublade",)),)
"""Of a plain box alone."""
OF_DRAWERS = (*_CARRIED, "use", *(f"rails_{name}" for name in _RAILS))
"""What each drawer of a bank has for itself."""
DUTY_ENTRIES: dict[str, tuple[str, ...]] = {
    **{name: (name,) for name in (*_CARRIED, "use", "climate")},
    **{f"rails_{name}": ("hangers", name) for name in _RAILS},
}
"""The entry of a box or a bank that each of them is."""


def put_duty(entry: dict[str, Any], values: Mapping[str, Any]) -> None:
    """What a row says of its own box into its entry."""
    for name in (*_CARRIED, "use", "climate", "inside"):
        if name in values:
            entry[name] = values[name]
    if rails := _rails(values):
        entry["hangers"] = rails


def put_duties(
    entry: dict[str, Any], fronts: Sequence[ReadRow], climate: str | None, singles: dict[int, dict[str, Any]]
) -> None:
    """What rows say of the drawers of a bank into its entry, and into those of `singles`, by their numbers, where they
    differ from most. What a drawer does not say no bank may say for it."""
    drawers = {
        number: row.values for number, row in enumerate(fronts, start=1) if not row.values.get("false_front")
    }
    if climate is not None:
        entry["climate"] = climate
    for names in (_CARRIED, ("use",)):
        said = {
            number: {name: values[name] for name in names if name in values}
            for number, values in drawers.items()
        }
        counted = Counter(map(repr, said.values())).most_common(1)
        usual = next(
            (each for each in said.values() if all(said.values()) and repr(each) == counted[0][0]), {}
        )
        entry |= usual
        for number, own in said.items():
            if own != usual:
                singles.setdefault(number, {}).update(own)
    with_rails = {number: rails for number, values in drawers.items() if (rails := _rails(values))}
    if with_rails:
        whole = dict.fromkeys(drawers) == dict.fromkeys(with_rails)
        first = next(iter(with_rails.values()))
        entry["hangers"] = first if whole else {**first, "drawers": list(with_rails)}


def _rails(values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: values[f"rails_{name}"] for name in _RAILS if f"rails_{name}" in values}
