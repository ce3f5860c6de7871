"""The script of the pages: its modules as one file."""

from __future__ import annotations

import re
from graphlib import CycleError
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.web.reader.rendering import STATIC_FOLDER, asset_mark
from drawerwright.web.server.scripts import joined_script

BY_ITSELF = {"app", "early", "viewer", "drop"}
"""Scripts that a page asks for alone, and when it needs them."""


def test_what_a_page_loads_holds_every_module_once(client: TestClient) -> None:
    answer = client.get(f"/static/v-{asset_mark()}/app.js")
    assert answer.headers["content-type"].startswith("text/javascript")
    assert "immutable" in answer.headers["cache-control"]
    modules = {path.stem for path in STATIC_FOLDER.glob("*.js")} - BY_ITSELF
    assert len(modules) > 15
    for module in modules:
        assert answer.text.count(f"const ${module} = (() => {{") == 1
    assert "\nimport " not in answer.text
    assert "\nexport " not in answer.text
    assert answer.text.count('import("./viewer.js")') == 1  # which comes when it is seen


def test_a_module_comes_after_what_it_needs(tmp_path: Path) -> None:
    (tmp_path / "app.js").write_text('import "./one.js";\nimport { far } from "./two.js";\nfar();\n')
    (tmp_path / "one.js").write_text(
        'import { far } from "./two.js";\nexport async function near() { far(); }\n'
    )
    (tmp_path / "two.js").write_text("const own = 1;\nexport function far() { return own; }\n")
    assert joined_script(tmp_path, "app") == (
        "const $two = (() => {\nconst own = 1;\nfunction far() { return own; }\nreturn { far };\n})();\n"
        "const $one = (() => {\nconst { far } = $two;\nasync function near() { far(); }\nreturn { near };\n})();\n"
        "const $app = (() => {\n\nconst { far } = $two;\nfar();\nreturn {  };\n})();\n"
    )


def test_modules_that_need_nothing_of_each_other_come_as_they_are_named(tmp_path: Path) -> None:
    """In one process any order of a set is the same each time: eight names are hardly in order by chance."""
    names = [f"module{number * 5 % 8}" for number in range(8)]
    (tmp_path / "app.js").write_text("".join(f'import "./{name}.js";\n' for name in names))
    for name in names:
        (tmp_path / f"{name}.js").write_text("")
    joined = joined_script(tmp_path, "app")
    assert re.findall(r"const \$(\w+)", joined) == [*names, "app"]


def test_modules_that_need_each_other_are_refused(tmp_path: Path) -> None:
    (tmp_path / "app.js").write_text('import { far } from "./far.js";\n')
    (tmp_path / "far.js").write_text('import "./app.js";\nexport const far = 1;\n')
    with pytest.raises(CycleError):
        joined_script(tmp_path, "app")
