"""Ticks belong to the step that was done, not to a title that a later plan uses for other wood."""

from __future__ import annotations

import html
import json
import re

from starlette.testclient import TestClient

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.run_list import tick_names
from drawerwright.run.marks import PartName
from drawerwright.run.steps_of_part import part_mark, steps_of_part
from drawerwright.web.server.shop import Shop

RUN = "/jobs/1/run"
WORKED = 18
LEFT = re.compile(r"The plan changed after work began: (\d+) ticked steps are not in it any more")
OPEN = re.compile(r'id="more-step-(\d+)"[^>]* open>')
"""Of the list, the steps whose work is shown: the one that is next."""


def run_page(client: TestClient, shop: Shop) -> str:
    """The run, once its plan is made."""
    assert shop.plans.ask(shop.jobs.load(1).text, 60.0, 1).made is not None
    return client.get(RUN).text


def ticks_of(page: str) -> list[str]:
    """What each box of the page posts as its step, in their order."""
    said = re.findall(r'data-tick .*?hx-vals="(.*?)"', page)
    return [json.loads(html.unescape(vals))["step"] for vals in said]


def done_of(page: str) -> int:
    found = re.search(r"<span data-done>(\d+)</span>", page)
    assert found is not None
    return int(found[1])


def replan(shop: Shop, old: str, new: str) -> None:
    job = shop.jobs.load(1)
    assert old in job.text
    text = job.text.replace(old, new)
    shop.jobs.save(1, text, title=job.title, base=job.revision.number, note="")


def work_on(client: TestClient, shop: Shop) -> None:
    for step in ticks_of(run_page(client, shop))[:WORKED]:
        client.post(f"{RUN}/tick", data={"step": step, "done": "yes"})


def test_ticks_of_a_plan_that_changed_are_told_and_taken_back(client: TestClient, shop: Shop) -> None:
    work_on(client, shop)
    worked = run_page(client, shop)
    assert done_of(worked) == WORKED
    assert OPEN.findall(worked) == [str(WORKED + 1)]
    replan(shop, "kerf: 2.8", "kerf: 3.4")
    page = run_page(client, shop)
    told = LEFT.search(page)
    assert told is not None
    assert done_of(page) == WORKED - int(told[1]) == 1  # a strip of scrap is measured, whatever the sheets
    folded = re.search(r"<details [^>]*><summary[^>]*>([^<]*)</summary>", client.get(f"{RUN}?view=one").text)
    assert folded is not None
    assert LEFT.search(folded[1]), "one step at a time, it is a line to open"
    form = re.search(r'id="forget-all">(.*?)</form>', page, re.DOTALL)
    assert form is not None
    ticks = [html.unescape(step) for step in re.findall(r'name="step" value="(.*?)"', form[1])]
    answer = client.post(f"{RUN}/ticks", data={"step": ticks, "done": "no"})
    assert f"{WORKED} ticks removed" in answer.text
    page = run_page(client, shop)
    assert LEFT.search(page) is None
    assert done_of(page) == 0
    again = [html.unescape(step) for step in re.findall(r'name="step" value="(.*?)"', answer.text)]
    client.post(f"{RUN}/ticks", data={"step": again, "done": "yes"})
    replan(shop, "kerf: 3.4", "kerf: 2.8")  # the plan that they were made in
    page = run_page(client, shop)
    assert LEFT.search(page) is None
    assert done_of(page) == WORKED


def test_a_tick_of_an_earlier_version_counts_by_its_title_and_can_be_taken_back(
    client: TestClient, shop: Shop
) -> None:
    title = re.sub(r"^#\w{8} ", "", ticks_of(run_page(client, shop))[1])
    shop.progress.tick(1, title, is_done=True)
    page = run_page(client, shop)
    assert done_of(page) == 1
    assert ticks_of(page)[1] == title


def test_what_is_learnt_of_the_gauges_and_another_unit_leave_the_ticks() -> None:
    def marks(plan: JobPlan) -> list[str]:
        return tick_names(plan, ())

    plan = plan_job(read_job(example_text()))
    assert marks(plan.shown_in(LengthStyle(unit="in"))) == marks(plan)
    learnt = re.sub(r"height_gauge_offset: .*", "height_gauge_offset: 0.15 ± 0.02", example_text())
    assert learnt != example_text()
    assert marks(plan_job(read_job(learnt))) == marks(plan)


def test_ticks_keep_what_was_made_and_say_what_becomes_of_it(client: TestClient, shop: Shop) -> None:
    """Parts are made, then the opening becomes 6 narrower: its bottoms are cut down, its sides still fit; taking the
    ticks back forgets the parts, and the undo brings both back."""
    whole = shop.jobs.load(1).text
    replan(shop, whole[whole.index("  - name: Orchestra parts") :], "")
    page = run_page(client, shop)
    said = [json.loads(html.unescape(vals)) for vals in re.findall(r'data-tick .*?hx-vals="(.*?)"', page)]
    head = "Parts that were made before the change"
    assert head not in page
    for each in said:
        if "A1 bottom" in each["made"] or "A1 left side" in each["made"]:
            client.post(f"{RUN}/tick", data={**each, "done": "yes"})
    replan(shop, "{width: 462,", "{width: 456,")
    page = run_page(client, shop)
    assert head in page
    row = re.search(r"A1 bottom<br>.*?</tr>", page, re.DOTALL)
    assert row is not None
    assert "cut 6.0 mm off its length" in row[0].replace("\xa0", " ")
    assert not re.search(r"A1 left side<br>", page)
    steps = list(shop.progress.load(1).ticked)
    before = dict(shop.progress.load(1).made)
    assert before
    undo = client.post(f"{RUN}/ticks", data={"step": steps, "done": "no"}).text
    assert not shop.progress.load(1).made
    fields = {
        name: [html.unescape(value) for value in re.findall(rf'name="{name}" value="(.*?)"', undo)]
        for name in ("step", "made")
    }
    client.post(f"{RUN}/ticks", data={**fields, "done": "yes"})
    assert shop.progress.load(1).made == before


def test_the_list_drawn_anew_is_the_list(client: TestClient, shop: Shop) -> None:
    """As every open page asks for it once a step is ticked anywhere."""
    steps = ticks_of(run_page(client, shop))
    assert ticks_of(client.get(f"{RUN}?part=plan").text) == steps
    assert len(steps) > 1


def test_the_code_on_a_label_opens_the_next_step_of_its_part(client: TestClient, shop: Shop) -> None:
    steps = ticks_of(run_page(client, shop))
    plan = shop.plans.ask(shop.jobs.load(1).text, 60.0, 1).made
    assert plan is not None
    part = PartName.of(plan.parts[0])
    at = steps_of_part(plan.run.steps, part)
    address = f"{RUN}?mark={part_mark(part)}"
    page = client.get(address).text
    assert "The next step of A1 front:" in page
    assert ticks_of(page) == [steps[at[0]]]
    client.post(f"{RUN}/tick", data={"step": steps[at[0]], "done": "yes"})
    assert ticks_of(client.get(address).text) == [steps[at[1]]]
    assert "no part with this label" in client.get(f"{RUN}?mark=00000000").text
