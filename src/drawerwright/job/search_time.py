"""How long sheets are searched for."""

from __future__ import annotations

USUAL_SECONDS = 10.0
"""Seconds for the sheets of each stock, where neither the job nor the command says how many."""
