"""What typst remembers of a large document takes hundreds of megabytes: it is let go."""

from __future__ import annotations

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings import typesetting
from drawerwright.drawings.checkbar import draw_check_bar
from drawerwright.drawings.printing import write_full_pages


@pytest.mark.parametrize(("large", "times"), [(10**9, 0), (1, 1)])
def test_a_large_document_is_forgotten(monkeypatch: pytest.MonkeyPatch, large: int, times: int) -> None:
    forgotten: list[bool] = []
    monkeypatch.setattr(typesetting, "LARGE", large)
    monkeypatch.setattr(typesetting, "_forget", lambda: forgotten.append(True))
    pdf = write_full_pages([draw_check_bar()], "Bar", LengthStyle())
    assert typesetting.page_count(pdf) == 1
    assert len(forgotten) == times
