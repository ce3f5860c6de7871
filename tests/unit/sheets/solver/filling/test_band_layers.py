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
