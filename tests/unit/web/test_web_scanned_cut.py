"""Pictures of a test cut's pieces fill the form of its page; what is sent then is kept like caliper readings."""

from __future__ import annotations

import html
import re

import cv2
import numpy as np
import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.reading import entries_of
from drawerwright.store import ShelfKind
from drawerwright.web.server.shop import Shop
from scan_pictures import Look, Truth, picture

# The example's flush corner, with the bit 0.12 mm too low and the fence 0.1 mm too far in.
TRUTH = Truth(mid_depth=5.65, step=3.45, slope=55.0, bit_height=11.08, fence=9.15, thickness=14.62)
SECTION = ("cut_height", "top_to_slope", "cut_step")


def png(truth: Truth, seed: int) -> bytes:
    return bytes(
        cv2.imencode(".png", picture(truth, Look(dpi=300, angle=11, seed=seed, length=27)).pixels)[1]
    )


@pytest.fixture(scope="module")
def pieces() -> dict[str, bytes]:
    """Pictures of both pieces, without a word on their scale."""
    return {
        "flat_picture": png(TRUTH, 3),
        "upright_picture": png(Truth(**{**vars(TRUTH), "is_flat": False}), 4),
    }


def fields_of(page: str) -> dict[str, str]:
    """What the form says, as a browser would send it."""
    form = page[page.index('data-draft="trial-') : page.index("</form>", page.index('data-draft="trial-'))]
    fields = {}
    for tag in re.findall(r"<input [^>]*>", form):
        name, value = re.search(r' name="([^"]*)"', tag), re.search(r' value="([^"]*)"', tag)
        if name and value and 'type="radio"' not in tag and 'type="checkbox"' not in tag:
            fields[name[1]] = html.unescape(value[1])
    return fields


def flush_corner(client: TestClient) -> dict[str, str]:
    """The form of the corner whose front is flush."""
    page = client.get("/jobs/1/trial").text
    links = re.findall(r'href="(/jobs/1/trial\?corner=[^"]+)".*?<span>([^<]*)</span>', page, re.DOTALL)
    (path,) = (path for path, name in links if "flush" in name)
    return fields_of(client.get(html.unescape(path)).text)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_pictures_fill_the_form_and_are_kept_as_readings(
    client: TestClient, shop: Shop, pieces: dict[str, bytes], units: str
) -> None:
    """Source: the pictures are drawn of this cut by `tests/scan_pictures.py`, which shares no code with the reader."""
    mm = 1.0 if units == "mm" else 25.4
    client.cookies.set("drawerwright_reader", f"en|{units}|point|light")
    form = flush_corner(client)
    form |= {"flat": f"{14.62 / mm:.3f}", "upright": f"{14.62 / mm:.3f}"}
    files = {name: (f"{name}.png", content) for name, content in pieces.items()}
    answer = client.post("/jobs/1/trial/scan", data=form, files=files)
    assert answer.status_code == 200, answer.text
    assert answer.text.count('<figure class="scan"><img src="/jobs/1/trial/pictures/') == 2
    assert not shop.shelf.list(ShelfKind.TRIAL_CUT)  # nothing is kept until it is sent
    filled = fields_of(answer.text)
    assert {name: filled[name] for name in ("corner", "flat", "height_shown")} == {
        name: form[name] for name in ("corner", "flat", "height_shown")
    }
    truth = {
        "cut_height": TRUTH.bit_height,
        "top_to_slope": TRUTH.mid_depth,
        "cut_step": TRUTH.step,
        "deepest_cut": TRUTH.fence,
        "neck": TRUTH.thickness - TRUTH.fence,
    }
    for name, wanted in truth.items():
        value, doubt = (float(word) * mm for word in filled[name].split(" ± "))
        assert abs(value - wanted) < min(3.5 * doubt, 0.1), (name, filled[name])
    if units == "mm":  # what was changed by hand is read again from the same files
        changed = {
            **filled,
            "flat_picture_stretch": "A1",
            "upright_picture_stretch": "H2",
            "upright_picture_move": "-0.5",
        }
        again = client.post("/jobs/1/trial/scan", data=changed, files={"x": ("", b"")})
        assert again.status_code == 200, again.text
        refilled = fields_of(again.text)
        assert (refilled["flat_picture_edits"], refilled["upright_picture_edits"]) == ("A1-", "H2~0.5")
        assert "Changed by hand: A1-" in again.text
        filled = refilled
    assert client.post("/jobs/1/trial", data=filled, follow_redirects=False).status_code == 303
    (kept,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    readings = entries_of(kept.text)["readings"]
    assert set(truth) <= set(readings)
    page = client.get(f"/jobs/1/trial?corner={form['corner']}").text
    assert "For the next cut" in page
    pictures = re.findall(r'<img src="(/jobs/1/trial/pictures/\d+)"', page)
    assert len(pictures) == 2  # they are kept with the cut, small, and nothing of what the file told is left
    small = client.get(pictures[0])
    assert small.headers["content-type"] == "image/jpeg"
    assert b"Exif" not in small.content
    assert max(cv2.imdecode(np.frombuffer(small.content, np.uint8), 1).shape) <= 1000
    assert client.post(f"{pictures[0]}/remove", follow_redirects=False).status_code == 303
    assert client.get(pictures[0]).status_code == 404
    assert set(truth) <= set(entries_of(shop.shelf.load(kept.id).text)["readings"])


def test_what_cannot_be_read_is_said_beside_the_pictures_and_nothing_typed_is_lost(
    client: TestClient, pieces: dict[str, bytes]
) -> None:
    form = flush_corner(client) | {"roof": "3.41", "dpi": "300"}
    for files, dpi, words in (
        ({}, "300", "choose a picture of the flat piece, of the upright one, or both"),
        (
            {"flat_picture": ("photo.heic", b"no picture")},
            "300",
            "photo.heic: this is no picture that can be read",
        ),
        ({"flat_picture": ("a.png", pieces["flat_picture"])}, "many", "dots per inch are a number"),
        ({"flat_picture": ("a.png", pieces["flat_picture"])}, "7", "50 to 5000 dots per inch, not 7"),
    ):
        answer = client.post("/jobs/1/trial/scan", data=form | {"dpi": dpi}, files=files or {"x": ("", b"")})
        assert answer.status_code == 422
        assert words in html.unescape(answer.text)
        assert fields_of(answer.text)["roof"] == "3.41"
        assert '<details class="from-pictures" open' in answer.text


def test_a_german_reader_is_told_in_german_what_was_left_out(
    client: TestClient, pieces: dict[str, bytes]
) -> None:
    form = flush_corner(client) | {"dpi": "300", "flat_picture_edits": "L2-"}
    client.cookies.set("drawerwright_reader", "de|mm|comma|light")
    answer = client.post(
        "/jobs/1/trial/scan", data=form, files={"flat_picture": ("flat.png", pieces["flat_picture"])}
    )
    (said,) = re.findall(r"<p>Weggelassen: ([^<]*)</p>", answer.text)
    assert "Schräge" in said
    assert "slope" not in said


def test_the_camera_opens_where_the_run_asks_for_a_test_cut(client: TestClient) -> None:
    corner = flush_corner(client)["corner"]
    at_the_bench = client.get(f"/jobs/1/trial?corner={corner}&step=3").text
    assert at_the_bench.count('capture="environment"') == 2
    assert "capture=" not in client.get(f"/jobs/1/trial?corner={corner}").text


def test_enter_in_a_field_asks_what_to_change(client: TestClient) -> None:
    """A browser presses the first button of a form (HTML, implicit submission; from memory)."""
    page = client.get("/jobs/1/trial").text
    form = page[page.index('data-draft="trial-') :]
    buttons = re.findall(r"<button(?![^>]*type=.button)[^>]*>", form[: form.index("</form>")])
    assert "formaction" not in buttons[0]
    assert any("/trial/scan" in button for button in buttons[1:])


def test_a_large_picture_is_taken_and_a_form_as_large_is_not(client: TestClient) -> None:
    form, large = flush_corner(client), b"\x89PNG\r\n\x1a\n" + b"x" * 3_000_000
    taken = client.post("/jobs/1/trial/scan", data=form, files={"flat_picture": ("a.png", large)})
    assert taken.status_code == 422
    assert "a.png" in taken.text
    assert client.post("/jobs/1/trial", content=large).status_code == 413
