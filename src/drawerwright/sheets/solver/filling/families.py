"""Strips that may share a band."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Family:
    """Strips that may share a band: demand numbers, all of length `u`."""

    number: int
    u: int
    demands: tuple[int, ...]
