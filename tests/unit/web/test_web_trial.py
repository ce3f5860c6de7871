"""The page of test cuts: readings that cannot be, and what was kept before."""

from __future__ import annotations

import html
import json
import re

import pytest
from starlette.testclient import TestClient

from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.plain_data import key_data
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.test_cuts.cut_entries import read_kept_cut
from drawerwright.joints.joint import self_mating
from drawerwright.store import ShelfKind
from drawerwright.web.pages.parts.kept_cut_rows import said_cut
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.server.shop import Shop

SET = {"height_shown": "11.35", "fence_flat_shown": "9", "fence_upright_shown": "9", "flat": "14.6"}
ALIKE = {str(rule.kind): "0.3" for rule in self_mating("drawer-lock").rules}
"""The same figure for every reading: no cutter makes a corner like this."""
KEPT = """\
job: 1
corner: {corner}
key: {key}
cutter: drawer-lock cutter of the workshop
height_shown: 11.35
fence_flat_shown: 9
fence_upright_shown: 9
flat: 14.6
upright: 14.6
readings: {readings}
"""


FIRST = draft_job(read_job(example_text())).corners[0]


def kept(shop: Shop, corner: str, readings: str) -> int:
    text = KEPT.format(corner=corner, readings=readings, key=json.dumps(key_data(FIRST.key)))
    return shop.shelf.add(ShelfKind.TRIAL_CUT, "kept", text).id


def test_impossible_readings_are_refused_and_stay_in_their_fields(client: TestClient, shop: Shop) -> None:
    cut = {"corner": FIRST.key.token, "upright": "14.6"} | SET | ALIKE
    answer = client.post("/jobs/1/trial", data=cut)
    assert answer.status_code == 422
    assert "These readings cannot all be right" in answer.text
    assert 'id="roof" name="roof" value="0.3"' in answer.text
    assert shop.shelf.list(ShelfKind.TRIAL_CUT) == ()
    assert (
        client.post("/jobs/1/trial", data=cut | dict.fromkeys(ALIKE, "") | {"play": "0.1"}).status_code == 200
    )
    assert len(shop.shelf.list(ShelfKind.TRIAL_CUT)) == 1


def test_a_cut_with_a_cutter_that_has_no_name_is_kept(client: TestClient, shop: Shop) -> None:
    """As every job that begins with two measures has it; the pages' word for it is in no file."""
    text = re.sub(r"^cutter:\n  name: .*\n", "cutter:\n", example_text(), flags=re.MULTILINE)
    assert "cutter of the workshop" not in text
    shop.jobs.add("unnamed", text, "")
    key = draft_job(read_job(text)).corners[0].key.token
    client.cookies.set("drawerwright_reader", "de|mm|comma|system")
    answer = client.post("/jobs/2/trial", data={"corner": key, "upright": "14.6", "play": "0.1"} | SET)
    assert answer.status_code == 200
    (entry,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    assert "cutter: cutter\n" in entry.text


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_one_mistyped_reading_is_changed_in_its_form(client: TestClient, shop: Shop, unit: str) -> None:
    """What was typed stands in the fields again, with its doubts; the cut keeps its place, and counts as changed."""
    client.cookies.set("drawerwright_reader", f"en|{unit}|point|system")
    scale = 25.4 if unit == "in" else 1.0
    number = kept(shop, "front corner, lip 7.5 mm", "{roof: 3.31 ± 0.02, head: 8.18}")
    other = kept(shop, "front corner, lip 7.5 mm", "{play: 0.1}")
    page = client.get(f"/jobs/1/trial?corner={FIRST.key.token}").text
    (address,) = re.findall(rf'href="(/jobs/1/trial\?corner=\w+&amp;change={number})#', page)
    page = html.unescape(client.get(html.unescape(address)).text)
    typed = dict(re.findall(r'<input [^>]*name="(\w+)" value="([^"]*)"', page))
    assert typed["change"] == str(number)
    assert float(typed["head"]) * scale == pytest.approx(8.18, abs=0.013)
    value, doubt = typed["roof"].split(" ± ")
    assert float(value) * scale == pytest.approx(3.31, abs=0.013)
    assert float(doubt) * scale == pytest.approx(0.02, abs=0.003)
    sent = {name: typed[name] for name in (*SET, "upright", "corner", "change", "roof")}
    answer = client.post("/jobs/1/trial", data=sent | {"head": f"{9.18 / scale:.4f}"})
    assert answer.status_code == 200
    assert {entry.id for entry in shop.shelf.list(ShelfKind.TRIAL_CUT)} == {number, other}
    readings = read_kept_cut(shop.shelf.load(number).text).readings
    by_kind = {str(reading.kind): reading.value for reading in readings}
    assert by_kind["head"] == pytest.approx(9.18, abs=0.013)
    assert by_kind["roof"] == pytest.approx(3.31, abs=0.013)
    assert client.get(f"/jobs/1/trial?corner={FIRST.key.token}&change=999").status_code == 404


def test_a_reading_says_how_well_it_is_known(client: TestClient, shop: Shop) -> None:
    """As in a file of test cuts: docs/test-cuts.md, "gives a reading its own standard uncertainty"."""
    cut = (
        {"corner": FIRST.key.token, "upright": "14.6 ± 0.02"}
        | SET
        | {"play": "0.12 ± 0.05", "flat": "14,61 +- 0.01"}
    )
    answer = client.post("/jobs/1/trial", data=cut)
    assert answer.status_code == 200
    (entry,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    read = read_kept_cut(entry.text)
    (play,) = read.readings
    assert (play.value, play.uncertainty) == (0.12, 0.05)
    assert read.upright_thickness == Estimate(14.6, 0.02)
    assert read.flat_thickness == Estimate(14.61, 0.01)
    assert "0.12 ± 0.05 mm" in answer.text
    inches = said_cut(entry, Preferences(unit="in"))
    assert "0.0047 in ± 0.0020 in" in inches.readings
    assert "± 0.0008 in" in inches.pieces
    wrong = {"0.12 ± ": "cannot read", "0.12 ± 0.01 ± 2": "more than one ±", "-0.2 ± 0.1": "0 or more"}
    for typed, fault in wrong.items():
        refused = client.post("/jobs/1/trial", data=cut | {"play": typed})
        assert refused.status_code == 422
        assert fault in refused.text
        assert f'name="play" value="{typed}"' in refused.text


def test_a_block_says_how_well_it_is_known_and_a_gauge_does_not(client: TestClient, shop: Shop) -> None:
    cut = (
        {"corner": FIRST.key.token, "upright": "14.6"} | SET | {"height_shown": "11.35 ± 0.02", "play": "0.1"}
    )
    assert client.post("/jobs/1/trial", data=cut).status_code == 422
    assert client.post("/jobs/1/trial", data=cut | {"by_block": "1"}).status_code == 200
    (entry,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    assert read_kept_cut(entry.text).height_shown == Estimate(11.35, 0.02)


def test_the_page_asks_whether_the_corner_goes_home_and_a_tap_answers(client: TestClient, shop: Shop) -> None:
    entry = kept(shop, FIRST.name, "{play: 0.2}")
    asking = client.get(f"/jobs/1/trial?corner={FIRST.key.token}").text
    assert "Does the corner of cut 1 go home by hand?" in asking
    assert "If cut 1 goes home by hand: The next cut gets" in asking
    assert "if it does not, set the height gauge to" in asking
    assert "look first, then accept" in asking
    address = f"/jobs/1/trial/{entry}/look/play?corner={FIRST.key.token}"
    assert f'action="{address}"' in asking
    looked = client.post(address).text
    assert "Does the corner of cut 1 go home by hand?" not in looked
    assert "If cut 1" not in looked
    assert "The next cut gets both" in looked
    assert said_cut(shop.shelf.load(entry), Preferences()).readings.endswith("it has play: a gap when pulled")
    undone = client.post(f"/jobs/1/trial/{entry}/unlook?corner={FIRST.key.token}").text
    assert "Does the corner of cut 1 go home by hand?" in undone


def test_what_is_tapped_counts_against_the_number(client: TestClient, shop: Shop) -> None:
    entry = kept(shop, FIRST.name, "{play: 0.2}")
    page = client.post(f"/jobs/1/trial/{entry}/look/proud?corner={FIRST.key.token}").text
    assert "A corner has play or stands proud, never both" in page
    assert "press the corner home by hand" in page


def test_only_what_can_be_seen_is_kept_and_only_with_cuts_of_the_job(client: TestClient, shop: Shop) -> None:
    entry = kept(shop, FIRST.name, "{play: 0.2}")
    assert client.post(f"/jobs/1/trial/{entry}/look/wobbly").status_code == 404
    shop.jobs.add("another", example_text(), "")
    assert client.post(f"/jobs/2/trial/{entry}/look/play").status_code == 404
    assert "seen" not in shop.shelf.load(entry).text


def test_a_kept_cut_that_cannot_be_shows_the_page_and_can_be_taken_out(
    client: TestClient, shop: Shop
) -> None:
    """Possible when it was kept, perhaps; not any more with the cutter as it is entered now."""
    entry = kept(shop, FIRST.name, "{" + ", ".join(f"{kind}: 0.3" for kind in ALIKE) + "}")
    page = client.get("/jobs/1/trial")
    assert page.status_code == 200
    assert "These readings cannot all be right" in page.text
    assert f"/jobs/1/trial/{entry}/delete" in page.text
    assert client.post(f"/jobs/1/trial/accept?corner={FIRST.key.token}").status_code == 422
    assert (
        "cannot all be right"
        not in client.post(f"/jobs/1/trial/{entry}/delete?corner={FIRST.key.token}").text
    )


@pytest.mark.parametrize(
    ("corner", "said"),
    [
        ("front corner, lip 7.0 mm", "Ecke vorn, Überstand 7,0 mm"),
        ("back corner, flush", "Ecke hinten, bündig"),
        ("front and back corner, flush", "Ecke vorn und hinten, bündig"),
        ("my own words", "my own words"),
        ("front corner, lip tall", "front corner, lip tall"),
    ],
)
def test_a_kept_corner_is_named_in_the_language_of_who_reads(shop: Shop, corner: str, said: str) -> None:
    entry = shop.shelf.load(kept(shop, f'"{corner}"', "{}"))
    assert said_cut(entry, Preferences("de", decimal_sign=",")).corner == said
    assert said_cut(entry, Preferences()).corner == corner


def test_a_kept_cut_in_the_words_of_its_reader(shop: Shop) -> None:
    entry = shop.shelf.load(kept(shop, "front corner", "{play: 0.1, wobble: 2}\nseen: proud"))
    english = said_cut(entry, Preferences())
    assert english.gauges == "11.35 mm; 9.00 mm; 9.00 mm"
    assert english.readings == (
        "play along the upright piece 0.10 mm; wobble 2.00 mm; it stands proud: it does not go home"
    )
    german = said_cut(entry, Preferences("de", "in", ","))
    assert german.gauges == "0,447 in; 0,354 in; 0,354 in"
    assert german.readings.startswith("Spiel längs des Hochkantstücks 0,004 in; wobble")
