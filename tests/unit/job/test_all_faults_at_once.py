"""What is found of a file with one mistake is found of it beside every other mistake too.

The measure is the reader itself, one mistake at a time: mending one must never bring up another.
"""

from __future__ import annotations

from itertools import product

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text

TEXT = (
    example_text().replace(
        "banks:\n",
        "runners:\n  slide: {kind: side-mounted, side: 12.7}\n"
        "openings:\n  - {name: Wall, opening: {width: 900, height: 500, depth: 400}, "
        "dividers: {thickness: 18, columns: 2}}\n"
        "banks:\n",
        1,
    )
    + 'days: [["Choir scores"], ["Orchestra parts", "Reed tray"]]\n'
)
MISTAKES = (
    ("kerf: 2.8", "kerf: wide"),
    ("trim: 6", "trim: -6"),
    ("mid_depth: 5.65", "mid_depth: -5.65"),
    ("price: 39.80", "price: -1"),
    ("plan: fewest", "plan: most"),
    ("equal: 7", "equal: 0"),
    ("smallest: 118", "smallest: 1118"),
    ("stock: birch15\n", "stock: oak\n"),
    ("box: {all: birch15}\n    bottom: {style: slid", "box: {all: pine}\n    bottom: {style: slid"),
    ("length: 400}", "length: 4000}"),
    ("width: 268", "width: 20"),
    ('["Choir scores"]', '["Choir"]'),
    ("{kind: side-mounted, side: 12.7}", "{kind: side, side: 12.7}"),
    ("columns: 2}", "columns: 2, vertical: [30]}"),
    ("spacing: 128", "spacing: -128"),
)


def fields(*mistakes: tuple[str, str]) -> set[str]:
    text = TEXT
    for right, wrong in mistakes:
        assert right in text, right
        text = text.replace(right, wrong, 1)
    try:
        read_job(text)
    except FaultyInputError as error:
        return {fault.field for fault in error.found}
    return set()


@pytest.fixture(scope="module")
def alone() -> dict[tuple[str, str], set[str]]:
    found = {mistake: fields(mistake) for mistake in MISTAKES}
    assert fields() == set()
    assert all(found.values()), found
    return found


def test_every_mistake_is_found_at_once(alone: dict[tuple[str, str], set[str]]) -> None:
    assert fields(*MISTAKES) == set().union(*alone.values())


def test_no_mistake_hides_another(alone: dict[tuple[str, str], set[str]]) -> None:
    """Those inside a bank, with every other: they are the ones that take the most with them."""
    within = [mistake for mistake in MISTAKES if mistake[0] in ("spacing: 128", "stock: birch15\n")]
    for one, other in product(within, [mistake for mistake in MISTAKES if mistake not in within]):
        assert fields(one, other) == alone[one] | alone[other], (one, other)


def test_what_follows_from_a_faulty_entry_is_not_found_beside_it() -> None:
    """Without the stock nobody knows whether the tray has room inside, without the reveal not whether heights fill
    their field; a day may name drawers of a bank whose number of fronts is not known."""
    stock = ("nominal: 15\n", "nominal: 0\n")
    assert fields(stock, ("width: 268", "width: 20")) == fields(stock)
    reveal = ("reveal: 2.5\n      overlay: {sides: 7, top", "reveal: wide\n      overlay: {sides: 7, top")
    assert fields(reveal, ("smallest: 118", "smallest: 1118")) == fields(reveal) == {"banks[2].fronts.reveal"}
    assert fields(("equal: 7", "equal: 0"), ('["Choir scores"]', '["A7"]')) == {
        "banks[1].fronts.heights.equal"
    }
