"""Cutters, the law of self-mating corners, and what follows from it."""
