"""The page of story sticks and blocks, at full size."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.drawings.packet import DrawerPage
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.story_stick import StickMark, draw_block, stick_scenes
from drawerwright.job.job import BankOfBoxes
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.job_plan import JobPlan

PAPER_TRUE = 0.003
"""How true a printer keeps length and paper holds it, as a share (common practice, no source)."""
CHECKED: Mm = 300.0
CHECKED_INCHES = 12.0
"""The length that this is told for, to readers of either unit."""
MOST = 12
"""Sticks of so many banks; more would be a book."""


def stick_drawings(draft: JobDraft) -> Iterator[tuple[str, Callable[[], Scene]]]:
    """Name and maker of each piece of a stick: one stick for banks that are alike."""
    style = draft.job.style
    for number, (names, marks, length) in enumerate(_sticks(draft), start=1):
        for piece, scene in enumerate(stick_scenes(names, marks, length, style), start=1):
            yield f"stick-{number}-{piece}", partial(_as_it_is, scene)


def _as_it_is(scene: Scene) -> Scene:
    return scene


def _sticks(draft: JobDraft) -> list[tuple[str, tuple[StickMark, ...], Mm]]:
    """Name, marks and length of each stick."""
    lengths = PaperLengths(draft.job.style)
    return [
        (
            phrase("Bank {mark}: {name}", mark=bank.bank.mark, name=bank.bank.name),
            tuple(_marks(bank, lengths)),
            bank.bank.opening.height,
        )
        for bank in draft.job.banks[:MOST]
    ]


def _marks(bank: BankOfBoxes, lengths: PaperLengths) -> Iterator[StickMark]:
    """Runner lines, and the edges of fronts within the opening."""
    runner, opening = bank.bank.runner, bank.bank.opening
    for place in bank.bank.places():
        if runner.line is not None:
            level = place.box.z + runner.line
            yield StickMark(
                level,
                phrase("{drawer} runner {height}", drawer=place.name, height=lengths.bare_coarse(level)),
            )
        if 0 < place.front.top < opening.height:
            yield StickMark(
                place.front.top,
                phrase(
                    "{drawer} front, top {height}",
                    drawer=place.name,
                    height=lengths.bare_coarse(place.front.top),
                ),
                is_main=False,
            )


def block_drawings(plan: JobPlan) -> Iterator[tuple[str, Callable[[], Scene]]]:
    """Name and maker of the blocks for height and fence of each set-up, each size once."""
    style = plan.job.style
    seen: set[tuple[str, float]] = set()
    for setup in plan.run.setups:
        for kind, words, size in (
            ("height", phrase("Height block, set-up {number}", number=setup.number), setup.bit_height),
            ("fence", phrase("Fence block, set-up {number}", number=setup.number), setup.fence),
        ):
            if size > 0 and (kind, round(size, 3)) not in seen:
                seen.add((kind, round(size, 3)))
                yield f"block-{setup.number}-{kind}", partial(draw_block, words, size, style)


def sticks_page(plan: JobPlan, drawings: Mapping[str, Scene]) -> DrawerPage | None:
    """The page; None where there is neither a bank nor a set-up. `drawings` from `plan_drawings`."""
    sticks = [name for name, _ in stick_drawings(plan.draft)]
    blocks = [name for name, _ in block_drawings(plan)]
    if not sticks and not blocks:
        return None
    of_sticks = (
        phrase(
            "Cut out the pieces of a stick, lay marks of one number on each other, and glue all to a lath."
        ),
        phrase(
            "Check the rule on the stick first. Printers keep length to some {share:g} % and paper moves with the "
            "air: over {length} count on {error} (common practice, no source). Where it matters, the figure "
            "governs, not the paper.",
            share=100 * PAPER_TRUE,
            length=RoughLength(f"{CHECKED:g} mm", f"{CHECKED_INCHES:g} in"),
            error=RoughLength(f"{PAPER_TRUE * CHECKED:.1f} mm", f"{PAPER_TRUE * CHECKED_INCHES:.3f} in"),
        ),
    )
    of_blocks = (phrase("Make blocks to the figure with calipers; the drawing only tells them apart."),)
    titles = {
        (True, True): phrase("Story sticks and blocks, full size"),
        (True, False): phrase("Story sticks, full size"),
        (False, True): phrase("Blocks, full size"),
    }
    return DrawerPage(
        title=titles[bool(sticks), bool(blocks)],
        views=tuple(drawings[name] for name in sticks + blocks),
        notes=(*(of_sticks if sticks else ()), *(of_blocks if blocks else ())),
    )
