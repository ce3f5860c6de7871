"""The knapsack under the planner, against trying everything."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from drawerwright.sheets.solver.filling.fill_table import all_fillings, best_fill

pieces = st.lists(
    st.tuples(st.integers(1, 12), st.integers(0, 20), st.integers(0, 3)), min_size=1, max_size=4
)


def everything(entries: list[tuple[int, int, int]], capacity: int) -> list[tuple[int, tuple[int, ...]]]:
    found = []
    for counts in product(*(range(limit + 1) for _, _, limit in entries)):
        if sum(count * size for count, (size, _, _) in zip(counts, entries, strict=True)) <= capacity:
            worth = sum(count * value for count, (_, value, _) in zip(counts, entries, strict=True))
            found.append((worth, counts))
    return found


@given(pieces, st.integers(0, 40))
def test_best_fill_is_the_best_of_all(entries: list[tuple[int, int, int]], capacity: int) -> None:
    sizes, values, limits = zip(*entries, strict=True)
    worth, counts = best_fill(sizes, values, limits, capacity)
    assert worth == max(found for found, _ in everything(entries, capacity))
    assert sum(values[piece] * count for piece, count in counts.items()) == worth
    assert sum(sizes[piece] * count for piece, count in counts.items()) <= capacity
    assert all(count <= limits[piece] for piece, count in counts.items())


@given(pieces, st.integers(1, 40), st.integers(0, 30))
def test_all_fillings_are_all_full_ones_worth_enough(
    entries: list[tuple[int, int, int]], capacity: int, floor: int
) -> None:
    sizes, values, limits = zip(*entries, strict=True)
    found = all_fillings(sizes, values, limits, capacity, floor=floor, most=10_000)
    assert found is not None

    def is_full(counts: tuple[int, ...]) -> bool:
        room = capacity - sum(size * count for size, count in zip(sizes, counts, strict=True))
        return not any(
            size <= room and count < limit for size, count, limit in zip(sizes, counts, limits, strict=True)
        )

    expected = {
        counts for worth, counts in everything(entries, capacity) if worth >= floor and is_full(counts)
    }
    assert {tuple(filling.get(piece, 0) for piece in range(len(entries))) for filling in found} == expected
    assert len(found) == len(expected)


def test_all_fillings_gives_up_beyond_the_most() -> None:
    assert all_fillings([1, 2, 3], [1, 1, 1], [9, 9, 9], 20, floor=0, most=3) is None


@given(pieces, st.integers(0, 40), st.integers(0, 10**12))
def test_great_values_do_not_run_over(entries: list[tuple[int, int, int]], capacity: int, worth: int) -> None:
    sizes, values, limits = zip(*entries, strict=True)
    great = [value * worth for value in values]
    best, _ = best_fill(sizes, great, limits, capacity)
    assert best == worth * best_fill(sizes, values, limits, capacity)[0]
