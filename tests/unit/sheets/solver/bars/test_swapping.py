"""Swapping parts between bars, on fillings whose fewest bars are known because bars were cut up to make them."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from drawerwright.sheets.solver.bars.swapping import fit_by_swapping

BAR = 1000
WASTE = 12
"""What is taken off the last part of every bar, so that the bars need not be put together exactly as they were."""


def cut_up(bars: int, dice: random.Random) -> list[int]:
    """Parts that came out of this many bars: no fewer can hold them, as all but a little of each is used."""
    lengths: list[int] = []
    for _ in range(bars):
        cuts = sorted(dice.sample(range(100, BAR - 100), dice.randint(2, 3)))
        parts = [end - start for start, end in zip([0, *cuts], [*cuts, BAR], strict=True)]
        parts[-1] = max(1, parts[-1] - WASTE)
        lengths += parts
    return lengths


def first_fit(lengths: list[int]) -> list[list[int]]:
    bars: list[list[int]] = []
    for part in sorted(range(len(lengths)), key=lambda part: -lengths[part]):
        for bar in bars:
            if sum(lengths[other] for other in bar) + lengths[part] <= BAR:
                bar.append(part)
                break
        else:
            bars.append([part])
    return bars


@settings(deadline=None)
@given(st.integers(4, 30), st.integers(0, 10**6))
def test_parts_go_back_into_as_many_bars_as_they_were_cut_from(count: int, seed: int) -> None:
    dice = random.Random(seed)
    lengths = cut_up(count, dice)
    begun = sorted(first_fit(lengths), key=lambda bar: -sum(lengths[part] for part in bar))
    tries = iter(range(3000))
    found = fit_by_swapping(
        lengths,
        BAR,
        begun[:count],
        [part for bar in begun[count:] for part in bar],
        dice=dice,
        is_over=lambda: next(tries, None) is None,
    )
    if found is None:
        return
    assert len(found) == count
    assert sorted(part for bar in found for part in bar) == list(range(len(lengths)))
    assert all(sum(lengths[part] for part in bar) <= BAR for bar in found)


def test_most_fillings_are_found_again() -> None:
    dice = random.Random(5)
    successes = 0
    for _ in range(20):
        lengths = cut_up(20, dice)
        begun = sorted(first_fit(lengths), key=lambda bar: -sum(lengths[part] for part in bar))
        tries = iter(range(20_000))
        successes += (
            fit_by_swapping(
                lengths,
                BAR,
                begun[:20],
                [part for bar in begun[20:] for part in bar],
                dice=dice,
                is_over=lambda tries=tries: next(tries, None) is None,
            )
            is not None
        )
    assert successes >= 18


def test_parts_longer_than_all_bars_together_are_refused_at_once() -> None:
    def never() -> bool:
        raise AssertionError("nothing should be searched")

    assert fit_by_swapping([6, 6], 10, [[0]], [1], dice=random.Random(0), is_over=never) is None
