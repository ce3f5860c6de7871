"""A file that cannot be written is named as it was asked for."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from drawerwright.store.files import write_whole


def test_a_missing_folder_is_said_of_the_path_given(tmp_path: Path) -> None:
    path = tmp_path / "none" / "sheet.pdf"
    with pytest.raises(FileNotFoundError) as told:
        write_whole(path, b"x")
    assert (told.value.filename, told.value.strerror) == (str(path), "its folder does not exist")


def test_a_folder_in_the_way_is_said_of_the_path_given(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.mkdir()
    with pytest.raises(OSError, match="sheet") as told:
        write_whole(path, b"x")
    assert told.value.filename == str(path)
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(os.name != "posix", reason="modes of files as POSIX has them")
@pytest.mark.parametrize(("umask", "mode"), [(0o022, 0o644), (0o077, 0o600), (0o002, 0o664)])
def test_a_file_is_made_as_the_umask_says(tmp_path: Path, umask: int, mode: int) -> None:
    before = os.umask(umask)
    try:
        write_whole(tmp_path / "plan.json", b"{}")
    finally:
        os.umask(before)
    assert (tmp_path / "plan.json").stat().st_mode & 0o777 == mode
