"""Pure formulas and searches; they know no job and touch nothing outside."""
