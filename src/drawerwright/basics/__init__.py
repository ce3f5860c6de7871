"""Lengths, errors, findings and the other words that every room above speaks."""
