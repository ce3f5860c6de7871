"""Who reads: language, unit, decimal sign, light or dark, and templates filled for that reader."""
