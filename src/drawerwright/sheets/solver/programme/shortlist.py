"""All columns that can be in a better plan: where they are few, the best choice among them settles the matter."""

from __future__ import annotations

import math

from drawerwright.sheets.solver.columns import Stack
from drawerwright.sheets.solver.filling.fill_table import all_fillings
from drawerwright.sheets.solver.programme.master import Master


def add_shortlist(master: Master, cost: int, most: int, share: float, deadline: float) -> bool:
    """Add every column that a plan cheaper than `cost` could use.

    False when there are more than `most`, or at the `deadline` (a reading of `clock.now`).

    With a `share` below 1 only columns that fall short by less than that share of what is allowed.

    By the certificate a plan's cost is its bound plus what its columns fall short of their best, so a column
    that falls short by more than `cost` less one step less the bound is in none of them.
    """
    task, proof = master.task, master.certificate
    if proof is None or master.limit_row or any(frame.apart for frame in task.frames):
        return False
    room = math.floor((cost - task.unit - proof.bound) / proof.scale) + 1
    if room < 0:
        return True
    room = int(room * share)
    offers = {way: source.offers(proof.values, task.demand) for way, source in task.sources.items()}
    stacks: list[tuple[int, Stack]] = []
    patterns: list[tuple[int, tuple[tuple[int, int], ...]]] = []
    best: dict[tuple[int, int], int] = {}
    for number, (way, width) in enumerate(master.classes):
        source = task.sources[way]
        for offer in offers[way]:
            worth = offer.value(width)
            found = source.listing(
                offer.kind, width, proof.values, task.demand, worth - room, most - len(stacks), deadline
            )
            if found is None:
                return False
            stacks += [(number, stack) for stack in found]
            if worth:
                best[number, offer.kind] = worth + proof.least.get(source.widths[offer.kind], 0)
    for frame_number, frame in enumerate(task.frames):
        number = master.class_of(frame)
        widths = task.sources[frame.transposed].widths
        kinds = [
            kind for kind, width in enumerate(widths) if (number, kind) in best and width <= frame.length
        ]
        fillings = all_fillings(
            [widths[kind] + task.sizing.kerf for kind in kinds],
            [best[number, kind] for kind in kinds],
            [frame.length // widths[kind] for kind in kinds],
            frame.length + task.sizing.kerf,
            floor=math.ceil(frame.cost / proof.scale) - room,
            most=most - len(stacks) - len(patterns),
            deadline=deadline,
        )
        if fillings is None:
            return False
        patterns += [
            (frame_number, tuple((kinds[place], count) for place, count in sorted(filling.items())))
            for filling in fillings
        ]
    for number, stack in stacks:
        master.add_stack(number, stack)
    for frame_number, counts in patterns:
        master.add_pattern(frame_number, counts)
    return True
