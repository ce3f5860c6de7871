"""Blanks and the sheets they are cut from."""
