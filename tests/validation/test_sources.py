"""Every test here says where the value comes from that it holds the program to."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

HERE = Path(__file__).parent


def each_test() -> Iterator[tuple[str, ast.FunctionDef]]:
    for file in sorted(HERE.glob("test_*.py")):
        if file.name != Path(__file__).name:
            for node in ast.parse(file.read_text("utf-8")).body:
                if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
                    yield file.stem, node


@pytest.mark.parametrize(
    "test", [pytest.param(node, id=f"{module}-{node.name}") for module, node in each_test()]
)
def test_a_validation_names_its_source(test: ast.FunctionDef) -> None:
    """Source: none needed. "Common practice, no source" and "from memory" are said where they are true."""
    assert "source" in (ast.get_docstring(test) or "").lower()
