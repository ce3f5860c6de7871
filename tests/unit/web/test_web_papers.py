"""The papers of a job as they are taken: the archive holds the very job file, and what was asked for."""

from __future__ import annotations

import io
import zipfile

from starlette.testclient import TestClient

from crates import crates
from drawerwright.web.server.shop import Shop


def names_of(answer: bytes) -> list[str]:
    return zipfile.ZipFile(io.BytesIO(answer)).namelist()


def test_archive_holds_the_very_job_file(client: TestClient, shop: Shop) -> None:
    text = f"# of nobody's but mine: “Ähre”\n{crates(2, has_tray=True)}"
    shop.jobs.add("crates", text)
    archive = zipfile.ZipFile(io.BytesIO(client.get("/jobs/2/papers/all.zip").content))
    assert archive.read("job.yaml") == text.encode()
    assert {"packet.pdf", "plan.json", "parts.csv"} <= set(archive.namelist())
    assert sum(name.endswith(".dxf") for name in archive.namelist()) >= 2  # the sheet and the corner
    chosen = client.get("/jobs/2/papers/all.zip?files=csv,xlsx").content
    assert names_of(chosen) == ["job.yaml", "parts.csv", "cuts.csv", "job.xlsx", "plan.json"]
    assert client.get("/jobs/2/papers/all.zip?files=doc").status_code == 422
