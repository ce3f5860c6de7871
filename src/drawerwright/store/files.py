"""Files written whole or not at all."""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from drawerwright.basics.phrases import phrase

AT_ONCE = 8
"""Files that wait for the disk together."""


def write_whole(path: Path, content: bytes) -> None:
    """Write `content` to `path` so that any reader, at any moment, finds the old file or the new one.

    The new content goes into a neighbour first, reaches the disk, and then takes the name.

    Raises:
        OSError: the folder cannot be written; the old file, if any, is untouched.
    """
    neighbour = path.with_name(f".{path.name}.{secrets.token_hex(6)}")
    try:
        # Made as any program makes a file, so that the umask says who may read it.
        handle = os.open(neighbour, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            neighbour.replace(path)
        except BaseException:
            neighbour.unlink(missing_ok=True)
            raise
    except OSError as error:  # said of the file that was asked for, not of its neighbour
        is_nowhere = isinstance(error, FileNotFoundError) and not path.parent.exists()
        reason = phrase("its folder does not exist") if is_nowhere else error.strerror
        raise type(error)(error.errno, reason, str(path)) from None


def write_each_whole(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write many files into `folder`, by their paths in it, each as `write_whole` does; folders are made.

    Several at once: a disk confirms many in the time of one.

    Raises:
        OSError: one of them cannot be written.
    """
    paths = [folder / name for name in contents]
    for parent in {path.parent for path in paths}:
        parent.mkdir(parents=True, exist_ok=True)
    with ThreadPoolExecutor(AT_ONCE, "writing") as writers:
        for done in [
            writers.submit(write_whole, *file) for file in zip(paths, contents.values(), strict=True)
        ]:
            done.result()
