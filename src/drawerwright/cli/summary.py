"""What `plan` says on the terminal."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console

from drawerwright.basics.findings import Finding, grouped
from drawerwright.basics.lengths import LengthStyle, fixed
from drawerwright.basics.phrases import Phrase, plural
from drawerwright.cli.tables import Listing, terminal
from drawerwright.job.job import Job
from drawerwright.job.papers.bench_cards import bench_corners
from drawerwright.job.papers.shopping import money_words
from drawerwright.job.planning.fence_costs import choice_in_words, compared_plans
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.planning.odds_words import doubt_words, percent, unknown_odds_words
from drawerwright.job.planning.what_if import WhatIf, what_if_words
from drawerwright.job.planning.within_stock import WithinStock, within_stock_words
from drawerwright.job.test_cuts.correcting import first_reading_words


def print_summary(plan: JobPlan, console: Console | None = None) -> None:
    """Print the settings, sheets, effort and findings of a plan."""
    console = console or terminal()
    console.print(plan.job.name, style="bold")
    _print_stops((plan.findings,), plan.job.style, console)
    if plan.is_provisional:
        names = ", ".join(plan.unmeasured)
        console.print(f"Settings are provisional; not measured yet: {names}.", markup=False)

    style = plan.job.style
    _print_bench_corners(plan, console)
    if plan.corners:
        _print_settings(plan, console)

    sheets = Listing("Sheets", ("stock", "size", "sheets", "cost"), words=("size",))
    for stock in plan.stocks:
        for line in stock.sheets.shopping_list:
            cost = "" if line.cost is None else style.say(money_words(line.cost))
            sheets.add_row(stock.blanks.stock.name, style.say(line.size.label), str(line.count), cost)
    console.print(sheets)

    aims = Listing(
        "How equal-cost plans were ranked",
        ("stock", "offcuts used", "routed", "bands", "rip settings", "largest left"),
    )
    for stock in plan.stocks:
        figures = stock.sheets.figures
        aims.add_row(
            stock.blanks.stock.name,
            str(figures.offcuts_used),
            style.show_run(figures.routed_length),
            str(figures.bands),
            str(figures.fence_settings),
            style.show_area(figures.largest_offcut),
        )
    console.print(aims)

    effort = plan.run.effort
    bands, parts = effort.by_bands, effort.by_parts
    console.print(
        f"{plural('{count} drawer', '{count} drawers', len(plan.job.all_boxes))}, {len(plan.parts)} parts, "
        f"{plural('{count} set-up', '{count} set-ups', plan.setups)}, "
        f"{effort.saw_cuts} saw cuts, about {style.say(_hours(plan))} h of work."
    )
    if plan.corners:
        console.print(
            f"Routing: {bands.passes} passes and {style.show_run(1000 * bands.metres)} in bands "
            f"({bands.minutes:.0f} min); "
            f"part by part {parts.passes} passes and {style.show_run(1000 * parts.metres)} ({parts.minutes:.0f} min)."
        )
    for levels in plan.groove_levels:
        console.print(plan.job.style.say(levels.sentence))
    for finding in plan.finding_groups:
        if not finding.stops:
            console.print(finding.as_one.told(style))


def _print_settings(plan: JobPlan, console: Console) -> None:
    """Settings of the corners that cutters make, their odds and readings, and the fence positions."""
    style = plan.job.style
    corners = Listing(
        f"Corners ({style.typed_unit}): true sizes to dial in, with the tight height (no play) in brackets",
        ("corner", "bit height", "(tight)", "fence flat", "fence upright", "lip", "neck", "roof"),
    )
    for corner in plan.corners:
        setting = corner.setting
        shown = [
            style.show(value, fine=True, with_unit=False)
            for value in (
                setting.bit_height,
                setting.tight_bit_height,
                setting.fence_flat,
                setting.fence_upright,
                setting.shown_lip,
            )
        ]
        # A lock-mitre has neither; where a drawer-lock has none, a finding says so.
        shown += [
            style.show(wood, fine=True, with_unit=False) if wood > 0 else "none"
            for wood in (setting.neck, setting.roof)
        ]
        shown[1] = f"({shown[1]})"
        corners.add_row(style.say(corner.name), *shown)
    console.print(corners)

    _print_first_cuts(plan, console)

    _print_first_readings(plan, console)

    has_several = len(plan.draft.fences) > 1
    heads = (*(("cutter",) if has_several else ()), "plan", "", "moves", "thinnest neck", " ")
    fences = Listing("Fence positions", heads, words=("plan", "", " "))
    for compared in compared_plans(plan.draft.fences):
        neck = compared.plan.thinnest_neck
        fences.add_row(
            *((compared.cutter,) if has_several else ()),
            style.say(compared.name),
            style.say(compared.words),
            str(compared.plan.moves),
            "" if neck is None else style.show(neck, fine=True),
            style.say(compared.standing),
        )
    console.print(fences)
    console.print(style.say(choice_in_words(plan.draft.fences)))


def _print_bench_corners(plan: JobPlan, console: Console) -> None:
    """What is set for corners that no self-mating cutter makes."""
    style = plan.job.style
    for bench in bench_corners(plan.draft):
        columns = [figures for _, figures in bench.figures]
        heads = (style.say(whose) for whose, _ in bench.figures)
        table = Listing(f"{style.say(bench.corner.name)} ({style.typed_unit})", ("to set", *heads))
        for rows in zip(*columns, strict=True):
            sizes = (style.show(figure.value, fine=True, with_unit=False) for figure in rows)
            table.add_row(style.say(rows[0].words), *sizes)
        console.print(table)


def _print_stops(found: Sequence[Sequence[Finding]], style: LengthStyle, console: Console) -> None:
    """What must be settled before anything is cut, before all else; of a job split into days, day by day."""
    lines = []
    for day, findings in enumerate(found, start=1):
        when = f"day {day}: " if len(found) > 1 else ""
        stops = [group.as_one for group in grouped(findings) if group.stops]
        say = style.say
        lines += [f"STOP {when}{say(f.where)}: {say(f.text)} {say(f.remedy)} ({f.code})" for f in stops]
    if lines:
        console.print("STOP: do not cut until this is settled.", style="bold reverse")
        for line in lines:
            console.print(line, style="bold")
        console.print()


def _print_first_cuts(plan: JobPlan, console: Console) -> None:
    if plan.odds.least_sure is None:
        return
    least_sure, worst = plan.odds.least_sure
    if worst.is_judged:
        is_kept = any(joint.aim_change for _, joint in plan.odds.corners)
        kept = ("at recommended height", "fit and lip there") if is_kept else ()
        title = f"{'Next' if worst.is_next else 'First'} cut: how often it comes out right"
        odds = Listing(title, ("what", "fit and lip", "fit", "lip", *kept))
        for corner, joint in plan.odds.corners:
            odds.add_row(
                plan.job.style.say(corner.name),
                *(percent(share) for share in (joint.odds.both, joint.odds.fits, joint.odds.flush)),
                *(
                    (plan.job.style.show(joint.aimed_height, fine=True), percent(joint.aimed.both))
                    if is_kept
                    else ()
                ),
            )
        for bank in plan.odds.together:
            odds.add_row(
                f"{bank.name}: all {bank.joints} joints",
                *(percent(share) for share in (bank.odds.both, bank.odds.fits, bank.odds.flush)),
                *(("the same", percent(bank.aimed.both)) if is_kept else ()),
            )
        console.print(odds)
        if len(plan.odds.corners) > 1:
            console.print(f"Of the least sure corner, {plan.job.style.say(least_sure.name)}:")
    for line in doubt_words(worst) if worst.is_judged else (unknown_odds_words(),):
        console.print(plan.job.style.say(line))


def _print_first_readings(plan: JobPlan, console: Console) -> None:
    console.print("Measure on the test cut, then run `drawerwright correct` (docs/test-cuts.md):")
    style = plan.job.style
    for corner in plan.corners:
        asked = first_reading_words(plan.job, corner.setting)
        console.print(f"  {style.say(corner.name)}: {'; '.join(map(style.say, asked))}")
    console.print()


def print_days(job: Job, plans: Sequence[JobPlan], console: Console | None = None) -> None:
    """Print what is cut on each day, and from what."""
    console = console or terminal()
    console.print(job.name, style="bold")
    _print_stops([plan.findings for plan in plans], job.style, console)
    heads = ("day", "drawers", "new sheets", "cost", "offcuts used", "set-ups", "hours")
    days = Listing("Day by day", heads, words=("drawers",))
    for number, plan in enumerate(plans, start=1):
        figures = [stock.sheets.figures for stock in plan.stocks]
        costs = [stock.sheets.cost for stock in plan.stocks]
        known = [cost for cost in costs if cost is not None]
        days.add_row(
            str(number),
            ", ".join(box.name for box in plan.job.all_boxes),
            str(sum(figure.new_sheets for figure in figures)),
            job.style.say(money_words(sum(known))) if len(known) == len(costs) else "",
            str(sum(figure.offcuts_used for figure in figures)),
            str(plan.setups),
            job.style.say(_hours(plan)),
        )
    console.print(days)
    for number, plan in enumerate(plans, start=1):
        for finding in plan.finding_groups:
            if not finding.stops:
                console.print(f"day {number}: {finding.as_one.told(job.style)}")


def print_what_if(found: WhatIf, style: LengthStyle, console: Console | None = None) -> None:
    """Print what else the sheets could be."""
    console, say = console or terminal(), style.say
    if found.alternatives:
        heads = ("stock", "with this change", "new sheets", "cost", "saving")
        table = Listing("What if", heads, words=("with this change",))
        for each in found.alternatives:
            plan, saving = each.alternative.plan, each.alternative.saving
            figures = (
                ("", "", "")
                if plan is None or saving is None
                else (
                    str(plan.figures.new_sheets),
                    "" if plan.cost is None else say(money_words(plan.cost)),
                    say(_saved(saving, in_money=each.alternative.saves_money)),
                )
            )
            reason = f" ({say(each.alternative.reason)})" if each.alternative.reason else ""
            table.add_row(each.stock, say(each.alternative.change) + reason, *figures)
        console.print(table)
    for line in what_if_words(found):
        console.print(say(line))


def _hours(plan: JobPlan) -> Phrase:
    return Phrase("{hours:.1f}", {"hours": plan.run.effort.minutes / 60})


def _saved(saving: float, *, in_money: bool) -> str:
    if saving == 0:
        return "no saving"
    return money_words(saving) if in_money else _sheets(saving)


def _sheets(count: float) -> str:
    return f"{fixed(count, 0)} sheet" if abs(count) == 1 else f"{fixed(count, 0)} sheets"


def print_within_stock(found: WithinStock, on_hand: int | None, console: Console | None = None) -> None:
    """Print how many drawers the sheets on hand give, and what stays of them."""
    console = console or terminal()
    say = found.plan.job.style.say
    for line in within_stock_words(found, on_hand):
        console.print(say(line))
    sheets = Listing("Sheets on hand", ("size", "cut up", "stay whole"))
    for use in found.sizes:
        sheets.add_row(say(use.size.label), str(use.used), "" if use.left is None else str(use.left))
    console.print(sheets)
    style = found.plan.job.style
    for stock, offcuts in found.offcuts:
        kept = (f"{style.show(o.length, with_unit=False)} × {style.show(o.width)}" for o in offcuts)
        console.print(f"{stock}, left over and worth keeping: {', '.join(kept) or 'nothing'}.")
