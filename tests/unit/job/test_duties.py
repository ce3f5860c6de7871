"""What a job file says of loads, use and climates reaches its drawers; what it cannot mean is told with its place."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawers.duty import Contents, Duty, Use
from drawerwright.job.file.building import read_job
from drawerwright.job.job import Job
from drawerwright.job.papers.stock_data import stock_data
from drawerwright.wood.moisture import CLIMATES, USUAL_CLIMATE, Air
from drawerwright.wood.movement import Sawn
from drawerwright.wood.stock import stock_findings

CHEST = """
format: 1
job: duties
cutter: {kind: drawer-lock, mid_depth: 5.65, step: 3.45, slope: 55}
stock:
  oak: {panel: solid, species: white oak, cut: radial, moisture: 9.5, nominal: 15, sheets: [{length: 2000, width: 300}]}
  ply: {panel: birch-plywood, nominal: 6.5, sheets: [{length: 1500, width: 1500}]}
climates:
  loft: {dry: {temperature: 20, humidity: 30}, damp: {temperature: 30, humidity: 70}}
climate: loft
use: daily
sag: {span_over: 150, most: 2}
banks:
  - name: Scores
    opening: {width: 460, height: 400, depth: 430}
    fronts: {style: lipped, heights: {equal: 2}, reveal: 3, overlay: {sides: 7}}
    box: {all: oak}
    bottom: {stock: ply}
    load: 22 lb
boxes:
  - name: Tray
    outer: {width: 300, depth: 250, height: 80}
    box: {all: oak}
    bottom: {stock: ply}
    contents: paper
    use: heavy
    climate: damp-cellar
"""


def faults(text: str) -> list[str]:
    with pytest.raises(FaultyInputError) as told:
        read_job(text)
    return [str(fault) for fault in told.value.faults]


def read() -> Job:
    return read_job(CHEST)


def test_the_species_that_is_taken_is_said_back() -> None:
    """White oak is a group that is sold as one, and a single species of Table 4-3."""
    oak = read().stock["oak"]
    assert (oak.species_said, oak.species_could_be) == ("white oak", ("Oak, white",))
    assert oak.species is not None
    assert oak.species.name == "White oak, commercial"
    (told,) = (each for each in stock_findings(oak) if each.code == "species-could-be-another")
    assert told.text == "'white oak' is taken as White oak, commercial; Oak, white could be meant as well."
    data = stock_data(oak)
    assert (data["species"], data["species_said"]) == ("White oak, commercial", "white oak")
    assert (data["species_could_be"], data["cut"], data["moisture_read"]) == (["Oak, white"], "radial", 9.5)
    for name, species in (("Oak, white", "Oak, white"), ("sugar maple", "Maple, sugar")):
        clear = read_job(CHEST.replace("species: white oak", f'species: "{name}"')).stock["oak"]
        assert clear.species is not None
        assert clear.species.name == species
        assert not clear.species_could_be


def test_what_is_said_below_a_bank_goes_before_what_the_job_says() -> None:
    scores, _, tray = read().all_boxes
    assert scores.duty.load == pytest.approx(9.979, abs=1e-3)
    assert scores.duty.use is Use.DAILY
    assert scores.duty.climate.damp == Air(30, 70)
    assert tray.duty == Duty(None, Contents.PAPER, Use.HEAVY, CLIMATES["damp-cellar"])


def test_where_nothing_is_said_nothing_is_assumed_but_the_room() -> None:
    silent = CHEST.replace("climate: loft\nuse: daily\n", "").replace("    load: 22 lb\n", "")
    first = read_job(silent).all_boxes[0]
    assert first.duty == Duty()
    assert first.duty.climate is USUAL_CLIMATE


def test_stock_knows_its_wood() -> None:
    job = read()
    oak = job.stock["oak"]
    assert oak.species is not None
    assert (oak.species.name, oak.sawn, oak.moisture) == ("White oak, commercial", Sawn.RADIAL, 9.5)
    assert job.stock["ply"].species is None
    assert (job.sag_limit.span_over, job.sag_limit.most) == (150, 2)


def test_a_full_drawer_weighs_what_fills_it() -> None:
    litre = 1e6
    assert Duty(contents=Contents.PAPER).carried(20 * litre) == pytest.approx(12)
    assert Duty(load=3).carried(20 * litre) == 3
    assert Duty().carried(20 * litre) is None


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            "species: white oak",
            "species: whyte oke",
            "oak.species: no figures are known for the species 'whyte oke'",
        ),
        ("climate: loft", "climate: attic", "climate: there is no climate 'attic'; known are damp-cellar"),
        (
            "    load: 22 lb",
            "    load: 5\n    contents: paper",
            "banks[1].contents: is given as well as 'load'",
        ),
        ("moisture: 9.5", "moisture: 95", "oak.moisture"),
        ("humidity: 70", "humidity: 7", "climates.loft.damp: the dry end of loft"),
        ("humidity: 70", "humidity: 170", "climates.loft.damp.humidity"),
        ("panel: solid, ", "panel: plywood, ", "oak.species: belongs to solid wood"),
        ("contents: paper", "contents: feathers", "boxes[1].contents"),
    ],
)
def test_what_cannot_be_meant_is_told_with_its_place(old: str, new: str, says: str) -> None:
    assert any(says in fault for fault in faults(CHEST.replace(old, new, 1)))
