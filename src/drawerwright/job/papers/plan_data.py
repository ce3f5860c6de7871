"""The whole plan as plain data: what `plan.json` holds.

Lengths are millimetres, rounded to a thousandth; every block says its unit where it is another.
"""

from __future__ import annotations

from drawerwright import __version__
from drawerwright.basics.errors import InvalidValueError
from drawerwright.drawers.parts import Part
from drawerwright.job.job import Job
from drawerwright.job.papers.csv_text import declared_dialect
from drawerwright.job.papers.drawer_data import drawers_data
from drawerwright.job.papers.joint_data import for_use_data
from drawerwright.job.papers.sheet_data import bands_data, sheets_data
from drawerwright.job.papers.stock_data import stock_data
from drawerwright.job.plain_data import Data, bench_data, finding_data, key_data, mm, setting_data
from drawerwright.job.planning.corners import PlainJobCorner
from drawerwright.job.planning.draft import Corner, CutterFences, JobDraft
from drawerwright.job.planning.fence_costs import choice_in_words
from drawerwright.job.planning.first_cut_odds import odds_data
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.planning.joints_for_use import joints_for_use
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import PlainCorner
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.targets import Target, card_targets, reading_remedies
from drawerwright.run.order import Run
from drawerwright.run.setups import SetUp
from drawerwright.run.times import RoutingEffort

REPORT_VERSION = 3
"""Rises when a reader of an older report could misread a newer one; a name that is only added leaves it as it is."""


def plan_report(plan: JobPlan) -> Data:
    """The complete plan as JSON-ready data."""
    return {
        "format": "drawerwright-plan",
        "version": REPORT_VERSION,
        "made_by": f"drawerwright {__version__}",
        "units": {
            "length": "mm",
            "area": "mm2",
            "angle": "deg",
            "time": "min",
            "speed": "1/min",
            "weight": "kg",
            "stress": "N/mm2",
        },
        "csv": declared_dialect(),
        "job": plan.job.name,
        "provisional": plan.is_provisional,
        "cutters": [_cutter(used.cutter) for used in plan.job.cutters_in_use],
        "machine": _machine(plan.job),
        "stock": [stock_data(stock.blanks.stock) for stock in plan.stocks],
        "drawers": drawers_data(plan),
        "settings": [_corner(corner) for corner in plan.corners],
        "plain_corners": [_plain_corner(corner, plan.draft) for corner in plan.draft.plain_corners],
        "fences": [_fences(fences) for fences in plan.draft.fences],
        "first_cut": odds_data(plan.odds),
        "parts": [_part(part, plan) for part in plan.parts],
        "bands": bands_data(plan.stocks, plan.run.bands),
        "sheets": [sheets_data(stock) for stock in plan.stocks],
        "run": _run(plan.run, plan.job.fit_range, plan.draft, plan.bench_setups),
        "strength": plan.strengths.data,
        "joints_for_use": for_use_data(joints_for_use(plan.draft)),
        "carcase": {
            "reference_edge": "lower edge of the opening for heights, left edge of the front for widths",
            "runner_lines": [
                {
                    "bank": line.bank,
                    "drawer": line.drawer,
                    "height": mm(line.height),
                    "above_carcase": mm(line.above_carcase),
                }
                for line in plan.runner_lines
            ],
            "openings": [
                {
                    "bank": bank.bank.name,
                    "carcase": bank.bank.opening.carcase.name if bank.bank.opening.carcase else None,
                    **{
                        size: mm(getattr(bank.bank.opening, size))
                        for size in ("x", "z", "width", "height", "depth")
                    },
                    "spacers": [mm(size) for size in bank.bank.opening.behind],
                }
                for bank in plan.job.banks
            ],
            "runners": [
                {
                    "bank": use.bank,
                    "sheet": use.name or None,
                    "kind": str(use.kind),
                    "length": None if use.length is None else mm(use.length),
                    "load_kg": None if use.rating is None else round(use.rating, 2),
                    "is_longest_that_fits": use.is_longest,
                    "pairs": use.pairs,
                }
                for use in plan.runner_uses
            ],
            "pull_holes": [
                {
                    "bank": hole.bank,
                    "drawer": hole.drawer,
                    "from_left": mm(hole.from_left),
                    "above_front": mm(hole.above_front),
                    "above_opening": mm(hole.above_opening),
                    "above_carcase": mm(hole.above_carcase),
                    "diameter": mm(hole.diameter),
                }
                for hole in plan.pull_holes
            ],
        },
        "cautions": list(plan.cautions),
        "findings": [finding_data(finding) for finding in plan.findings],
    }


def _cutter(cutter: Cutter) -> Data:
    return {
        "name": cutter.name,
        "id": cutter.key,
        "kind": str(cutter.kind),
        "mid_depth": mm(cutter.mid_depth.value),
        "mid_depth_uncertainty": cutter.mid_depth.uncertainty,
        "step": mm(cutter.step.value),
        "step_uncertainty": cutter.step.uncertainty,
        "slope": round(cutter.slope.value, 2),
        "assumed": [name for name in ("mid_depth", "step", "slope") if getattr(cutter, name).is_assumed],
        "points": None
        if cutter.edge is None
        else [[mm(depth), mm(inset)] for depth, inset in cutter.profile().points],
        "diameter": cutter.diameter,
        "cutting_height": cutter.cutting_height,
        "max_speed": cutter.max_speed,
    }


def _machine(job: Job) -> Data:
    return {
        "kerf": job.saw.kerf,
        "kerf_test": None
        if (test := job.saw.kerf_test) is None
        else {"before": mm(test.before), "after": mm(test.after), "cuts": test.cuts},
        "trim": job.saw.trim,
        "stack": job.saw.stack,
        "cutting_height": job.saw.cutting_height,
        "tolerance": job.saw.tolerance,
        "sacrificial_strip": job.band_rules.sacrificial_strip,
        "sacrificial_ends": job.band_rules.sacrificial_ends,
        "tallest_upright": job.table.tallest_upright,
        "longest_band": job.band_rules.longest_band,
        "shortest_piece": job.band_rules.shortest_piece,
        "height_gauge_offset": job.table.height_gauge.value,
        "fence_gauge_offset": job.table.fence_gauge.value,
        "largest_fence_setting": job.table.largest_fence_setting,
        "feed": str(job.table.feed),
        "height_gauge_offset_uncertainty": job.table.height_gauge.uncertainty,
        "fence_gauge_offset_uncertainty": job.table.fence_gauge.uncertainty,
        "repeatability": job.table.dialling.uncertainty,
        "calipers": job.calipers_zero.uncertainty,
        "assumed": [
            name
            for name, known in (
                ("height_gauge_offset", job.table.height_gauge),
                ("fence_gauge_offset", job.table.fence_gauge),
                ("repeatability", job.table.dialling),
                ("calipers", job.calipers_zero),
            )
            if known.is_assumed
        ],
        "speeds": list(job.table.speeds),
    }


def _plain_corner(corner: PlainJobCorner, draft: JobDraft) -> Data:
    """A corner that no self-mating cutter makes; `edges` are the heights in which its drawers have it."""
    edges: dict[float, list[str]] = {}
    for drawer in draft.assembled:
        for keyed, height in drawer.plain_corners:
            if keyed.key == corner.key and drawer.box.name not in edges.setdefault(mm(height), []):
                edges[mm(height)].append(drawer.box.name)
    made = corner.keyed.made
    return {
        "name": corner.name,
        "key": key_data(corner.key),
        "drawers": list(corner.drawers),
        "flat_thickness": mm(made.corner.flat_thickness),
        "upright_thickness": mm(made.corner.upright_thickness),
        "engagement": mm(made.engagement),
        "lip": mm(made.seated_lip),
        "off": {name: mm(known.value) for name, known in draft.job.learnt_off(corner.key).items()},
        "edges": [
            {"height": height, "drawers": drawers, **_edge(made, height)} for height, drawers in edges.items()
        ],
    }


def _edge(made: PlainCorner, height: float) -> Data:
    """What follows in an edge of this height; nothing where it cannot be made so, as a finding says."""
    try:
        return bench_data(made, height)
    except InvalidValueError:
        return {}


def _corner(corner: Corner) -> Data:
    return {
        "name": corner.name,
        "key": key_data(corner.key),
        "drawers": list(corner.drawers),
        "flat_thickness": mm(corner.setting.corner.flat_thickness),
        "upright_thickness": mm(corner.setting.corner.upright_thickness),
        **setting_data(corner.setting),
        "tight_bit_height": mm(corner.setting.tight_bit_height),
        "play": None if corner.setting.play is None else mm(corner.setting.play),
    }


def _fences(fences: CutterFences) -> Data:
    """How the fence positions for one cutter were chosen, and what each way to choose them costs."""
    wishes, choice = fences.cutter.fences, fences.choice
    return {
        "cutter": fences.cutter.key,
        "plan": str(wishes.plan),
        "given_positions": list(wishes.positions),
        "flushness": wishes.flushness,
        "text": str(choice_in_words([fences])),
        "compared": [
            {
                "plan": str(compared.routine),
                "positions": [mm(position) for position in compared.positions],
                "moves": compared.moves,
                "thinnest_neck": None if compared.thinnest_neck is None else mm(compared.thinnest_neck),
                "lip_error": mm(compared.lip_error),
                "keeps_limits": compared.keeps_limits,
                "used": compared is choice.chosen,
                "lower_bound": compared.lower_bound,
                "proven": compared.is_proven,
                "ties_open": compared.ties_open,
            }
            for compared in choice.compared
        ],
    }


def _part(part: Part, plan: JobPlan) -> Data:
    """One part with its sizes, ends, groove and the set-ups it passes through."""
    groove = part.groove
    return {
        "label": part.label,
        "drawer": part.drawer,
        "kind": str(part.kind),
        "stock": part.stock.name,
        "thickness": mm(part.thickness),
        "length": mm(part.length),
        "width": mm(part.width),
        "cut_length": mm(part.blank_length),
        "cut_width": mm(part.blank_width),
        "trimmed": {"length": mm(part.cut_length), "width": mm(part.cut_width)} if part.oversize else None,
        "grain": "along the length" if str(part.stock.grain) != "none" else "none",
        "handed": part.is_handed,
        "ends": [
            {
                "role": str(end.role),
                "corner": plan.draft.corner_name(end.corner),
                "corner_key": end.corner.token,
                "lip": mm(end.corner.lip),
                "setup": plan.setup_of_end(part, index),
            }
            for index, end in enumerate(part.ends)
        ],
        "groove": {"height": mm(groove.height), "width": mm(groove.width), "depth": mm(groove.depth)}
        if groove
        else None,
        "banding": {
            "thickness": part.banding,
            "long_edges": part.banded_long_edges,
            "short": part.banded_short_edges,
        }
        if part.banding and (part.banded_long_edges or part.banded_short_edges)
        else None,
    }


def _run(run: Run, fit: FitRange, draft: JobDraft, bench_setups: int) -> Data:
    effort = run.effort
    return {
        "setups": [_setup(setup, fit, draft) for setup in run.setups],
        "steps": [
            {
                "number": step.number,
                "title": step.title,
                "machine": step.machine,
                "setup": step.setup,
                "saw_setting": None
                if step.sawing is None or step.sawing.setting is None
                else mm(step.sawing.setting),
                "minutes": round(step.minutes, 1),
                "lines": list(step.lines),
            }
            for step in run.steps
        ],
        "saw_cuts": effort.saw_cuts,
        "saw_fence_settings": effort.saw_fence_settings,
        "router_setups": effort.router_setups,
        "bench_setups": bench_setups,
        "minutes": round(effort.minutes),
        "routing_by_bands": _effort(effort.by_bands),
        "routing_part_by_part": _effort(effort.by_parts),
    }


def _effort(effort: RoutingEffort) -> Data:
    return {"passes": effort.passes, "metres": round(effort.metres, 2), "minutes": round(effort.minutes, 1)}


def _setup(setup: SetUp, fit: FitRange, draft: JobDraft) -> Data:
    return {
        "number": setup.number,
        "cutter": setup.cutter.key,
        "bit_height": mm(setup.bit_height),
        "fence": mm(setup.fence),
        "height_reading": mm(setup.height_reading),
        "fence_reading": mm(setup.fence_reading),
        "passes": [
            {
                "family": cut.family.key,
                "role": str(cut.role),
                "edges": str(cut.edges),
                "bands": len(cut.bands),
                "routed_length": mm(cut.routed_length),
            }
            for cut in setup.passes
        ],
        "expected_readings": [
            {"corner": draft.corner(key).name, **_target(target, setting)}
            for key, setting in setup.corners.items()
            for target in card_targets(setting, fit)
            if target.reading.piece in setup.roles(setting)
        ],
    }


def _target(target: Target, setting: CornerSetting) -> Data:
    """A reading of the test pieces: what to expect, the range that still fits, what to change when it is off."""
    reading = target.reading
    return {
        "piece": reading.piece,
        "what": reading.what,
        "reading": str(reading.kind),
        "value": mm(reading.value),
        "fits_from": mm(target.low),
        "fits_to": mm(target.high),
        "when_off": [
            {
                "off": mm(row.off),
                "change": str(row.cause),
                "by": mm(row.change),
                "play": mm(row.play),
                "stands_proud": mm(row.proud),
            }
            for row in reading_remedies(setting, reading.kind)
        ],
    }
