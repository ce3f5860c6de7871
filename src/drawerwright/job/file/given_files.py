"""Files that somebody names: what is none, or far too large, is said before anything of it is read."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from drawerwright.basics.errors import DrawerwrightError, Fault, FaultyInputError, InvalidValueError
from drawerwright.basics.json_text import read_json
from drawerwright.basics.phrases import phrase

Taken = TypeVar("Taken")
LARGEST_PLAN_DATA = 50_000_000
"""Bytes of a `plan.json`; that of 2,000 drawers has a tenth."""
LONGEST_SHOWN = 120
"""Characters of a file's name in a message."""


def given_bytes(path: Path, most: int) -> bytes:
    """What a file holds.

    Args:
        path: the file.
        most: bytes that such a file may have.

    Raises:
        FaultyInputError: it cannot be opened, is a folder, a device or a pipe, or is larger than that.
    """
    try:
        # Without waiting: a pipe that nobody writes to would never be opened.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _fault(path, phrase("cannot be opened: {reason}", reason=reason)) from None
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise _fault(path, phrase("is a folder, a device or a pipe: name a file"))
    with os.fdopen(handle, "rb") as file:
        content = file.read(most + 1)
    if len(content) > most:
        raise _fault(path, phrase("is larger than {limit:,} bytes, the limit", limit=most))
    return content


def given_text(path: Path, most: int) -> str:
    """The text that a file holds.

    Raises:
        FaultyInputError: as for `given_bytes`, or it is not UTF-8 text.
    """
    try:
        return given_bytes(path, most).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        text = phrase("is not UTF-8 text (byte {start}); save it as UTF-8", start=error.start)
        raise _fault(path, text) from None


def given_json(path: Path, most: int) -> Any:
    """What a file in JSON says.

    Raises:
        FaultyInputError: as for `given_text`, or it is no JSON.
    """
    text = given_text(path, most)
    try:
        return read_json(text)
    except ValueError as error:
        raise _fault(path, phrase("is not JSON: {reason}", reason=str(error))) from None


def given_plan_data(path: Path, take: Callable[[Any], Taken]) -> Taken:
    """What `take` finds in the data of a plan.

    Raises:
        DrawerwrightError: as for `given_json`, or what `take` says of it on purpose.
        InvalidValueError: it is JSON, but not what a plan is written with.
    """
    data = given_json(path, LARGEST_PLAN_DATA)
    try:
        return take(data)
    except DrawerwrightError:
        raise
    except (ValueError, KeyError, TypeError, AttributeError):
        raise InvalidValueError(f"{path} is no plan.json that 'drawerwright plan' wrote") from None


def _fault(path: Path, message: str) -> FaultyInputError:
    name = str(path)
    if len(name) > LONGEST_SHOWN:
        name = f"{name[:LONGEST_SHOWN]}…"
    return FaultyInputError((Fault("", message, None, name),))
