"""Tab in bash, zsh and fish, each as the shell itself completes; a shell that is not installed is left out."""

from __future__ import annotations

import os
import pty
import select
import shlex
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from time import monotonic

import pytest

from drawerwright.cli import COMMANDS, main

Offered = Callable[[str], set[str]]
PATIENCE = 20.0
"""Seconds in which a shell must have answered, on a busy machine."""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("job.yaml", "my job.yaml", "notes.txt"):
        (tmp_path / name).touch()
    (tmp_path / "out").mkdir()
    monkeypatch.chdir(tmp_path)
    return tmp_path


def script(shell: str, capsys: pytest.CaptureFixture[str]) -> str:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not installed")
    assert main(["completion", shell]) == 0
    return capsys.readouterr().out


CASES = [
    ("pl", {"plan"}),
    ("plan j", {"job.yaml"}),
    ("plan job.yaml --o", {"--out", "--on-hand"}),
    ("plan job.yaml --out o", {"out"}),
    ("settings --kind ", {"drawer-lock", "lock-mitre", "edge", "finger", "rebate"}),
    ("settings --kind=f", {"finger"}),
    ("settings --fing", {"--finger"}),
    ("bottom --panel birch", {"birch-plywood"}),
    ("completion ", {"bash", "zsh", "fish"}),
    ("cutter n", {"notes.txt"}),
]


@pytest.mark.parametrize(("line", "wanted"), CASES)
def test_bash(line: str, wanted: set[str], folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As bash calls it: the words of the line, divided at `=` too, and the number of the last."""
    words = ["drawerwright", *line.replace("=", " = ").split(" ")]
    (folder / "drawerwright.bash").write_text(script("bash", capsys))
    asked = (
        "source drawerwright.bash; complete -p drawerwright > /dev/null || exit 9\n"
        f"COMP_WORDS=({shlex.join(words)}); COMP_CWORD={len(words) - 1}\n"
        '_drawerwright; printf "%s\\n" "${COMPREPLY[@]}"'
    )
    done = subprocess.run(["bash", "--norc", "-c", asked], capture_output=True, text=True, check=True)
    assert not done.stderr
    assert set(done.stdout.splitlines()) == wanted


def test_bash_knows_every_command_and_keeps_names_with_blanks_whole(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "drawerwright.bash").write_text(script("bash", capsys))
    for line, wanted in (
        ('""', {command.NAME for command in COMMANDS} | {"--help", "--version"}),
        ('plan ""', {"job.yaml", "my job.yaml", "out"}),
    ):
        asked = f"source drawerwright.bash; COMP_WORDS=(drawerwright {line}); COMP_CWORD=$((${{#COMP_WORDS[@]}} - 1))\n"
        asked += '_drawerwright; printf "%s\\n" "${COMPREPLY[@]}"'
        done = subprocess.run(["bash", "--norc", "-c", asked], capture_output=True, text=True, check=True)
        assert set(done.stdout.splitlines()) == wanted


def test_fish(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "drawerwright.fish").write_text(script("fish", capsys))
    asks = "; ".join(f"complete -C 'drawerwright {line}'; echo ==" for line, _ in CASES)
    done = subprocess.run(
        ["fish", "--no-config", "-c", f"source drawerwright.fish; {asks}"],
        capture_output=True,
        text=True,
        check=True,
    )
    answers = done.stdout.split("==\n")
    for (line, wanted), answer in zip(CASES, answers, strict=False):
        found = {row.split("\t")[0].rstrip("/").rpartition("=")[2] for row in answer.splitlines()}
        assert found == wanted, line


def test_zsh(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In its line editor on a terminal of its own, which shows what Tab offers."""
    (folder / "drawerwright.zsh").write_text(script("zsh", capsys))
    child, terminal = pty.fork()
    if child == 0:
        os.execvpe("zsh", ["zsh", "-f", "-i"], {**os.environ, "TERM": "dumb"})
    setup = "autoload -Uz compinit; compinit -u -D; source drawerwright.zsh; bindkey '^I' complete-word; stty cols 250"
    try:
        os.write(terminal, f"{setup}; echo REA''DY\n".encode())
        read_until(terminal, {"READY\r"})
        for line, wanted in CASES:
            os.write(terminal, f"drawerwright {line}\t\t".encode())
            read_until(terminal, wanted)
            os.write(terminal, b"\x15")  # takes the line out
    finally:
        os.close(terminal)
        os.waitpid(child, 0)


def read_until(terminal: int, wanted: set[str]) -> None:
    """What the terminal shows, until all of it is there."""
    seen, last = "", monotonic() + PATIENCE
    while not all(each in seen for each in wanted):
        assert monotonic() < last, (wanted, seen)
        if select.select([terminal], [], [], 0.1)[0]:
            seen += os.read(terminal, 4096).decode(errors="replace")
