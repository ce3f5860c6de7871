"""Jobs, cutters, machines and trial cuts kept in one SQLite file."""
