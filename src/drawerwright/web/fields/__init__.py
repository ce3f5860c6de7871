"""Entries of a job file as fields of a page: how each is shown, what typing means, what stands wrong beside it."""
