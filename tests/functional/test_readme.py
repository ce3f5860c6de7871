"""Whoever types what the README shows, in its order, on a fresh clone, never meets a command that is not there."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from drawerwright.cli import main

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
COMMANDS = [shlex.split(line, comments=True) for line in re.findall(r"^\$ (.+)$", README, re.MULTILINE)]
OF_DRAWERWRIGHT = [command for command in COMMANDS if command[0] == ".venv/bin/drawerwright"]


def test_commands_are_make_or_what_make_plan_leaves() -> None:
    assert COMMANDS[0] == ["make", "plan"]
    targets = re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text("utf-8"), re.MULTILINE)
    for command in COMMANDS:
        assert command in OF_DRAWERWRIGHT or (command[0] == "make" and command[1] in targets), command
    assert len(OF_DRAWERWRIGHT) >= 3


@pytest.mark.parametrize("command", OF_DRAWERWRIGHT, ids=lambda command: command[1])
def test_each_command_does_its_work(
    command: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    monkeypatch.chdir(tmp_path)
    assert main(command[1:]) == 0
    assert "mm" in capsys.readouterr().out


def test_pictures_and_pages_are_there_and_small() -> None:
    for link in re.findall(r"\]\(([^)#:]+)\)", README):
        assert (ROOT / link).is_file(), link
    pictures = re.findall(r'<img src="([^"]+)"', README)
    assert len(pictures) == 2
    for picture in pictures:
        assert 0 < (ROOT / picture).stat().st_size < 250_000, picture
