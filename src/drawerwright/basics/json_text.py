"""JSON that others wrote."""

from __future__ import annotations

import json
from typing import Any


def read_json(text: str) -> Any:
    """What a text in JSON says.

    Raises:
        ValueError: it is no JSON, or nested more deeply than anybody writes.

    >>> read_json('{"steps": [1, 2]}')
    {'steps': [1, 2]}
    >>> read_json("[" * 100_000)
    Traceback (most recent call last):
    ...
    ValueError: it is nested too deeply
    """
    try:
        return json.loads(text)
    except RecursionError:
        raise ValueError("it is nested too deeply") from None
