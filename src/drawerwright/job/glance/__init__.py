"""The job at a glance: what is known and missing, what to do next, what to set, buy and expect."""
