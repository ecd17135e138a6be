"""The only code that touches files, clock, screen and network."""
