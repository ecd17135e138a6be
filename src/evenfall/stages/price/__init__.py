"""For how much: lines, totals, stages, options."""
