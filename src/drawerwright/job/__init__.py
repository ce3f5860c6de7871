"""The job file and the use cases: the only door for interfaces."""
