"""The best bands of a column that may be wider than they are, against plain enumeration."""

from __future__ import annotations

import itertools
import random
from collections import Counter
from collections.abc import Sequence

import pytest

from drawerwright.sheets.solver.columns import Band, Sizing
from drawerwright.sheets.solver.filling.band_layers import BandLayers
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.stacks import GivenUpError


def height_of(strips: Sequence[int], sizing: Sizing, longest: int) -> int:
    """What strips of one family take of a column, with one kerf: in as many bands as they need, however they share."""
    net = sum(sizing.heights[demand] + sizing.kerf for demand in strips)
    bands = -(-net // (longest + sizing.kerf - sizing.overhead))
    return max(net + bands * sizing.overhead, sizing.shortest + sizing.kerf)


@pytest.mark.parametrize("seed", range(60))
def test_values_and_bands_are_those_of_the_best_choice_of_strips(seed: int) -> None:
    """Source: all choices of strips, every family in bands sized by the rules."""
    dice = random.Random(seed)
    heights = tuple(dice.randint(5, 9) for _ in range(5))
    sizing = Sizing(
        dice.choice((0, 1)), heights, dice.choice((0, 2)), dice.choice((1, 2)), dice.choice((0, 9, 10))
    )
    families = [Family(0, 10, (0, 1)), Family(1, 12, (2, 3)), Family(2, 15, (4,))]
    values = [dice.randint(0, 20) for _ in heights]
    at_most = [dice.randint(0, 3) for _ in heights]
    tallest, longest = 30, dice.choice((30, 22, 18))
    layers = BandLayers(families, sizing, tallest, longest, values, at_most)
    stacks = BandStacks(
        families, (), sizing, longest=longest, tallest=tallest, widest=40, copies=at_most, trims=True
    )
    offers = stacks.offers(values, at_most)
    for count, height in itertools.product(range(1, 4), (8, 13, 19, 26, 30)):
        best, capacity = 0, height + sizing.kerf
        for counts in itertools.product(*(range(most + 1) for most in at_most)):
            chosen = [
                [demand for demand in family.demands for _ in range(counts[demand])]
                for family in families[:count]
            ]
            if sum(height_of(strips, sizing, longest) for strips in chosen if strips) <= capacity:
                best = max(best, sum(values[demand] for strips in chosen for demand in strips))
        assert int(layers.best(count)[capacity]) == best
        taken = Counter[int]()
        for strips in layers.taken(count, capacity):
            taken.update(strips)
        assert sum(values[d] * n for d, n in taken.items()) == best
        assert all(n <= at_most[d] for d, n in taken.items())
        stack = offers[count - 1].stack(height)
        assert stack.v <= height
        assert all(isinstance(band, Band) and band.v <= longest for band in stack.elements)
        if longest == tallest:
            assert offers[count - 1].value(height) == sum(values[d] * n for d, n in stack.takes) == best


def test_columns_may_be_given_up_between_two_passes() -> None:
    """Asked before every pass, so that none is begun once time is up."""
    answers = iter([False, False, False, True])
    with pytest.raises(GivenUpError):
        BandLayers(
            [Family(0, 10, (0,)), Family(1, 14, (1,))],
            Sizing(1, (5, 6), 0, 0, 0),
            40,
            40,
            [5, 5],
            (7, 7),
            lambda: next(answers),
        )
    assert list(answers) == []


def test_strips_of_which_two_are_still_too_short_to_rout_are_never_valued_too_low() -> None:
    """Two strips of 3 and a kerf make 7, a band is 12 at the least: too high a value is a bound, too low is none."""
    sizing = Sizing(1, (3, 20), 0, 0, 12)
    families = [Family(0, 10, (0,)), Family(1, 14, (1,))]
    stacks = BandStacks(families, (), sizing, longest=40, tallest=40, widest=40, copies=(2, 1), trims=True)
    wide = stacks.offers([5, 5], (2, 1))[1]
    assert wide.value(33) == 15
    assert wide.value(32) >= 10
    assert sum(n for _, n in wide.stack(33).takes) == 3
    assert wide.stack(32).v <= 32


def many(seed: int) -> tuple[list[Family], Sizing, list[int], tuple[int, ...]]:
    """Families of strips of a shop's heights in tenths of a millimetre, their values about as their areas."""
    dice = random.Random(seed)
    heights = tuple(dice.randint(800, 2300) for _ in range(24))
    families = [Family(n, 3000 + 400 * n, tuple(range(4 * n, 4 * n + 4))) for n in range(6)]
    lengths = [family.u for family in families for _ in family.demands]
    values = [
        int(height * length * dice.uniform(0.8, 1.2)) for height, length in zip(heights, lengths, strict=True)
    ]
    return families, Sizing(32, heights, 140, 2, 1500), values, tuple(dice.randint(1, 5) for _ in heights)


def test_values_beyond_narrow_numbers_choose_the_same_bands() -> None:
    """Source: what is best does not depend on the unit of value."""
    families, sizing, values, at_most = many(1)
    narrow = BandLayers(families, sizing, 12_000, 12_000, values, at_most)
    wide = BandLayers(families, sizing, 12_000, 12_000, [value << 20 for value in values], at_most)
    assert narrow.best(6).dtype != wide.best(6).dtype
    assert (narrow.best(6).astype("int64") << 20 == wide.best(6)).all()
    assert narrow.taken(6, 11_500) == wide.taken(6, 11_500)


@pytest.mark.parametrize("seed", range(4))
def test_coarse_steps_find_columns_that_fit_and_are_nearly_the_best(seed: int) -> None:
    """Source: the exact table. A dozen strips lose less than a step of 0.4 mm each, of 1,200 mm."""
    families, sizing, values, at_most = many(seed)
    values = [int(value * 1e8 / (24_000 * 12_000)) for value in values]
    stacks = BandStacks(
        families,
        (),
        sizing,
        longest=12_000,
        tallest=12_000,
        widest=24_000,
        copies=[4_000] * 24,
        trims=True,
    )
    (steps,) = stacks.coarse_steps
    assert stacks.greedy_steps == steps
    best = stacks.offers(values, at_most)
    coarse = stacks.offers(values, at_most, steps=steps)
    for offer, good in zip(best, coarse, strict=True):
        for height in (12_000, 7_777):
            stack = good.stack(height)
            worth = sum(values[demand] * count for demand, count in stack.takes)
            assert stack.v <= height
            assert 0.97 * offer.value(height) <= worth <= offer.value(height)
            assert worth == good.value(height)
            assert all(count <= at_most[demand] for demand, count in stack.takes)
    assert stacks.offers(values, at_most)[5].value(12_000) == best[5].value(12_000)
