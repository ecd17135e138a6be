"""Weather over an open roof: cold surfaces, gates, years of hours, and chance that repeats."""
