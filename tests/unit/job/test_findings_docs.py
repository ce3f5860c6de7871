"""docs/findings.md tells every finding that the code can make, and no other."""

from __future__ import annotations

import ast
import re
from pathlib import Path

ROOT = Path(__file__).parents[3]


def test_every_finding_is_told_in_the_docs() -> None:
    made = set()
    texts = {file: file.read_text("utf-8") for file in (ROOT / "src").rglob("*.py")}
    for file, text in texts.items():
        for node in ast.walk(ast.parse(text)) if "Finding(" in text else ():
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Finding":
                assert isinstance(node.args[0], ast.Constant), f"{file}: a code is written where it is made"
                made.add(node.args[0].value)
    page = (ROOT / "docs" / "findings.md").read_text("utf-8")
    for table in page.split("## What to change"):
        told = re.findall(r"^\| `([a-z-]+)` \|", table, re.MULTILINE)
        assert len(told) == len(set(told))
        assert set(told) == made
