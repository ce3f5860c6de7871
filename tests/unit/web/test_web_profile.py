"""A measured profile in the app: found, kept in the job as points, shown, and given up again."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.editing import get_value, set_value
from drawerwright.store import ShelfKind
from drawerwright.web.fields.job_text import faults_of, job_of
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    shop = Shop(tmp_path)
    yield shop
    shop.database.close()


@pytest.fixture
def client(shop: Shop) -> TestClient:
    client = TestClient(
        app_of(shop),
        base_url=DESK,
        client=("127.0.0.1", 5),
        headers={"Origin": DESK},
        follow_redirects=False,
    )
    job = (EXAMPLES / "music-school.yaml").read_bytes()
    assert client.post("/jobs/import", files={"file": ("job.yaml", job)}).status_code == 303
    return client


def find(
    client: TestClient, content: bytes, name: str = "edge.csv", doubt: str = "0.02", **more: str
) -> tuple[int, str]:
    sent = {"uncertainty": doubt, **more}
    answer = client.post("/jobs/1/profile", files={"file": (name, content)}, data=sent)
    return answer.status_code, answer.text


def keep(client: TestClient, page: str) -> None:
    """Press the button that the page offers."""
    fields = dict(
        re.findall(r'name="(points|uncertainty|cutter|mid_depth|step|slope)" value="([^"]*)"', page)
    )
    sent = {name: html.unescape(value) for name, value in fields.items()}
    assert client.post("/jobs/1/profile/use", data=sent).status_code < 300


def test_a_loaded_table_is_kept_as_points_and_the_rest_of_the_job_stays(
    client: TestClient, shop: Shop
) -> None:
    before = shop.jobs.load(1).text
    status, page = find(client, (EXAMPLES / "measured-cutter.csv").read_bytes())
    assert status == 200
    assert "mates with itself" in page
    keep(client, page)
    text = shop.jobs.load(1).text
    assert faults_of(text) == ()
    job = job_of(text)
    assert job is not None
    assert job.cutters[0].cutter.edge is not None
    assert job.cutters[0].cutter.mid_depth.value == pytest.approx(5.64, abs=0.01)
    assert job.cutters[0].cutter.mid_depth.uncertainty > 0
    assert len(get_value(text, ("cutter", "points"))) == 40
    assert get_value(text, ("cutter", "mid_depth")) is None
    assert "  - [0.0, 0.0]\n" in text
    # One line a point; everything else is as it was.
    gone = {line for line in before.splitlines() if line not in text.splitlines()}
    assert {line.split(":")[0].strip() for line in gone} == {"mid_depth", "step", "slope"}
    cutter = client.get("/jobs/1/cutter").text
    assert "The profile kept in this job." in cutter
    assert "from the profile" in cutter


def test_what_the_points_mean_can_be_kept_without_them(client: TestClient, shop: Shop) -> None:
    keep(client, find(client, b"0,0\n4,0\n7,3\n12,3\n", doubt="")[1])
    assert get_value(shop.jobs.load(1).text, ("cutter", "points"))
    assert client.post("/jobs/1/profile/use", data={}).status_code < 300
    text = shop.jobs.load(1).text
    assert get_value(text, ("cutter", "points")) is None
    job = job_of(text)
    assert job is not None
    cutter = job.cutters[0].cutter
    assert cutter.edge is None
    assert (cutter.mid_depth.value, cutter.step.value, cutter.slope_angle) == (5.5, 3.0, 45.0)


def test_the_live_corner_has_the_measured_edge(client: TestClient, shop: Shop) -> None:
    """A ledge on the tooth (and its mirror image on the neck): no ideal profile has one."""
    keep(client, find(client, b"0,0\n2,0\n2,0.6\n4,0.6\n7,2.4\n9,2.4\n9,3\n14,3\n", doubt="")[1])
    typed = {"mid_depth": "5.5", "step": "3", "slope": "40", "flat": "15", "upright": "15", "lip": "0"}
    ideal = client.get("/corner/section", params=typed).text
    measured = client.get("/corner/section", params={**typed, "job": "1"}).text
    assert "closes" in measured
    assert measured.split("<svg")[1] != ideal.split("<svg")[1]


def test_a_shelf_keeps_the_profile_with_the_cutter(client: TestClient, shop: Shop) -> None:
    keep(client, find(client, (EXAMPLES / "measured-cutter.csv").read_bytes())[1])
    assert client.post("/jobs/1/shelf/put", data={"path": '["cutter"]'}).status_code == 204
    client.post("/jobs/1/profile/use", data={})
    page = client.get("/jobs/1/cutter").text
    assert "40 values" in page
    entry = shop.shelf.list(ShelfKind.CUTTER)[0]
    assert (
        client.post("/jobs/1/shelf/take", data={"path": '["cutter"]', "entry": str(entry.id)}).status_code
        < 400
    )
    assert len(get_value(shop.jobs.load(1).text, ("cutter", "points"))) == 40


@pytest.mark.parametrize(
    ("content", "name", "words"),
    [
        (b"0,0\n4,wide\n", "edge.csv", "cannot read"),
        (b"0,0\n0.1,0\n0.2,0.1\n", "edge.csv", "0.2 mm high"),
        (b"0,0\n400,0\n700,300\n1200,300\n", "edge.csv", "1200 mm high"),
        (b"\xff\xfe\x00", "edge.csv", "UTF-8"),
        (b"0,0", "edge.exe", "edge.exe"),
        (b"nothing", "edge.dxf", "cannot be read as DXF"),
    ],
)
def test_what_cannot_be_a_profile_is_said_and_nothing_is_kept(
    client: TestClient, content: bytes, name: str, words: str
) -> None:
    status, page = find(client, content, name)
    assert status == 422
    assert words in html.unescape(page)
    assert "profile/use" not in page


def test_a_profile_that_does_not_mate_cannot_be_kept(client: TestClient) -> None:
    status, page = find(client, b"0,0\n3,0\n5,1\n7,3\n12,3.5\n20,3.5\n", doubt="")
    assert status == 200
    assert "does not mate" in page
    assert "profile/use" not in page


def test_a_scan_of_a_test_piece_is_a_profile_with_its_outline_shown(client: TestClient, shop: Shop) -> None:
    import cv2

    from drawerwright.joints.scan.by_hand import edits_in
    from drawerwright.joints.scan.cut_measures import read_section
    from scan_pictures import Look, Truth, picture

    truth = Truth(5.42, 3.21, 52.0, 10.9, 8.75, 14.3)
    pixels = picture(truth, Look(dpi=300, angle=17, seed=1, length=27)).pixels
    content = bytearray(cv2.imencode(".jpg", pixels)[1].tobytes())
    content[13:18] = bytes((1, 1, 44, 1, 44))  # 300 dots to an inch, as JFIF says it
    status, page = find(client, bytes(content), "flat.jpg", doubt="", file_stretch="L1")
    assert status == 200
    assert 'src="data:image/jpeg;base64,' in page
    assert 'name="file_edits" value="L1-" form="profile-find"' in page  # kept for the next reading
    assert "slope 1" in page  # one stretch of six is 17 %
    keep(client, page)
    job = job_of(shop.jobs.load(1).text)
    assert job is not None
    # The job knows what the picture tells, and as well as it does: not better, as a mean of many points would.
    told = read_section(pixels, is_flat=True, per_mm=300 / 25.4, edits=edits_in("L1-")).measures
    for name in ("mid_depth", "step"):
        kept = getattr(job.cutters[0].cutter, name)
        assert abs(kept.value - getattr(truth, name)) < 0.04
        assert kept.value == pytest.approx(told[name].value, abs=0.004)
        assert kept.uncertainty == pytest.approx(told[name].uncertainty, abs=0.002)
    assert get_value(shop.jobs.load(1).text, ("cutter", "points")) is None

    status, page = find(client, bytes(content[:3000]), "flat.jpg")
    assert status == 422
    assert "damaged" in page


def test_points_are_loaded_into_a_cutter_without_a_name_in_any_language(
    client: TestClient, shop: Shop
) -> None:
    """Its usual name is another in each language, and no job has it."""
    job = shop.jobs.load(1)
    text = set_value(job.text, ("cutter", "name"), None)
    shop.jobs.save(1, text, title=job.title, base=job.revision.number)
    client.cookies.set("drawerwright_reader", "de|mm|comma|light")
    form = client.get("/jobs/1/cutter").text
    form = form[form.index('id="profile-find"') :]
    (cutter,) = re.findall(
        r'<input type="hidden" name="cutter" value="([^"]*)"', form[: form.index("</form>")]
    )
    status, page = find(client, b"0,0\n4.05,0\n4.85,0.45\n6.45,3\n7.25,3.45\n14,3.45\n", cutter=cutter)
    assert status == 200, page
    keep(client, page)
    assert len(get_value(shop.jobs.load(1).text, ("cutter", "points"))) == 6
