"""The order of work in the shop."""
