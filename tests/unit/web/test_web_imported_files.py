"""What is no job file is refused with a way on, and makes no job."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from drawerwright.web.server.shop import Shop


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("photo.png", b"\x89PNG\r\n\x1a\n" + bytes(3000), "A job file ends in .yaml or .yml"),
        ("list.CSV", b"Drawer;Outer width", "table of drawers below, under “Drawers from a table”"),
        ("latin.yaml", "job: Ähre".encode("latin-1"), "not UTF-8 text (byte 5)"),
        ("large.yaml", b"#" * 3_000_000, "larger than 2,000,000 bytes"),
        ("long.yaml", b"#" * 1_500_000, "larger than 300,000 bytes"),
        ("broken.yaml", b"job: [1, 2\n", "cannot be read as YAML"),
    ],
)
def test_what_is_no_job_file_is_refused_with_a_way_on(
    client: TestClient, shop: Shop, name: str, content: bytes, words: str
) -> None:
    before = shop.jobs.list()
    answer = client.post("/jobs/import", files={"file": (name, content)})
    assert answer.status_code in {413, 422}
    assert words in answer.text
    assert 'href="/"' in answer.text
    assert shop.jobs.list() == before
