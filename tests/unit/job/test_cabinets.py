"""Four whole cabinets, their figures worked out with the trade's arithmetic alone.

Nothing here asks the package for a formula; the usual clearances are those that docs/job-file.md prints for each kind
of runner.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.drawings.carcase_solids import divided_solids
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.job_findings import draft_findings

CABINETS = Path(__file__).parent / "cabinets"
INCH = 25.4


def drafted(name: str) -> JobDraft:
    return draft_job(read_job((CABINETS / f"{name}.yaml").read_text("utf-8")))


@pytest.fixture(scope="module")
def bench() -> JobDraft:
    return drafted("eighteen-drawers")


@pytest.fixture(scope="module")
def wash_room() -> JobDraft:
    return drafted("wash-room")


@pytest.fixture(scope="module")
def types() -> JobDraft:
    return drafted("type-cabinet")


@pytest.fixture(scope="module")
def base() -> JobDraft:
    return drafted("three-banks")


def near(*inches: float) -> object:
    return pytest.approx([size * INCH for size in inches], abs=0.02)


def test_openings_of_a_bench_behind_a_face_frame(bench: JobDraft) -> None:
    """Dividers of 23/32 at 31 and 50 1/2 in 70 1/2; the frame stands 1/4 in at the outer edges, and its middle stiles
    of 1 1/2 stand (1 1/2 - 23/32) / 2 = 25/64 beyond each divider. 35 less 1/4 above and below is 34 1/2."""
    mid = 25 / 64
    wide = [31 - 1 / 4 - mid, 50.5 - 31 - 23 / 32 - 2 * mid, 70.5 - 50.5 - 23 / 32 - mid - 1 / 4]
    openings = [each.bank.opening for each in bench.job.banks]
    assert [opening.width for opening in openings] == near(*wide)
    assert {round(opening.height / INCH, 4) for opening in openings} == {34.5}
    assert [opening.behind[0] for opening in openings] == near(1 / 4, mid, mid)  # spacers on the left
    # Boxes: inside 1 21/32 less than the opening; sides of 1/2 (0.471) or 5/8 ply (0.5995) outside that; runners of 21.
    first = [each.boxes[0] for each in bench.job.banks]
    assert [box.inside_width for box in first] == near(*(width - 1 - 21 / 32 for width in wide))
    assert {round(box.depth / INCH, 4) for box in first} == {21.0}


def test_fronts_of_a_bench_share_its_stiles(bench: JobDraft) -> None:
    """Over a stile of 1 1/2 each covers half of it less half a reveal of 1/8: 11/16; over the outer ones 1/2. Heights:
    34 1/2 and 1/2 above and below, less five reveals, less what is given."""
    left, middle, _right = (each.bank for each in bench.job.banks)
    assert list(left.overlay.edges) == near(1 / 2, 11 / 16, 1 / 2, 1 / 2)
    assert list(middle.overlay.edges[:2]) == near(11 / 16, 11 / 16)
    field = 34.5 + 1
    assert [front.height for front in middle.front_places()] == near(
        2.5, 2.5, 2.5, 2.5, field - 5 / 8 - 10 - 12.5, 12.5
    )
    # Sides of B1: its share of the opening, 2 1/2 less 1/2 above it, less 8 above and 14 mm below.
    assert bench.job.banks[1].boxes[0].height == pytest.approx(2 * INCH - 22, abs=0.02)
    assert bench.job.banks[1].boxes[1].height == pytest.approx(2.5 * INCH - 22, abs=0.02)


def test_a_bench_has_its_notches_bores_and_folders_and_nothing_stops(bench: JobDraft) -> None:
    """Notches 1 3/8 from each side's inner face, holes 9/32 from it; rails in two file drawers of two banks."""
    backs = [drawer.placed[1].part for drawer in bench.assembled]
    side = bench.job.banks[0].boxes[0].inner_faces[0]
    assert (backs[0].notches[0].end - side, backs[0].holes[0].along - side) == pytest.approx(
        (1.375 * INCH, 9 / 32 * INCH), abs=0.02
    )
    assert [box.name for box in bench.job.all_boxes if box.hangers] == ["B5", "B6", "C5", "C6"]
    assert not [finding for finding in draft_findings(bench) if finding.stops]


def test_the_carcase_of_a_bench_stands_around_its_drawers(bench: JobDraft) -> None:
    """Four boards around, two dividers of 23/32; four stiles (2, 1 1/2, 1 1/2, 2) and two rails between the outer ones:
    70 1/2 less 1/4 at either end. Nothing of it stands where a part of a drawer does."""
    ((carcase, _banks),) = bench.job.carcases
    solids = divided_solids(carcase, 23.25 * INCH)
    spans = {str(part.label): (part.bounds[3] - part.bounds[0]) / INCH for part in solids}
    assert len(solids) == 4 + 2 + 4 + 2
    assert [spans[f"stile {number}"] for number in (1, 2, 3, 4)] == pytest.approx([2, 1.5, 1.5, 2])
    assert [spans["rail 1"], spans["upright divider 1"]] == pytest.approx([70, 23 / 32])
    bodies = {drawer.box.name: drawer for drawer in bench.assembled}
    for bank in bench.job.banks:
        places = {place.name: place for place in bank.bank.places()}
        for box in bank.boxes:
            x, y, z = places[box.name].origin(box)
            origin = x + bank.bank.opening.x, y, z + bank.bank.opening.z
            for placed in bodies[box.name].placed:
                low, high = (
                    [at + by for at, by in zip(corner, origin, strict=True)] for corner in placed.bounds
                )
                for part in solids:
                    apart = any(
                        part.bounds[axis + 3] <= low[axis] + 0.01 or high[axis] <= part.bounds[axis] + 0.01
                        for axis in range(3)
                    )
                    assert apart, (box.name, placed.part.label, part.label)


def test_inset_fronts_with_unequal_gaps(base: JobDraft) -> None:
    """Three columns of (1762 - 38) / 3; gaps of 2.5 and 4. The box is 12.7 from either side, so that its front stands
    10.2 beyond it on the left and 8.7 on the right."""
    column = (1762 - 2 * 19) / 3
    box = base.job.banks[0].boxes[0]
    assert box.width == pytest.approx(column - 2 * 12.7)
    assert box.lips == pytest.approx((10.2, 8.7))
    front = base.assembled[0].placed[0].part
    assert front.length == pytest.approx(column - 6.5)
    heights = [place.height for place in base.job.banks[0].bank.front_places()]
    assert heights == pytest.approx([120, 180, 720 - 3 - 5 - 2 * 2.5 - 300])


def test_a_false_front_and_a_tray(base: JobDraft) -> None:
    """Four equal fronts over 720 and 8 above and below; the top one has no drawer. The tray fills the drawer below it,
    2 less each way: the column less 25.4 and two sides of 14.7 (the mean of its readings)."""
    middle = base.job.banks[1]
    (false,) = middle.false_fronts
    side = (14.71 + 14.66 + 14.74) / 3
    assert (false.name, false.panel.height) == ("B1", pytest.approx((736 - 3 * 3) / 4))
    assert false.panel.width == pytest.approx((1762 - 38) / 3 + 16)
    (tray,) = base.job.boxes
    assert tray.width == pytest.approx((1762 - 38) / 3 - 25.4 - 2 * side - 2, abs=1e-3)


def test_lipped_fronts_over_a_divider_and_over_a_side(base: JobDraft) -> None:
    """4 over the divider, 9 over the side; runners 12.7: lips of 16.7 and 21.7, each a corner of its own."""
    box = base.job.banks[2].boxes[0]
    assert box.lips == pytest.approx((16.7, 21.7))
    assert [corner.key.lip for corner in box.corners] == pytest.approx([16.7, 21.7, 0, 0])


def test_a_wash_stand_behind_a_face_frame(wash_room: JobDraft) -> None:
    """Dividers of 3/4 at 15 and 42 3/4 in 58 1/2; stiles of 1 3/4 on boards of 3/4 stand in by 1, before dividers by
    1/2. Heights: 26 1/4 less 2 × 3/4. Fronts cover the outer stiles by 1/2, the middle ones by half of 1 3/4 less half
    of 1/8; 24 3/4 + 1 less two reveals in the ratio 1 : 1.25 : 1.5625. Inside 1 5/8 less than the opening, runners of
    18 in 20 1/2."""
    towels, basin, brushes = wash_room.job.banks[:3]
    assert [each.bank.opening.width for each in (towels, basin, brushes)] == near(13.5, 26, 13.5)
    assert towels.bank.opening.height == pytest.approx(24.75 * INCH)
    first = 25.5 / (1 + 1.25 + 1.5625)
    assert [place.height for place in towels.bank.front_places()] == near(first, 1.25 * first, 1.5625 * first)
    assert {round(place.width / INCH, 4) for place in towels.bank.front_places()} == {14.8125}
    assert [place.height for place in basin.bank.front_places()] == near(6, 25.75 - 0.25 - 14, 8)
    smallest = (25.75 - 3 / 8 - 6 * 3 / 4) / 4
    assert brushes.bank.front_places()[0].height == pytest.approx(smallest * INCH, abs=0.02)
    assert [box.name for box in basin.boxes] == ["B2", "B3"]  # before the basin a front without a drawer
    assert [box.inside_width for box in (towels.boxes[0], basin.boxes[0])] == near(13.5 - 1.625, 26 - 1.625)
    assert towels.boxes[0].depth == pytest.approx(18 * INCH)


def test_a_counter_that_is_open_on_both_sides(wash_room: JobDraft) -> None:
    """South: two columns of (34 1/2 - 3/4) / 2 less 3/8 of the middle stile, inset fronts 3/32 inside all round,
    runners of 1/2 on either side and 10 long behind a front of 0.7505; north: lipped, 3/8 over the sides and runners
    of 1/2."""
    first, _second, north = wash_room.job.banks[3:]
    opening = (34.5 - 0.75) / 2 - 3 / 8
    box = first.boxes[0]
    assert first.bank.opening.width == pytest.approx(opening * INCH)
    assert [box.width, *box.lips] == near(opening - 1, *2 * [(opening - 3 / 16 - opening + 1) / 2])
    assert [place.height for place in first.bank.front_places()] == near(5, 30 - 4 * 3 / 32 - 15.5, 10.5)
    assert [box.depth, north.boxes[0].depth] == near(10.7505, 10.7505)
    assert [north.boxes[0].width, *north.boxes[0].lips] == near(33.5, 7 / 8, 7 / 8)
    assert north.bank.front_places()[0].height == pytest.approx((30.75 - 3 / 8) / 4 * INCH)


def test_a_type_cabinet_on_wooden_runners(types: JobDraft) -> None:
    """680 and 1350 - 699 wide, 1000 - 479 and 460 high; fronts 2 inside all round: eight of (521 - 4 - 7 × 2) / 8 and
    four that grow by 12. Sides 3 less above and 1 below; 640 less 12 deep. A finger goes through: sides as long as the
    box."""
    above, right, below = types.job.banks[:3]
    assert [each.bank.opening.width for each in (above, right)] == pytest.approx([680, 651])
    assert above.bank.front_places()[0].height == pytest.approx(62.875)
    assert right.bank.front_places()[0].height == pytest.approx((517 - 5 * 2) / 6)
    assert [place.height for place in below.bank.front_places()] == pytest.approx([94.5, 106.5, 118.5, 130.5])
    assert [above.boxes[0].height, above.boxes[0].depth] == pytest.approx([62.875 - 4, 628])
    side = {drawer.box.name: drawer.placed[2].part.length for drawer in types.assembled}
    assert side["C1"] == pytest.approx(628)
    reach = next(corner.setting.engagement for corner in types.corners if "A1" in corner.drawers)
    assert side["A1"] == pytest.approx(628 - (20.05 - reach) - (11.87 - reach), abs=0.01)


def test_tall_pull_outs_with_upright_fronts(types: JobDraft) -> None:
    """264 less 2 × 12.7; fronts 264 + 2 × 16 wide, 1400 and 2050 + 26 - 3 - 1400 high, their grain upright: so long are
    they cut. The longest runner in 560 - 3 is 550; a pair of it carries 60 kg, and the drawer with its 38 does not fit.
    A slid bottom runs under the back: 550 less the front's 14.925, and 6 in its groove, less 1.5."""
    bank = types.job.banks[4]
    tall, low = bank.boxes
    assert [tall.width, tall.height, low.height, tall.depth] == pytest.approx([238.6, 1100, 400, 550])
    drawer = next(each for each in types.assembled if each.box.name == tall.name)
    front, bottom = (drawer.placed[place].part for place in (5, 4))
    assert (front.length, front.width) == pytest.approx((1400, 296))
    assert bottom.width == pytest.approx(550 - 14.925 + 6 - 1.5)
    overloaded = [finding for finding in draft_findings(types) if finding.code == "runner-overloaded"]
    assert {name for finding in overloaded for name in finding.drawers} == {"E1", "F1"}


def test_what_hangs_on_the_height_of_a_drawer_says_whose_it_is(types: JobDraft) -> None:
    """Sides of 94.5 - 4 and 12 more for each drawer below: four rows of fingers, two drawers with each."""
    found = [finding for finding in draft_findings(types) if finding.code == "uneven-end-fingers"]
    assert [finding.drawers for finding in found] == [(f"C{number}", f"D{number}") for number in (1, 2, 3, 4)]
    assert [finding.where.partition(":")[0] for finding in found] == ["C1, D1", "C2, D2", "C3, D3", "C4, D4"]
    # Fingers of 8 in 90.5: nine of them and two ends of (90.5 - 72) / 2.
    assert "an edge of 90.5 mm ends in fingers of 9.25 mm" in found[0].text
