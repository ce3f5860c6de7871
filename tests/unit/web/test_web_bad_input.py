"""Bad input in every field: it stays there, in the words of the job-file reader, and nothing else changes."""

from __future__ import annotations

import html
import io
import json
import re
from collections import Counter
from collections.abc import Iterator, Sequence

import pytest
from starlette.testclient import TestClient
from test_web_reachable import DESK, JOB, PAGES

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.yaml_text import read_tree, yaml_reader
from drawerwright.web.fields.field import KINDS, TICKED
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from opened_panels import with_panels_open

BAD = {
    "length": "wide",
    "load": "heavy",
    "number": "fast",
    "price": "dear",
    "whole": "2.5",
    "choice": "no such thing",
    "lengths": "14.6; wide",
    "numbers": "8000; fast",
    "aims": "dreams",
    "name-groups": "one; nobody",
}
NEVER_BAD = {*TICKED, "text", "rule", "yes-or-name"}
"""A box to tick, and a text, are what they are; a rule that there is not is refused before it is written."""
FIELD = re.compile(r'<(?:input|select) id="([^"]+)" name="value"(.*?)hx-vals="([^"]*)"', re.DOTALL)


def commented(text: str) -> str:
    """The text with a comment above each line."""
    lines = text.splitlines()
    return "".join(
        f"{' ' * (len(line) - len(line.lstrip()))}# {number}\n{line}\n" for number, line in enumerate(lines)
    )


def with_entries(text: str, entries: Sequence[tuple[Sequence[str | int], str]]) -> str:
    """The text with a value in each of many entries."""
    yaml = yaml_reader()
    yaml.width = 4096
    yaml.preserve_quotes = True
    tree = read_tree(text, yaml=yaml)
    for path, value in entries:
        node = tree
        for step in path[:-1]:
            if isinstance(node, dict):
                node.setdefault(step, {})
            node = node[step]
        node[path[-1]] = value
    written = io.StringIO()
    yaml.dump(tree, written)
    return written.getvalue()


@pytest.fixture
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    shop = Shop(tmp_path_factory.mktemp("data"))
    yield shop
    shop.close()


DEEP = "[" * 100_000


def test_every_kind_of_field_is_tried_or_has_a_reason() -> None:
    assert BAD.keys() | NEVER_BAD == KINDS.keys()
    assert not BAD.keys() & NEVER_BAD


@pytest.mark.parametrize("page", PAGES)
def test_bad_input_stays_in_its_field_with_the_words_of_the_reader(shop: Shop, page: str) -> None:
    """Twenty fields are filled and looked at together, one of each kind as somebody types it, but for choices of one
    row: a stock or a style that there is not hides what else is wrong in its entry. Of rows that have the same entry
    the last is tried: to come to its field, a change passes all others."""
    text = commented(JOB)
    shop.jobs.add("All entries", text)
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    tried: dict[tuple[bool, int], list[tuple[str, dict[str, str]]]] = {}
    found: dict[tuple[str, ...], tuple[str, dict[str, str]]] = {}
    for identity, _rest, values in FIELD.findall(with_panels_open(client, f"/jobs/1/{page}")):
        vals = json.loads(html.unescape(html.unescape(values)))
        path = json.loads(vals.get("path", "[]"))
        if isinstance(value_at(entries_of(text), tuple(path)), dict):
            continue  # the name of a runner sheet, chosen instead of measures of its own, takes their place
        found[tuple("" if isinstance(step, int) else step for step in path)] = identity, vals
    choices: Counter[tuple[str | int, ...]] = Counter()
    for number, (identity, vals) in enumerate(found.values()):
        if identity.endswith("-joint"):
            continue  # as a rule: refused before it is written
        if vals.get("kind", "text") not in NEVER_BAD:  # a height at the drawing has a form of its own
            # What is wrong in the first bank is wrong in those like it; of more than 100 faults the rest is counted.
            row = tuple(json.loads(vals["path"])[:2])
            is_choice = vals["kind"] == "choice"
            choices[row] += is_choice
            together = choices[row] if is_choice else number // 20
            tried.setdefault((is_choice, together), []).append((identity, vals))
    for fields in tried.values():
        by_hand = {vals["kind"]: (identity, vals) for identity, vals in fields}
        others = [
            (json.loads(vals["path"]), BAD[vals["kind"]])
            for each, vals in fields
            if (each, vals) not in by_hand.values()
        ]
        if others:  # as one change: to type each would take a minute
            base = shop.jobs.load(1).revision.number
            shop.jobs.save(1, with_entries(text, others), title="All entries", base=base)
        for kind, (identity, vals) in by_hand.items():
            base = str(shop.jobs.load(1).revision.number)
            answer = client.post("/jobs/1/entry", data={**vals, "base": base, "value": BAD[kind]})
            assert answer.status_code == 204, identity
        after = shop.jobs.load(1).text
        assert re.findall("# [0-9]+$", after, re.MULTILINE) == re.findall("# [0-9]+$", text, re.MULTILINE)
        with pytest.raises(FaultyInputError) as refused:
            read_job(after)
        shown = client.get(f"/jobs/1/{page}").text.replace("\xa0", " ")  # a panel with a fault is open
        told = html.unescape(re.sub("<[^>]*>", "", shown))  # a bank that merges another has its faults too
        for identity, vals in fields:
            kind = vals["kind"]
            ((_tag, beside),) = re.findall(rf'<(p|li) id="fault-{identity}"[^>]*>(.*?)</\1>', shown)
            assert re.sub("<[^>]*>", "", beside), identity
            field = shown.split(f'id="{identity}"')[1][:6000]
            kept = field.split("</select>")[0] if kind == "choice" else field.split(">")[0]
            assert f'value="{BAD[kind]}"' in kept, identity
            assert 'aria-invalid="true"' in field.split(">")[0], identity
        for fault in refused.value.faults:
            assert str(fault.message) in told, fault
        for _ in range(len(by_hand) + bool(others)):
            before = shop.jobs.undo(1).text
        assert before == text
    assert {vals["kind"] for fields in tried.values() for _, vals in fields} >= {
        "length",
        "whole",
        "choice",
    } - ({"whole"} if page == "cutter" else set())


@pytest.mark.parametrize(
    ("page", "typed"),
    [
        (
            "drawers",
            {
                "banks-0-opening-width": ("wide", "cannot read 'wide' as a length"),
                "banks-1-opening-width": ("-3", "must be more than 0"),
                "boxes-0-count": ("2.5", "must be a whole number"),
                "banks-0-fronts-heights-equal": ("seven", "must be a whole number from 1 to 60 (read: "),
                "banks-1-fronts-overlay-top": ("high", "cannot read 'high' as a length"),
                "banks-0-fronts-pull-hole": ("0", "must be more than 0"),
                "banks-1-banding-thickness": ("-1", "must be more than 0"),
                "banks-0-bottom-groove_depth": ("deep", "cannot read 'deep' as a length"),
                "banks-1-fronts-heights-arithmetic-smallest": ("low", "cannot read 'low' as a length"),
                "banks-1-fronts-heights-arithmetic-count": ("0", "must be 1 or more"),
                "banks-1-runner-length": ("long", "cannot read 'long' as a length"),
                "boxes-0-bottom-clearance": ("-2", "must be 0 or more"),
            },
        ),
        (
            "cutter",
            {
                "cutter-mid_depth": ("6 ± 1 ± 2", "more than one ±"),
                "cutter-slope": ("120", "between 0 and 90 degrees"),
                "cutter-max_speed": ("fast", "must be a number"),
            },
        ),
        (
            "stock",
            {
                "stock-birch15-measured": ("99", "cannot belong to stock of 15 mm"),
                "stock-birch15-sheets-0-on_hand": ("-1", "must be 0 or more"),
            },
        ),
    ],
    ids=["drawers", "cutter", "stock"],
)
def test_each_mistake_has_its_words(shop: Shop, page: str, typed: dict[str, tuple[str, str]]) -> None:
    shop.jobs.add("The example", example_text())
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    fields = {
        name: json.loads(html.unescape(html.unescape(values)))
        for name, _rest, values in FIELD.findall(with_panels_open(client, f"/jobs/1/{page}"))
    }
    for name, (value, words) in typed.items():
        base = str(shop.jobs.load(1).revision.number)
        answer = client.post("/jobs/1/entry", data={**fields[name], "base": base, "value": value})
        assert answer.status_code == 204
        shown = with_panels_open(client, f"/jobs/1/{page}").replace("\xa0", " ")
        ((_tag, beside),) = re.findall(rf'<(p|li) id="fault-{name}"[^>]*>(.*?)</\1>', shown)
        assert words in html.unescape(beside or shown)  # some faults are of an entry as a whole
        assert f'value="{value}"' in shown.split(f'id="{name}"')[1].split(">")[0]
        shop.jobs.undo(1)  # what is wrong in one entry may hide what is wrong in the next


def test_the_order_of_the_later_aims_is_typed_in_words_and_refused_beside_its_field(shop: Shop) -> None:
    shop.jobs.add("All entries", JOB)
    headers = {"Origin": DESK, "Accept-Language": "de"}
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers=headers)

    def typed(value: str) -> tuple[str, str]:
        """What the field and the fault beside it say after something was typed."""
        data = {"path": '["sheets", "later_aims"]', "kind": "aims", "value": value}
        base = str(shop.jobs.load(1).revision.number)
        assert client.post("/jobs/1/entry", data={**data, "base": base}).status_code == 204
        page = html.unescape(client.get("/jobs/1/stock").text)
        field = page.split('id="sheets-later_aims"')[1].split(">")[0]
        (fault,) = re.findall(r'<p id="fault-sheets-later_aims"[^>]*>([^<]*)</p>', page)
        return re.findall(r' value="([^"]*)"', field)[0], fault

    assert typed("Gefräste Länge; größtes Rest") == ("Gefräste Länge; Größtes Reststück", "")
    assert read_job(shop.jobs.load(1).text).preferences.later_aims == ("routing", "largest-offcut")
    assert typed("Gefräste Länge; Späne") == (
        "Gefräste Länge; Späne",
        "muss 'offcuts', 'routing', 'fences' oder 'largest-offcut' sein (gelesen: 'Späne')",
    )
    field, fault = typed("Gefräste Länge; routing")
    assert field == "Gefräste Länge; Gefräste Länge"
    assert "jedes höchstens einmal" in fault


@pytest.mark.parametrize(
    ("place", "sent", "status"),
    [
        ("jobs/1/entry", {"path": DEEP, "kind": "length", "value": "1", "base": "1"}, 422),
        ("jobs/1/joints/take", {"changes": DEEP}, 422),
        ("late", {"change": DEEP}, 204),
    ],
)
def test_brackets_that_no_page_sends_are_refused(
    shop: Shop, place: str, sent: dict[str, str], status: int
) -> None:
    shop.jobs.add("Tray", JOB)
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    assert client.post(f"/{place}", data=sent).status_code == status
    assert shop.jobs.load(1).revision.number == 1
