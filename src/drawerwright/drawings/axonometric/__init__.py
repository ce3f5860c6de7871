"""Solids as line drawings: edges, and what of them shows. Exact: no pixels in between."""
