"""Starlette's test client warns on import that it prefers a successor of httpx; httpx serves it as well."""

from __future__ import annotations

import warnings

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import starlette.testclient  # noqa: F401
