"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write `content` to `path` so that any reader, at any moment, finds the old file or the new one.

    The new content goes into a neighbour first, reaches the disk, and then takes the name.

    Raises:
        OSError: the folder cannot be written; the old file, if any, is untouched.
    """
    handle, neighbour = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(neighbour).replace(path)
    except BaseException:
        Path(neighbour).unlink(missing_ok=True)
        raise
