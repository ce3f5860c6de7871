"""The script of the pages: its modules joined to one, so that a browser asks for one file instead of two dozen.

A module keeps names of its own, as in a function; what it exports the others take from its result. Only what the
scripts of the pages are written with is understood: imports of one line by name, exports in front of what they export.
"""

from __future__ import annotations

import re
from graphlib import TopologicalSorter
from pathlib import Path

IMPORT = re.compile(r'^import (?:(\{[^}]*\}) from )?"\./(\w+)\.js";$', re.MULTILINE)
EXPORT = re.compile(r"^export ((?:async )?function|const) (\w+)", re.MULTILINE)


def joined_script(folder: Path, name: str) -> str:
    """The module `name` of `folder` with all that it imports, each after what it needs, else in the order in which
    they are named, so that every server sends the same.

    Raises:
        graphlib.CycleError: modules that need each other.
    """
    texts = {}
    needed: dict[str, list[str]] = {}
    waiting = [name]
    while waiting:
        module = waiting.pop()
        if module not in texts:
            texts[module] = (folder / f"{module}.js").read_text(encoding="utf-8")
            needed[module] = [found[2] for found in IMPORT.finditer(texts[module])]
            waiting += needed[module]
    order = TopologicalSorter(needed).static_order()
    return "".join(_as_function(module, texts[module]) for module in order)


def _as_function(module: str, text: str) -> str:
    exported = ", ".join(found[2] for found in EXPORT.finditer(text))
    body = IMPORT.sub(lambda found: f"const {found[1]} = ${found[2]};" if found[1] else "", text)
    body = EXPORT.sub(r"\1 \2", body)
    return f"const ${module} = (() => {{\n{body}return {{ {exported} }};\n}})();\n"
