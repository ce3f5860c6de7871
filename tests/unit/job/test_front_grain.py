"""The fibre of the fronts in every view of a bank from the front is that of their stock."""

from __future__ import annotations

from collections import Counter

from drawerwright.drawings.carcase_elevation import draw_carcase
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.scene import Fibres, Scene
from drawerwright.job.file.building import read_job
from drawerwright.job.job import Job
from drawerwright.job.papers.plan_views import chest_front

TEXT = """\
format: 1
job: Score chest
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[14.6]], sheets: [{length: 2500, width: 1250}]}
  board: {panel: mdf, nominal: 19, measured: [[19]], GRAIN, sheets: [{length: 2800, width: 2070}]}
openings:
  - {name: Chest, opening: {width: 500, height: 600, depth: 460}, dividers: {thickness: 18, horizontal: [300]}}
banks:
  - name: Scores
    opening: {of: Chest, row: 1}
    fronts: {style: applied, stock: board, heights: {equal: 2}, overlay: {sides: 9, top: 9, bottom: 7}, TURN}
    box: {all: ply}
"""


def views(grain: str, turn: str) -> list[Counter[float]]:
    """How many faces have their fibre in which direction: the chest, its carcase, its bank."""
    job: Job = read_job(TEXT.replace("GRAIN", grain).replace("TURN", turn))
    ((carcase, banks),) = job.carcases
    (bank,) = job.banks
    scenes: list[Scene] = [
        chest_front(job, job.style, room=(150.0, 110.0)),
        draw_carcase(carcase, banks, fibres=job.fibres),
        draw_elevation(bank.bank, fibre=bank.fibre),
    ]
    return [Counter(item.angle for item in scene.items if isinstance(item, Fibres)) for scene in scenes]


def test_fronts_of_fibreboard_have_no_grain() -> None:
    """Only the dividers keep theirs; two fronts have it level or upright where the stock has grain."""
    plain, level, upright = (
        views("grain: none", "grain_upright: false"),
        views("grain: length", "grain_upright: false"),
        views("grain: length", "grain_upright: true"),
    )
    assert [lying - bare for lying, bare in zip(level, plain, strict=True)] == [Counter({0.0: 2})] * 3
    assert [stands - bare for stands, bare in zip(upright, plain, strict=True)] == [Counter({90.0: 2})] * 3
    assert views("grain: none", "grain_upright: true") == plain
