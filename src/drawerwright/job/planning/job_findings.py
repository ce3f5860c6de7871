"""All findings about a job, gathered from the rooms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from drawerwright.basics.errors import NoPlanError
from drawerwright.basics.findings import Finding, Severity, about
from drawerwright.basics.lengths import millimetres
from drawerwright.basics.names import names_in_row, places_in_row
from drawerwright.basics.phrases import joined, phrase, plural
from drawerwright.basics.told_lengths import GAUGE_EXAMPLE
from drawerwright.drawers.carcase_findings import carcase_findings
from drawerwright.drawers.drawer_findings import bank_findings, drawer_findings
from drawerwright.drawers.pull_findings import pull_findings
from drawerwright.drawers.runner_findings import runner_findings
from drawerwright.drawers.tray_findings import tray_findings
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.duty_findings import duty_findings
from drawerwright.joints.assumptions import assumption_findings, cutter_measures, gauge_measures
from drawerwright.joints.corner_findings import height_findings, lip_findings, setting_findings
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_named
from drawerwright.joints.reach import Reach
from drawerwright.joints.table import RouterTable
from drawerwright.run.run_findings import family_findings
from drawerwright.run.speeds import advise_speed
from drawerwright.sheets.plan import check_problem
from drawerwright.sheets.problem import SheetPlan
from drawerwright.wood.stock import Stock, stock_findings, thickness_slip
from drawerwright.wood.thickness import Panel


def draft_findings(draft: JobDraft) -> tuple[Finding, ...]:
    """Everything doubtful about a job that shows before its sheets are planned, the gravest first."""
    job = draft.job
    found: list[Finding] = [*job.doubts]
    for stock in dict.fromkeys(part.stock for part in draft.parts):
        found += about(stock_findings(stock), _drawers_of(stock, draft), stock.name)
    asked = {doubt.entry for doubt in job.doubts if doubt.code == "unit-unlikely"}
    for name, stock in job.stock.items():
        slip = thickness_slip(stock.thickness.nominal, phrase("stock {name}", name=stock.name))
        if slip is not None and ("stock", name, "nominal") not in asked:
            found += about([slip], _drawers_of(stock, draft), stock.name)
    for bank in job.banks:
        drawers = draft.drawers_of(bank)
        found += bank_findings(bank.bank, [drawer.box.name for drawer in drawers])
        found += runner_findings(bank.bank, drawers)
        found += pull_findings(bank.bank, drawers)
    found += carcase_findings([bank.bank for bank in job.banks])
    for drawer in draft.assembled:
        found += drawer_findings(drawer, job.heights_of(drawer.box), is_loose=drawer.box in job.boxes)
    found += tray_findings(job.all_boxes)
    found += duty_findings(draft)
    found += joint_findings(draft)
    found += [_stale_lessons(cutter.name) for cutter in job.cutters_in_use if cutter.has_stale_lessons]
    found += _table_findings(draft)
    found += _saw_findings(draft)
    found += _assumptions(job)
    found += _fitting_findings(draft)
    return gravest_first(found)


def joint_findings(draft: JobDraft) -> tuple[Finding, ...]:
    """What is doubtful about the corners of a job, whatever makes them."""
    job = draft.job
    found: list[Finding] = []
    for corner in draft.corners:
        found += about(
            setting_findings(corner.setting, corner.name, job.table.largest_fence_setting), corner.drawers
        )
    found = _mended_as_one(found)
    for corner in draft.corners:
        heights = job.cutter_of(corner.key.cutter).heights
        found += about(height_findings(corner.setting, corner.name, heights), corner.drawers)
        found += about(lip_findings(corner.setting, corner.name, job.fit_range), corner.drawers)
    found += _edge_findings(draft)
    for plain in draft.plain_corners:
        made = plain.keyed.made
        found += about(joint_named(made.kind).findings(made, plain.name, Reach()), plain.drawers)
    return tuple(found)


def _edge_findings(draft: JobDraft) -> list[Finding]:
    """What hangs on how high a drawer is. Where a corner is made in several heights, each says whose it is."""
    told: dict[tuple[CornerKey, Finding], list[str]] = {}
    for drawer in draft.assembled:
        for keyed, height in drawer.plain_corners:
            joint, name = joint_named(keyed.key.joint), draft.corner_name(keyed.key)
            for finding in joint.edge_findings(keyed.made, name, height):
                told.setdefault((keyed.key, finding), []).append(drawer.box.name)
    every = {plain.key: set(plain.drawers) for plain in draft.plain_corners}
    return [
        replace(
            finding,
            where=finding.where
            if every[key] == set(drawers)
            else joined((names_in_row(list(dict.fromkeys(drawers))), finding.where), ": "),
            drawers=tuple(dict.fromkeys(drawers)),
        )
        for (key, finding), drawers in told.items()
    ]


def _mended_as_one(findings: Iterable[Finding]) -> list[Finding]:
    """What is mended by one change, as the lips of several fronts that are all too large for one cutter, said once, of
    the first of them, whatever else is wrong with it; what is said in the same words anyway stays as it is."""
    alike: dict[tuple[Severity, str], list[Finding]] = {}
    for finding in findings:
        alike.setdefault((finding.severity, str(finding.remedy) or finding.code), []).append(finding)
    told: list[Finding] = []
    for first, *others in alike.values():
        if not others or any(other.text == first.text for other in others):
            told += [first, *others]
            continue
        places = [where for where in dict.fromkeys(other.where for other in others) if where != first.where]
        likewise = [phrase("Likewise: {places}.", places=places_in_row(places))] if places else []
        told.append(
            replace(
                first,
                text=joined([first.text, *likewise], " "),
                drawers=tuple(dict.fromkeys(name for each in (first, *others) for name in each.drawers)),
            )
        )
    return told


def _drawers_of(stock: Stock, draft: JobDraft) -> tuple[str, ...]:
    """The drawers that have a part of a stock."""
    return tuple(dict.fromkeys(part.drawer for part in draft.parts if part.stock.name == stock.name))


def _stale_lessons(where: str) -> Finding:
    return Finding(
        "test-cuts-out-of-force",
        Severity.NOTE,
        where,
        phrase("the cutter or the gauges have changed since the test cuts, so their results are not used."),
        phrase("Make a test cut, or let the job forget what it learnt."),
    )


def _assumptions(job: Job) -> list[Finding]:
    """What is only assumed of each cutter, and of the gauges and calipers that they share."""
    cutters = [cutter.cutter for cutter in job.cutters_in_use]
    if (
        not cutters
    ):  # Only the settings of a self-mating cutter, and their odds, rest on how well gauges are known.
        return []
    shared = (*gauge_measures(job.table), (phrase("the calipers' zero"), job.calipers_zero))
    return [
        *(found for cutter in cutters for found in assumption_findings(cutter_measures(cutter), cutter.name)),
        *assumption_findings(shared, phrase("gauges and calipers"), GAUGE_EXAMPLE),
    ]


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings without doubles, what stops the work before what is only worth knowing."""
    order = list(reversed(Severity))
    return tuple(sorted(dict.fromkeys(findings), key=lambda finding: order.index(finding.severity)))


def _fitting_findings(draft: JobDraft) -> list[Finding]:
    found = []
    for blanks in draft.blanks:
        try:
            check_problem(draft.sheet_problem(blanks))
        except NoPlanError as error:
            parts = [part for key in error.keys for part in blanks.members.get(key, ())]
            found.append(
                Finding(
                    "part-fits-no-sheet",
                    Severity.STOP,
                    phrase("stock {name}", name=blanks.stock.name),
                    str(error),
                    phrase("Or glue up a wider panel. There is no packet until this is settled.")
                    if blanks.stock.panel is Panel.SOLID
                    else phrase("There is no packet until this is settled."),
                    tuple(dict.fromkeys(part.drawer for part in parts)) or _drawers_of(blanks.stock, draft),
                    blanks.stock.name,
                )
            )
    return found


def _table_findings(draft: JobDraft) -> list[Finding]:
    job = draft.job
    families = [family for blanks in draft.blanks for family in blanks.families]
    found = [*family_findings(families, job.table, job.band_rules, job.saw)]
    for cutter in job.cutters_in_use:
        only = len(job.cutters_in_use) == 1
        drawers = () if only else job.drawers_of(cutter)
        found += about(_speed_findings(cutter.cutter, job.table), drawers)
    return found


def _saw_findings(draft: JobDraft) -> list[Finding]:
    """Where the blade does not reach through a sheet, or not through as many as were to be stacked."""
    saw, found = draft.job.saw, []
    for blanks in draft.blanks:
        stock = blanks.stock
        thick = stock.thickness.value
        if saw.cutting_height is None or saw.stack * thick <= saw.cutting_height:
            continue
        where = phrase("stock {name}", name=stock.name)
        height = millimetres(saw.cutting_height, "g")
        if thick > saw.cutting_height:
            found.append(
                Finding(
                    "sheet-above-blade",
                    Severity.STOP,
                    where,
                    phrase(
                        "a sheet is {thick} thick, the blade cuts {height}.",
                        thick=millimetres(thick),
                        height=height,
                    ),
                    phrase("Check the cutting height, or cut this stock on another saw."),
                    _drawers_of(stock, draft),
                    stock.name,
                )
            )
            continue
        found.append(
            Finding(
                "stack-above-blade",
                Severity.NOTE,
                where,
                phrase(
                    "a stack of {count} is {thick} thick, the blade cuts {height}.",
                    count=saw.stack,
                    thick=millimetres(saw.stack * thick),
                    height=height,
                ),
                plural(
                    "Planned for {count} sheet at a time.",
                    "Planned for {count} sheets at a time.",
                    saw.stack_of(thick),
                ),
                _drawers_of(stock, draft),
                stock.name,
            )
        )
    return found


def _speed_findings(cutter: Cutter, table: RouterTable) -> list[Finding]:
    found = []
    advice = advise_speed(cutter, table)
    if advice is None:
        found.append(
            Finding(
                "speed-unknown",
                Severity.WARNING,
                cutter.name,
                phrase("neither its diameter nor its top speed is given."),
                phrase("Enter what is marked on the cutter."),
            )
        )
    elif advice.choose is None and table.speeds:
        found.append(
            Finding(
                "spindle-too-fast",
                Severity.STOP,
                cutter.name,
                phrase(
                    "the slowest spindle speed, {slowest:,.0f} 1/min, is above the limit of "
                    "{limit:,.0f} 1/min ({source}).",
                    slowest=min(table.speeds),
                    limit=advice.limit,
                    source=advice.source,
                ),
                phrase("Do not run this cutter on this machine."),
            )
        )
    return found


def sheet_findings(plans: Sequence[SheetPlan]) -> list[Finding]:
    """What is doubtful about the sheets as planned."""
    return [
        Finding(
            "sheets-not-proven",
            Severity.NOTE,
            phrase("stock {stock}", stock=plan.problem.stock),
            phrase(
                "the plan costs {cost:g}; no plan costs less than {bound:g}, and time ran out "
                "before the gap was closed.",
                cost=plan.cost,
                bound=plan.lower_bound,
            )
            if plan.cost is not None
            else phrase(
                "the plan takes {count} new sheets; no plan takes fewer than {bound:g}, and "
                "time ran out before the gap was closed.",
                count=plan.figures.new_sheets,
                bound=plan.lower_bound,
            ),
            phrase("Allow the search more time if one sheet fewer would matter."),
            stock=plan.problem.stock,
        )
        for plan in plans
        if not plan.proven
    ]
