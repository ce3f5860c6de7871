"""What random input once broke: every text in `tests/corpus` ends in a result or in words, within two seconds of the
processor and 500 MB."""

from __future__ import annotations

from pathlib import Path

import pytest

from fuzz.requests import REQUESTS
from fuzz.targets import TARGETS
from fuzz.watching import watched

CORPUS = Path(__file__).parents[2] / "corpus"
FOUND = sorted(CORPUS.glob("*/*.txt"))
ALL = {**TARGETS, REQUESTS.name: REQUESTS}


def test_each_folder_of_the_corpus_has_a_target() -> None:
    assert {path.parent.name for path in FOUND} <= set(ALL)
    assert FOUND


@pytest.mark.parametrize("path", FOUND, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_what_was_found_once_is_found_no_more(path: Path) -> None:
    watched(ALL[path.parent.name].check)(path.read_bytes().decode("utf-8", "surrogatepass"))
