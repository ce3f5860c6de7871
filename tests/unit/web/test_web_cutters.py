"""A job of one cutter gets a second one in the app: drawers, test cuts and shelf stay what they were."""

from __future__ import annotations

import html
import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.planning.draft import draft_job
from drawerwright.store.records import ShelfKind
from drawerwright.web.server.shop import Shop
from opened_panels import with_panels_open

if TYPE_CHECKING:
    from starlette.testclient import TestClient

TWO = (Path(__file__).parents[3] / "examples" / "trays-and-chest.yaml").read_text("utf-8")
SMALL, LARGE = "small cutter", "large cutter"
FIRST = "drawer-lock cutter of the workshop"
NEW = {"name": "little", "kind": "drawer-lock", "mid_depth": "3,6 ± 0,05", "step": "2,6"}


@pytest.fixture
def two(shop: Shop) -> int:
    """The number of a job with two cutters."""
    return shop.jobs.add("trays", TWO, "").id


def rewrite(shop: Shop, job: int, changed: str) -> None:
    """The job's text as somebody else would change it."""
    record = shop.jobs.load(job)
    shop.jobs.save(job, changed, title=record.title, base=record.revision.number)


def text(shop: Shop, job: int = 1) -> str:
    return shop.jobs.load(job).text


def page(client: TestClient, job: int, tab: str = "cutter", **query: str) -> str:
    answer = client.get(f"/jobs/{job}/{tab}", params=query)
    assert answer.status_code == 200
    return html.unescape(answer.text)


def chosen_corner(shown: str) -> tuple[str, str]:
    """Token and name of the corner that a page is about."""
    ((found, name),) = re.findall(
        r'<a href="[^"]*corner=(\w+)" aria-current="true">.*?<span>(.*?)</span>', shown, re.S
    )
    return found, name


def post(client: TestClient, job: int, where: str, **data: Any) -> Any:
    return client.post(f"/jobs/{job}/{where}", data=data)


def entry(
    client: TestClient, shop: Shop, job: int, path: list[str | int], value: str, kind: str = "length"
) -> Any:
    base = str(shop.jobs.load(job).revision.number)
    return post(client, job, "entry", path=json.dumps(path), kind=kind, value=value, base=base)


def test_a_further_cutter_leaves_every_drawer_its_own(client: TestClient, shop: Shop) -> None:
    before = draft_job(read_job(text(shop)))
    assert post(client, 1, "cutter/add", **NEW).status_code < 300
    after = read_job(text(shop))
    assert [(cutter.name, cutter.key) for cutter in after.cutters] == [(FIRST, FIRST), ("little", "little")]
    assert draft_job(after).settings == before.settings
    assert get_value(text(shop), ("cutters", "little", "mid_depth")) == "3.6 ± 0.05"
    assert "# measured from the top of the cutter to the middle of the slope" in text(shop)


def test_the_page_has_each_cutter_with_its_name_and_its_own_settings(client: TestClient, two: int) -> None:
    shown = page(client, two)
    for number, name in enumerate((SMALL, LARGE), start=1):
        assert f'<h2 id="cutter-{number}-head">Cutter: {name}</h2>' in shown
        assert re.search(rf'<textarea id="cutter-name-{number}"[^>]*>{name}</textarea>', shown)
        assert f'id="cutters-{name.replace(" ", "_")}-bit_heights"' in shown
    assert shown.count("Where to measure") == 2
    assert "Remove cutter small cutter" in shown


def test_each_corner_is_drawn_in_the_stock_of_its_cutter(client: TestClient, two: int) -> None:
    shown = page(client, two)
    assert "9.61 mm</text>" in shown
    assert "14.62 mm</text>" in shown


def test_the_only_cutter_is_not_to_be_taken_out(client: TestClient, shop: Shop) -> None:
    assert "Remove cutter" not in page(client, 1)
    one = shop.jobs.add("one", set_value(set_value(TWO, ("cutters", LARGE), None), ("banks",), None), "").id
    assert "Remove cutter" not in page(client, one)


@pytest.mark.parametrize(
    ("name", "words"), [("", "give the cutter a name"), (FIRST, "the name 'drawer-lock cutter")]
)
def test_what_is_wrong_with_a_new_cutter_is_said_at_its_name(
    client: TestClient, shop: Shop, name: str, words: str
) -> None:
    before = text(shop)
    answer = post(client, 1, "cutter/add", **{**NEW, "name": name})
    assert answer.status_code == 422
    assert words in html.unescape(answer.text)
    assert '3,6 ± 0,05"' in html.unescape(answer.text)  # what was typed stays
    assert text(shop) == before


def test_an_entry_of_one_of_several_is_saved_where_it_stands(
    client: TestClient, shop: Shop, two: int
) -> None:
    assert entry(client, shop, two, ["cutters", LARGE, "step"], "3.5 ± 0.02").status_code < 300
    assert get_value(text(shop, two), ("cutters", LARGE, "step")) == "3.5 ± 0.02"
    entry(client, shop, two, ["cutters", LARGE, "fences", "plan"], "tooth", "choice")
    assert read_job(text(shop, two)).cutters[1].fences.plan == "tooth"
    entry(client, shop, two, ["cutters", LARGE, "fences", "plan"], "", "choice")
    assert get_value(text(shop, two), ("cutters", LARGE, "fences")) is None


def test_a_fault_stands_at_the_cutter_that_it_concerns(client: TestClient, shop: Shop, two: int) -> None:
    entry(client, shop, two, ["cutters", LARGE, "step"], "-1")
    shown = page(client, two)
    place = shown.index('id="fault-cutters-large_cutter-step"')
    assert "must be more than 0" in shown[place : place + 200]


def test_a_finding_stands_at_the_cutter_that_it_concerns(client: TestClient, shop: Shop, two: int) -> None:
    rewrite(shop, two, set_value(TWO, ("cutters", LARGE, "max_speed"), 7000))
    shown = page(client, two)
    assert shown.count("Do not run this cutter on this machine.") == 1
    row = next(row for row in shown.split("<li ") if "Do not run this cutter on this machine." in row)
    number = row.partition('id="finding-')[2].partition('"')[0]
    assert number.isdecimal()
    assert 'href="#cutters-large_cutter-max_speed"' in row
    field = re.search(r'<input id="cutters-large_cutter-max_speed"[^>]*>', shown)
    assert field is not None
    assert f" finding-{number}" in field[0]


def test_a_cutter_is_renamed_wherever_it_is_named(client: TestClient, shop: Shop, two: int) -> None:
    before = draft_job(read_job(TWO)).settings
    assert post(client, two, "cutter/rename", old=LARGE, name=" blue ").status_code < 300
    assert get_value(text(shop, two), ("banks", 0, "cutter")) == "blue"
    assert list(draft_job(read_job(text(shop, two))).settings) == list(before)
    assert post(client, two, "cutter/rename", old="blue", name=SMALL).status_code == 422
    assert post(client, two, "cutter/rename", old="green", name="x").status_code == 422
    assert post(client, two, "cutter/rename", old="blue", name=LARGE).status_code < 300
    assert read_job(text(shop, two)) == read_job(TWO)


def test_the_only_cutter_s_name_may_go_and_come(client: TestClient, shop: Shop) -> None:
    rewrite(shop, 1, set_value(text(shop), ("boxes", 0, "cutter"), FIRST))
    for name in ("", "blue"):
        assert entry(client, shop, 1, ["cutter", "name"], name, "text").status_code < 300
        assert get_value(text(shop), ("boxes", 0, "cutter")) == (name or "cutter")
        assert read_job(text(shop)).cutters[0].key == FIRST


def test_drawers_say_their_cutter_where_there_are_several(client: TestClient, shop: Shop, two: int) -> None:
    assert '"cutter"]' not in page(client, 1, "drawers")
    shown = with_panels_open(client, f"/jobs/{two}/drawers")
    assert f'<option value="{LARGE}" selected>' in shown
    assert shown.split('id="boxes-0-cutter"')[1].split(" selected>")[0].endswith(f'"{SMALL}"')
    entry(client, shop, two, ["boxes", 0, "cutter"], LARGE, "choice")
    assert get_value(text(shop, two), ("boxes", 0, "cutter")) == LARGE
    entry(client, shop, two, ["boxes", 0, "cutter"], "", "choice")
    shown = page(client, two, "drawers")
    place = shown.index('id="fault-boxes-0-cutter"')
    assert "name the one for these corners: small cutter, large cutter" in shown[place : place + 250]


def test_a_new_box_is_cut_by_the_cutter_of_the_last_or_the_first(
    client: TestClient, shop: Shop, two: int
) -> None:
    base = str(shop.jobs.load(two).revision.number)
    post(client, two, "items/add", path='["boxes"]', base=base)
    assert get_value(text(shop, two), ("boxes", 1, "cutter")) == SMALL
    bare = shop.jobs.add("bare", set_value(TWO, ("boxes",), None), "").id
    post(client, bare, "items/add", path='["boxes"]', base=str(shop.jobs.load(bare).revision.number))
    assert get_value(text(shop, bare), ("boxes", 0, "cutter")) == SMALL


@pytest.mark.parametrize(
    ("twin", "said"),
    [
        (False, "Part tray uses it: choose another cutter there first"),
        (True, "Part tray, boxes[2] use it: choose another cutter there first"),
    ],
)
def test_a_cutter_in_use_is_not_taken_out(
    client: TestClient, shop: Shop, two: int, twin: bool, said: str
) -> None:
    if twin:
        rewrite(shop, two, set_value(TWO, ("boxes", 1), {"cutter": SMALL}))
    before = text(shop, two)
    base = str(shop.jobs.load(two).revision.number)
    answer = post(client, two, "items/remove", path=json.dumps(["cutters", SMALL]), base=base)
    assert answer.status_code == 422
    assert said in html.unescape(answer.text)
    assert text(shop, two) == before


def test_a_cutter_that_nothing_names_is_taken_out(client: TestClient, shop: Shop, two: int) -> None:
    rewrite(shop, two, set_value(TWO, ("boxes", 0, "cutter"), LARGE))
    base = str(shop.jobs.load(two).revision.number)
    assert post(client, two, "items/remove", path=json.dumps(["cutters", SMALL]), base=base).status_code < 300
    assert get_value(text(shop, two), ("cutters",)).keys() == {LARGE}


# -- a job with faults -----------------------------------------------------------------------------------------------


def test_a_fault_elsewhere_leaves_each_cutter_its_own_figures(
    client: TestClient, shop: Shop, two: int
) -> None:
    """3.6 and 2.6, 5.6 and 3.4 stand in the example file."""
    sound = re.findall(r"(?:mid depth|step) [0-9.]+ mm", page(client, two))
    rewrite(shop, two, set_value(TWO, ("boxes", 0, "cutter"), None))
    assert set(re.findall(r"(?:mid depth|step) [0-9.]+ mm", page(client, two))) == set(sound)
    assert len(set(sound)) == 4


def test_a_cutter_with_a_faulty_measure_is_drawn_without_figures(
    client: TestClient, shop: Shop, two: int
) -> None:
    rewrite(shop, two, set_value(TWO, ("cutters", SMALL, "step"), "wide"))
    shown = page(client, two)
    own = shown[shown.index('id="cutter-1-head"') : shown.index('id="cutter-2-head"')]
    assert "mid depth</text>" in own
    assert re.findall(r"(?:mid depth|step) [0-9.]+", own) == []
    assert re.findall(r"(?:mid depth|step) [0-9.]+", shown)


def test_a_fault_leads_to_the_field_on_its_own_page(client: TestClient, shop: Shop, two: int) -> None:
    faulty = set_value(set_value(TWO, ("boxes", 0, "cutter"), None), ("machine", "saw", "kerf"), "wide")
    rewrite(shop, two, faulty)
    shown = page(client, two)
    for name, place in (
        ("boxes[1].cutter", "drawers#boxes-0-cutter"),
        ("machine.saw.kerf", "stock#machine-saw-kerf"),
    ):
        assert f'<a href="/jobs/{two}/{place}">{name}</a>' in shown
        tab, field = place.split("#")
        assert f'id="{field}"' in page(client, two, tab)


# -- the shop's shelf ------------------------------------------------------------------------------------------------


def on_shelf(shop: Shop, name: str) -> Any:
    (found,) = (one for one in shop.shelf.list(ShelfKind.CUTTER) if one.name == name)
    return found


def test_a_cutter_goes_by_way_of_the_shelf_from_job_to_job(client: TestClient, shop: Shop, two: int) -> None:
    with_own = set_value(TWO, ("cutters", SMALL, "bit_heights"), [6.9])
    rewrite(shop, two, with_own)
    assert post(client, two, "shelf/put", path=json.dumps(["cutters", SMALL])).status_code < 300
    assert "bit_heights" not in on_shelf(shop, SMALL).text
    assert "Same as on the shop's shelf" in page(client, two)
    assert f"Add {SMALL} from the shelf" in page(client, 1)
    assert post(client, 1, "cutter/take", entry=on_shelf(shop, SMALL).id).status_code < 300
    job = read_job(text(shop))
    assert [cutter.name for cutter in job.cutters] == [FIRST, SMALL]
    assert job.cutters[1].cutter == read_job(TWO).cutters[0].cutter
    assert not job.cutters[1].heights.kept
    assert f"Add {SMALL} from the shelf" not in page(client, 1)


def test_the_only_cutter_put_on_the_shelf_is_the_same_among_several(client: TestClient, shop: Shop) -> None:
    post(client, 1, "shelf/put", path='["cutter"]')
    assert "Same as on the shop's shelf" in page(client, 1)
    post(client, 1, "cutter/add", **NEW)
    assert "Same as on the shop's shelf" in page(client, 1)


def test_another_from_the_shelf_takes_the_place_of_one(client: TestClient, shop: Shop, two: int) -> None:
    post(client, 1, "shelf/put", path='["cutter"]')
    learnt = {"taught": {"mid_depth": 1, "step": 1, "height_gauge_offset": 0, "fence_gauge_offset": 0}}
    rewrite(shop, two, set_value(TWO, ("cutters", LARGE, "learnt"), learnt))
    assert f"Use {FIRST} instead" in page(client, two)
    post(client, two, "shelf/take", path=json.dumps(["cutters", LARGE]), entry=on_shelf(shop, FIRST).id)
    job = read_job(text(shop, two))
    assert [cutter.name for cutter in job.cutters] == [SMALL, FIRST]
    assert get_value(text(shop, two), ("banks", 0, "cutter")) == FIRST
    assert get_value(text(shop, two), ("cutters", FIRST, "learnt")) is None


# -- profiles, corners, test cuts, run -------------------------------------------------------------------------------


def test_points_are_kept_for_the_cutter_that_was_chosen(client: TestClient, shop: Shop, two: int) -> None:
    points = "0; 0\n4.05; 0\n4.85; 0.45\n6.45; 3\n7.25; 3.45\n14; 3.45\n"
    found = post(client, two, "profile", points=points, uncertainty="", cutter=LARGE)
    assert found.status_code == 200
    assert f'<input type="hidden" name="cutter" value="{LARGE}">' in found.text
    assert post(client, two, "profile/use", points=points, uncertainty="", cutter=LARGE).status_code < 300
    small, large = read_job(text(shop, two)).cutters
    assert small.cutter.edge is None
    assert large.cutter.edge is not None
    assert post(client, two, "profile/use", points="", uncertainty="", cutter=LARGE).status_code < 300
    assert read_job(text(shop, two)).cutters[1].cutter.edge is None
    assert post(client, two, "profile", points=points, cutter="green").status_code == 422


def token(job_text: str, cutter: str) -> str:
    return next(key.token for key in draft_job(read_job(job_text)).settings if key.cutter == cutter)


@pytest.mark.parametrize(("name", "height", "mid_depth"), [(SMALL, "7.00", "3.55"), (LARGE, "11.20", "5.65")])
def test_a_corner_is_shown_and_kept_with_its_own_cutter(
    client: TestClient, shop: Shop, two: int, name: str, height: str, mid_depth: str
) -> None:
    corner = token(TWO, name)
    shown = page(client, two, "corner", corner=corner)
    assert f'name="mid_depth" value="{mid_depth}"' in shown
    found, called = chosen_corner(shown)
    assert found == corner
    assert called.endswith(f", {name}")
    typed = {
        "mid_depth": mid_depth,
        "step": "2.60" if name == SMALL else "3.45",
        "slope": "55",
        "lip": "0.00",
    }
    wood = "9.61" if name == SMALL else "14.62"
    typed |= {
        "flat": wood,
        "upright": wood,
        "kind": "drawer-lock",
        "split": "one",
        "job": str(two),
        "of": corner,
    }
    section = client.get("/corner/section", params=typed)
    assert f"{height} mm" in section.text


def test_a_test_cut_is_that_of_the_corner_s_own_cutter(client: TestClient, shop: Shop, two: int) -> None:
    corner = token(TWO, SMALL)
    _found, called = chosen_corner(page(client, two, "trial", corner=corner))
    assert called.endswith(f", {SMALL}")
    cut = {"height_shown": "7.05", "fence_flat_shown": "6.1", "fence_upright_shown": "6.1", "flat": "9.61"}
    cut |= {"upright": "9.61", "roof": "2.64", "play": "0.12", "seen": "play"}
    answer = client.post(f"/jobs/{two}/trial", data={"corner": corner, **cut}, follow_redirects=False)
    assert answer.status_code == 303
    assert client.post(f"/jobs/{two}/trial/accept?corner={corner}", follow_redirects=False).status_code == 303
    taught = text(shop, two)
    assert get_value(taught, ("cutters", SMALL, "learnt", "taught"))
    assert get_value(taught, ("learnt",)) is None
    assert get_value(taught, ("cutters", LARGE, "mid_depth")) == "5.65 ± 0.05"
    assert get_value(on_shelf(shop, SMALL).text, ("entry", "mid_depth")) == get_value(
        taught, ("cutters", SMALL, "mid_depth")
    )
    shown = page(client, two)
    assert f"Test cuts with the cutter {SMALL}" in shown
    assert f"Test cuts with the cutter {LARGE}" not in shown


def test_test_cuts_stay_with_a_renamed_cutter(client: TestClient, shop: Shop, two: int) -> None:
    corner = token(TWO, SMALL)
    cut = {"height_shown": "7.05", "fence_flat_shown": "6.1", "fence_upright_shown": "6.1", "flat": "9.61"}
    client.post(f"/jobs/{two}/trial", data={"corner": corner, **cut, "upright": "9.61", "play": "0.12"})
    post(client, two, "cutter/rename", old=SMALL, name="green")
    assert "Test cuts with the cutter green" in page(client, two)
    assert token(text(shop, two), SMALL) == corner  # the key has its id
    assert "Cuts so far" in page(client, two, "trial", corner=corner)


def test_a_step_that_does_not_go_with_the_mid_depth_is_told_at_the_step(client: TestClient, two: int) -> None:
    """Each page had it without a link, and the cutter's own page marked no field."""
    change = {"path": f'["cutters", "{SMALL}", "step"]', "kind": "length", "value": "30", "base": "1"}
    assert post(client, two, "entry", **change).status_code < 300
    shown = page(client, two)
    assert re.search(r'id="cutters-small_cutter-step"[^>]*aria-invalid="true"', shown)
    assert shown.count("more than twice the mid depth") == 1
