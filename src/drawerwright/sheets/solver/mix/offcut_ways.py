"""Good ways to cut an offcut, for given values of the parts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from drawerwright.sheets.solver.columns import Frame, Stack
from drawerwright.sheets.solver.filling.fill_table import all_fillings
from drawerwright.sheets.solver.filling.stacks import Offer
from drawerwright.sheets.solver.programme.pricing import VALUE_SCALE, best_sheet
from drawerwright.sheets.solver.task import Task

LEAST_ROOM, MOST_ROOM = VALUE_SCALE // 400, VALUE_SCALE // 20
"""How much less than the best way the others may be worth: it grows from the first until there are enough."""
MOST_WAYS = 40
MOST_LISTED = 2_000
"""Ways looked at for one offcut, of which the best are kept."""

Way = tuple[Stack, ...]


def ways_of(task: Task, frame: Frame, values: Sequence[int], least: Mapping[int, int]) -> list[Way]:
    """Ways to cut a sheet of `frame`, the most valuable first; they differ in what they hold.

    Args:
        task: what is wanted.
        frame: the offcut.
        values: of one part of each demand.
        least: of a column by its width, beside those of its parts.
    """
    offers = task.sources[frame.transposed].offers(values, task.demand)
    top, best, chosen = best_sheet(task, frame, offers, least)
    ways = [tuple(chosen[kind].stack(frame.width) for kind, count in best for _ in range(count))]
    room = LEAST_ROOM
    while top and room <= MOST_ROOM:
        found = _listed(task, frame, values, least, top, min(room, top - 1), chosen)
        if found is None:
            break
        ways = found or ways
        if len(ways) >= MOST_WAYS:
            break
        room *= 2
    return ways[:MOST_WAYS]


def _listed(
    task: Task,
    frame: Frame,
    values: Sequence[int],
    least: Mapping[int, int],
    top: int,
    room: int,
    offers: Mapping[int, Offer],
) -> list[Way] | None:
    """Every way worth `room` less than `top` at the most; None when they are too many."""
    source, kerf = task.sources[frame.transposed], task.sizing.kerf
    kinds = sorted(offers)
    more = {kind: least.get(source.widths[kind], 0) for kind in kinds}
    best = {kind: offers[kind].value(frame.width) + more[kind] for kind in kinds}
    fillings = all_fillings(
        [source.widths[kind] + kerf for kind in kinds],
        [best[kind] for kind in kinds],
        [frame.length // source.widths[kind] for kind in kinds],
        frame.length + kerf,
        floor=top - room,
        most=MOST_LISTED,
    )
    if fillings is None:
        return None
    listed: dict[int, list[tuple[int, Stack]]] = {}
    found: dict[tuple[tuple[int, int], ...], tuple[int, Way]] = {}
    for filling in fillings:
        places = [kinds[place] for place, count in filling.items() for _ in range(count)]
        total = sum(best[kind] for kind in places)
        for kind in places:
            if kind not in listed:
                listed[kind] = _stacks(task, frame, values, kind, offers[kind], room)
        if not _combine(places, listed, total - top + room, more, best, total, found):
            return None
    return [way for _, way in sorted(found.values(), key=lambda pair: -pair[0])]


def _stacks(
    task: Task, frame: Frame, values: Sequence[int], kind: int, offer: Offer, room: int
) -> list[tuple[int, Stack]]:
    top = offer.value(frame.width)
    found = task.sources[frame.transposed].listing(
        kind, frame.width, values, task.demand, top - room, MOST_LISTED
    )
    if found is None:
        found = list(dict.fromkeys([offer.stack(frame.width), *offer.others(frame.width, top - room - 1)]))
    worths = [(sum(values[demand] * count for demand, count in stack.takes), stack) for stack in found]
    return sorted(worths, key=lambda pair: -pair[0])


def _combine(
    places: Sequence[int],
    listed: Mapping[int, Sequence[tuple[int, Stack]]],
    room: int,
    more: Mapping[int, int],
    best: Mapping[int, int],
    total: int,
    found: dict[tuple[tuple[int, int], ...], tuple[int, Way]],
) -> bool:
    """Add every choice of columns for `places` that falls short by `room` at the most; False beyond MOST_LISTED."""
    chosen: list[Stack] = []

    def extend(place: int, first: int, short: int) -> bool:
        if place == len(places):
            takes: Counter[int] = Counter()
            for stack in chosen:
                takes.update(dict(stack.takes))
            key = tuple(sorted(takes.items()))
            if key not in found or found[key][0] < total - short:
                found[key] = (total - short, tuple(chosen))
            return len(found) <= MOST_LISTED
        kind = places[place]
        for number in range(first, len(listed[kind])):
            worth, stack = listed[kind][number]
            lost = best[kind] - more[kind] - worth
            if short + lost > room:
                break
            chosen.append(stack)
            again = place + 1 < len(places) and places[place + 1] == kind
            if not extend(place + 1, number if again else 0, short + lost):
                return False
            chosen.pop()
        return True

    return extend(0, 0, 0)
