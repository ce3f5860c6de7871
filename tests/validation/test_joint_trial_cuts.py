"""Test cuts in simulated shops with hidden offsets (tests/validation/simulated_shops.py shares no formula).

Bars of the specification, at 2,000 shops: 95 % intervals cover the truth in 93 to 97 %, the second cut fits in
at least 95 %, the third in at least 99 %. 150 shops here: the limits below are missed by chance less than once
in 10,000 runs if the bars hold (binomial).
"""

from simulated_shops import run_shops

SHOPS = 150


def test_intervals_cover_and_the_second_and_third_cut_fit():
    tally = run_shops(SHOPS, seed=3)
    assert tally.second >= 0.87 * SHOPS
    assert tally.third >= 0.94 * SHOPS
    assert tally.first < tally.second
    assert min(tally.covered.values()) >= 0.86 * SHOPS, tally.covered
