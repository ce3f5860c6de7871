"""A STOP is written across every card and sheet page that cuts a drawer which it concerns, and across no other."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.parts import Role
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.packet_pages import plan_packet
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.setup_cards import setup_cards
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.stops import drawers_at, drawers_on, sheet_stops, stop_lines
from drawerwright.web.reader.words import wording
from printed_text import page_texts

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
TWO_KINDS = """
format: 1
job: Tray and crates
cutter: {mid_depth: 5.65, step: 3.45, diameter: 44, max_speed: 16000}
machine: {router_table: {speeds: [12000]}}
fences: {plan: one}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 1200, width: 600}]}
  ash18: {nominal: 18, measured: [17.7], sheets: [{length: 1200, width: 900}]}
  ply6: {nominal: 6, measured: [6.0], sheets: [{length: 1200, width: 900}]}
boxes:
  - {name: tray, outer: {width: 300, depth: 250, height: 90}, box: {all: ash15}}
  - name: crate
    count: 2
    outer: {width: 400, depth: 300, height: 100}
    box: {all: ash18}
    bottom: {style: captured, stock: ply6, groove_height: 10}
"""
"""Trays and crates are cut at fence settings of their own."""
TOO_HIGH = ("groove_height: 10", "groove_height: 96")
"""The crates' groove ends above their sides."""


def planned(text: str, *changes: tuple[str, str]) -> JobPlan:
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return plan_job(read_job(text), time_limit=1)


@pytest.fixture(scope="module")
def stopped() -> JobPlan:
    return planned(TWO_KINDS, TOO_HIGH)


def pages(plan: JobPlan) -> list[str]:
    return page_texts(plan_packet(plan))


def title(page: str) -> str:
    """The head of a page; what is drawn across it lies below, so it is read before."""
    lines = page.split("\n")
    return next(line for line in lines if line not in ("STOP", "HALT"))


def test_the_cards_and_sheets_of_the_drawers_concerned_say_so_and_no_others(stopped: JobPlan) -> None:
    cards = setup_cards(stopped, plan_drawings(stopped))
    assert [set(drawers_at(setup)) for setup in stopped.run.setups] == [{"tray"}, {"crate 1", "crate 2"}]
    assert cards[0].stops == ()
    assert cards[1].stops[0] == "Do not cut yet: crate 1, crate 2."
    assert "crate 1, crate 2: the groove would lie 96.0 mm to 102.2 mm above" in cards[1].stops[1]
    for stock in stopped.stocks:
        for number in range(1, len(stock.sheets.layouts) + 1):
            stops = sheet_stops(stopped, [(stock, number)])
            assert bool(stops) == bool({"crate 1", "crate 2"} & set(drawers_on(stock, number)))


def test_the_drawers_stand_in_their_order_wherever_their_parts_lie(stopped: JobPlan) -> None:
    finding = next(finding for finding in stopped.findings if finding.stops)
    concerned = ("A10", "A2", "A1", "A3")
    lines = stop_lines([replace(finding, drawers=concerned)], concerned)
    assert lines[0] == "Do not cut yet: A1–A3, A10."


def test_the_packet_leads_with_it_and_each_card_carries_it_on_its_one_page(stopped: JobPlan) -> None:
    plain, carried = pages(planned(TWO_KINDS)), pages(stopped)
    assert not any("STOP" in page for page in plain)
    # What lies wrong may leave a table out, but no card runs over to a further page.
    assert [title(page) for page in carried if title(page).startswith("Set-up")] == ["Set-up 1", "Set-up 2"]
    assert len(carried) <= len(plain)
    first = carried[0]
    assert first.index("STOP") < first.index("Router set-ups")
    assert "crate 1, crate 2: the groove would lie" in " ".join(first.split())
    # Once in the bar at the head and once across the page, on the sheets of ash18 and ply6 and on the crates' card.
    assert [page.count("STOP") for page in carried[1:]].count(2) == 3
    for head, times in (("Set-up 1", 0), ("Set-up 2", 2)):
        (page,) = [page for page in carried if title(page) == head]
        assert page.count("STOP") == times
        assert "Test cut" in page
        assert "Fence scale shows" in page


def test_a_stopped_card_stays_on_its_page_in_german_too(stopped: JobPlan) -> None:
    shown = pages(stopped.shown_in(LengthStyle("mm", ",", wording("de"))))
    starts = [title(page) for page in shown]
    card = starts.index("Rüstung 2")
    assert shown[card].count("HALT") == 2
    assert starts[card + 1] == "Teile"


def test_what_concerns_the_whole_job_stops_every_card() -> None:
    plan = planned(TWO_KINDS, ("[12000]", "[17000]"))
    for card in setup_cards(plan, plan_drawings(plan)):
        assert card.stops[0] == "Do not cut anything yet."
        assert "slowest spindle speed" in card.stops[1]


def test_many_stops_are_all_on_the_first_pages_and_two_of_them_on_a_card() -> None:
    start = TWO_KINDS.index("  - name: crate")
    crate = TWO_KINDS[start:].replace(*TOO_HIGH).replace("    count: 2\n", "")
    higher = (
        crate.replace("name: crate", f"name: crate {number}").replace("height: 100", f"height: {96 + number}")
        for number in range(1, 5)
    )
    plan = planned(TWO_KINDS[:start] + "".join(higher))
    stops = [finding for finding in plan.findings if finding.stops]
    assert len({finding.text for finding in stops}) == 4
    (card,) = [card for card in setup_cards(plan, plan_drawings(plan)) if card.stops]
    assert card.stops[0] == "Do not cut yet: crate 1–4."
    assert card.stops[-1] == "2 more, all listed at the start."
    assert len(card.stops) == 4
    cover = " ".join(pages(plan)[0].split())
    for finding in stops:
        assert f"{finding.where}: {finding.text}" in cover


def test_the_front_s_card_says_that_its_lip_is_only_as_thick_as_the_roof() -> None:
    plan = planned(EXAMPLE)
    cards = setup_cards(plan, plan_drawings(plan))
    told = []
    for setup, card in zip(plan.run.setups, cards, strict=True):
        lips = {
            (setting.corner.lip, setting.roof)
            for setting in setup.corners.values()
            if setting.corner.lip and Role.FLAT in setup.roles(setting)
        }
        notes = [note for note in card.notes if "no thicker than the roof" in note]
        assert len(notes) == len(lips)
        for (lip, roof), note in zip(lips, notes, strict=True):
            assert f"lip of {lip:.1f} mm is no thicker than the roof, {roof:.2f} mm" in note
        told += notes
    assert len(told) == 1
