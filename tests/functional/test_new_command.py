"""`drawerwright new` on a terminal: the questions of the app's guided start, one by one."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.cli import main
from drawerwright.job.file.building import read_job

ANSWERS = {
    "Name": "Trays of the print room",
    "Mid depth": "6.1 ± 0.05",
    "Step": "3,8",
    "Box: nominal thickness": "15",
    "Box: as measured": "14.6; 14.7",
    "Bottoms: nominal thickness": "6.5",
    "Bottoms: as measured": "",
    "Sheets: length": "",
    "Sheets: width": "1300",
    "Width": "480",
    "Height": "700",
    "Depth": "450",
    "Number of drawers": "5",
}


class Terminal:
    """Answers what it is asked, first with what is given for a question, then as usual; keeps every prompt."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, **first: tuple[str, ...]) -> None:
        self.prompts: list[str] = []
        self.first = {name.replace("_", " "): list(answers) for name, answers in first.items()}
        self.usual = dict(ANSWERS)
        monkeypatch.setattr("builtins.input", self.asked)

    def asked(self, prompt: str) -> str:
        self.prompts.append(prompt)
        label = (
            prompt.split("  ", 1)[1].split(" (")[0].removesuffix(", mm").removesuffix(", in").split(" [")[0]
        )
        given = self.first.get(label.rstrip(": "), [])
        return given.pop(0) if given else self.usual[label.rstrip(": ")]


def test_answers_make_a_job_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    terminal = Terminal(monkeypatch)
    assert main(["new", str(tmp_path / "trays.yaml")]) == 0
    said = capsys.readouterr().out
    assert len(terminal.prompts) == 13
    assert "Opening in the carcase" in said
    assert f"drawerwright plan {tmp_path / 'trays.yaml'} --out {tmp_path / 'trays'}" in said
    job = read_job((tmp_path / "trays.yaml").read_text("utf-8"))
    assert (job.name, len(job.all_boxes)) == ("Trays of the print room", 5)
    assert job.cutters[0].cutter.mid_depth == Estimate(6.1, 0.05)
    assert job.cutters[0].cutter.step.value == 3.8
    assert job.stock["box panel"].thickness.value == pytest.approx(14.65)
    (sheet,) = job.sheet_sizes["box panel"]
    assert (sheet.length, sheet.width) == (2500, 1300), "the usual one, and the one that was typed"
    assert main(["check", str(tmp_path / "trays.yaml")]) == 0


def test_in_inches(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal(monkeypatch)
    terminal.usual |= {
        "Mid depth": "0.24",
        "Step": "0.15",
        "Box: nominal thickness": "1/2",
        "Box: as measured": "0.472; 0.476",
        "Bottoms: nominal thickness": "1/4",
        "Sheets: width": "",
        "Width": "18 1/2",
        "Height": "28",
        "Depth": "17 3/4",
    }
    assert main(["new", str(tmp_path / "trays.yaml"), "--units", "in"]) == 0
    assert "Mid depth, in" in terminal.prompts[1]
    assert "[96]" in terminal.prompts[7]
    job = read_job((tmp_path / "trays.yaml").read_text("utf-8"))
    (sheet,) = job.sheet_sizes["box panel"]
    assert (sheet.length, sheet.width) == pytest.approx((96 * 25.4, 48 * 25.4))
    assert job.banks[0].bank.reveal == 25.4 / 8, "as a shop that works in inches sets it"


def test_a_bad_answer_is_refused_in_words_and_asked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    terminal = Terminal(
        monkeypatch, Mid_depth=("wide", "-3", ""), Number_of_drawers=("0", "some"), Box__as_measured=()
    )
    assert main(["new", str(tmp_path / "trays.yaml")]) == 0
    said = capsys.readouterr().out
    assert "Mid depth: cannot read 'wide' as a length" in said
    assert "Mid depth: must be more than 0, not -3 mm" in said
    assert "Mid depth: is missing" in said
    assert "Number of drawers: must be 1 or more" in said
    assert "Number of drawers: must be a whole number" in said
    assert len(terminal.prompts) == 13 + 5


def test_what_two_answers_make_impossible_is_asked_again_and_keeps_the_rest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    terminal = Terminal(monkeypatch, Step=("40",))
    assert main(["new", str(tmp_path / "trays.yaml")]) == 0
    assert "Step: a step of 40 mm" in capsys.readouterr().out
    assert [prompt.split(" (")[0] for prompt in terminal.prompts[13:]] == [
        "2/13  Mid depth, mm",
        "3/13  Step, mm",
    ]
    assert "[40]" in terminal.prompts[14]


@pytest.mark.parametrize("typed", ["4 ft", "2500", "2000"])
@pytest.mark.parametrize(
    "name",
    ["Box: nominal thickness", "Box: as measured", "Bottoms: nominal thickness", "Bottoms: as measured"],
)
def test_a_thickness_of_no_drawer_is_refused_at_its_question(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    name: str,
    typed: str,
) -> None:
    terminal = Terminal(monkeypatch, **{name: (typed,)})
    assert main(["new", str(tmp_path / "trays.yaml")]) == 0
    assert "no joint for drawers is made in stock over 40 mm" in capsys.readouterr().out
    asked_twice = [prompt for prompt in terminal.prompts if name in prompt]
    assert (len(terminal.prompts), len(asked_twice)) == (14, 2)


def test_the_way_back_leads_out_of_what_is_asked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = Terminal(monkeypatch, Step=("40",), Mid_depth=("6.1", "<", "6.1"))
    assert main(["new", str(tmp_path / "trays.yaml")]) == 0
    again = [prompt.split("  ")[0] for prompt in terminal.prompts[13:]]
    assert again == ["2/13", "1/13", "2/13", "3/13"]


def test_one_can_go_back_and_an_answer_can_be_taken_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = Terminal(monkeypatch)
    typed = "A, 6, 4, 15, 14.6, <, -, 6.5, , , <, 2400, , 480, 700, 450, 3"
    lines = iter(typed.split(", "))
    monkeypatch.setattr("builtins.input", lambda prompt: (terminal.prompts.append(prompt), next(lines))[1])
    assert main(["new", str(tmp_path / "a.yaml")]) == 0
    assert terminal.prompts[6].startswith("5/13  Box: as measured")
    assert "[14.6, or - for none]" in terminal.prompts[6]
    job = read_job((tmp_path / "a.yaml").read_text("utf-8"))
    assert job.stock["box panel"].thickness.is_provisional
    assert job.sheet_sizes["box panel"][0].length == 2400


def test_an_input_that_ends_leaves_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def ended(_prompt: str) -> str:
        raise EOFError

    monkeypatch.setattr("builtins.input", ended)
    assert main(["new", str(tmp_path / "a.yaml")]) == 2
    assert "nothing was written" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_file_that_is_there_is_left_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.yaml").write_text("mine")
    assert main(["new", str(tmp_path / "a.yaml")]) == 2
    assert "exists already" in capsys.readouterr().err
    assert (tmp_path / "a.yaml").read_text() == "mine"
    assert main(["new", str(tmp_path / "nowhere" / "a.yaml")]) == 2
    assert "no folder" in capsys.readouterr().err


def test_drawers_that_do_not_fit_may_be_a_slip_of_the_height(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    terminal = Terminal(monkeypatch, Height=("10",))
    assert main(["new", str(tmp_path / "trays.yaml")]) == 0
    assert "do not fit an opening 10 mm high, which leaves 4 mm for them" in capsys.readouterr().out
    again = [prompt.split("  ", 1)[1].split(" ")[0] for prompt in terminal.prompts[13:]]
    assert again == ["Height,", "Number"]
