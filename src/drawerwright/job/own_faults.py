"""An error that nobody allowed for: words for whoever meets it, and its details in a file to send on."""

from __future__ import annotations

import os
import platform
import sys
import tempfile
import time
import traceback
from pathlib import Path

from drawerwright import __version__
from drawerwright.basics.phrases import Phrase, phrase

FOLDER = "drawerwright-faults"
SEND_ON = phrase("please send that file to whoever maintains Drawerwright")
"""What is asked wherever a report is named."""
KEPT_REPORTS = 20
"""The same fault may be met again and again; the disk is not filled with it."""


def own_fault(error: BaseException, doing: str) -> Phrase:
    """What is said of a fault of the program itself. Its details go to a file, or to the terminal where none can be
    written.

    Args:
        error: what was raised.
        doing: what was being done, with which file: the first line of the report.
    """
    kind = type(error).__name__
    where = _report(error, doing)
    if where is None:
        return phrase(
            "Drawerwright hit an internal error ({kind}); your input is not to blame. Everything saved is safe.",
            kind=kind,
        )
    return phrase(
        "Drawerwright hit an internal error ({kind}); your input is not to blame. Everything saved is safe. "
        "Details are in {file}: {please}.",
        kind=kind,
        file=str(where),
        please=SEND_ON,
    )


def report_folder() -> Path:
    """Where reports lie: in the folder for temporary files, where a full or read-only data folder does no harm."""
    user = os.getuid() if hasattr(os, "getuid") else 0
    return Path(tempfile.gettempdir()) / f"{FOLDER}-{user}"


def _report(error: BaseException, doing: str) -> Path | None:
    """Write the details of an error; None where that cannot be done."""
    details = "".join(traceback.format_exception(error))
    text = (
        f"{doing}\n\nDrawerwright {__version__}, Python {platform.python_version()}, {platform.platform()}\n"
        f"{time.strftime('%Y-%m-%d %H:%M:%S %z')}\n\n{details}"
    )
    try:
        folder = report_folder()
        folder.mkdir(mode=0o700, exist_ok=True)
        for old in sorted(folder.glob("*.txt"))[: 1 - KEPT_REPORTS]:
            old.unlink(missing_ok=True)
        with tempfile.NamedTemporaryFile(
            "w",
            encoding="utf-8",
            errors="backslashreplace",
            prefix=time.strftime("%Y-%m-%d-%H%M%S-"),
            suffix=".txt",
            dir=folder,
            delete=False,
        ) as file:
            file.write(text)
    except OSError:
        print(text, file=sys.stderr)
        return None
    return Path(file.name)
