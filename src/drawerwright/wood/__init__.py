"""Stock as it is: panels with their published and measured thickness."""
