"""Public names and texts keep to the words of docs/words.md."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from babel.messages.pofile import read_po

from drawerwright.cli import build_parser

ROOT = Path(__file__).parents[2]


def shunned() -> dict[str, str]:
    text = (ROOT / "docs" / "words.md").read_text("utf-8").split("| not | but |")[1].split("\n## ")[0]
    rows = re.findall(r"^\| (?!-)([^|]+) \| ([^|]+) \|$", text, re.MULTILINE)
    return {word.strip(): instead.strip() for words, instead in rows for word in words.split(",")}


def public_names() -> set[tuple[str, str]]:
    names = set()
    for path in (ROOT / "src" / "drawerwright").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            name = ""
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
                name = node.name
            elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
                name = node.target.id
            if name and not name.startswith("_"):
                snake = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).lower()
                names.add((path.name, snake))
    return names


def test_no_public_name_uses_a_second_word_for_a_thing() -> None:
    words = shunned()
    assert words["rabbet"] == "rebate"
    found = [
        (file, name, instead)
        for file, name in public_names()
        for word, instead in words.items()
        if f"_{word.replace(' ', '_')}_" in f"_{name}_"
    ]
    assert found == []


def test_every_word_of_the_glossary_is_explained_once() -> None:
    text = (ROOT / "docs" / "words.md").read_text("utf-8").split("| not | but |")[0]
    words = [
        word.strip() for row in re.findall(r"^\| ([^|]+) \|", text, re.MULTILINE) for word in row.split(",")
    ]
    assert len(words) == len(set(words))
    assert {"flat", "bit height", "fence setting", "band", "strip", "lip", "reveal"} <= set(words)


def awkward() -> list[str]:
    table = (ROOT / "docs" / "words.md").read_text("utf-8").split("| rather than | write |")[1]
    return re.findall(r"^\| (?!-)([^|]+) \| [^|]+ \|$", table, re.MULTILINE)


def texts() -> dict[str, str]:
    """Whatever a reader meets: the catalogue's texts, the help of every command, the docs."""
    locale = ROOT / "src" / "drawerwright" / "web" / "locale"
    with (locale / "de" / "LC_MESSAGES" / "drawerwright.po").open("rb") as file:
        catalogue = read_po(file)
    found = {"catalogue": "\n".join(str(message.id) for message in catalogue)}
    parser = build_parser()
    commands = next(action for action in parser._actions if action.dest == "command")
    assert isinstance(commands.choices, dict)
    found |= {name: command.format_help() for name, command in commands.choices.items()}
    pages = [ROOT / "README.md", *(ROOT / "docs").glob("*.md")]
    found |= {page.name: page.read_text("utf-8").split("| rather than | write |")[0] for page in pages}
    return {where: " ".join(text.lower().split()) for where, text in found.items()}


def test_no_text_says_it_awkwardly() -> None:
    phrases = awkward()
    assert "shows too much by" in phrases
    assert [(where, each) for where, text in texts().items() for each in phrases if each in text] == []
