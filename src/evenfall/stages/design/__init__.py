"""What shall be: thickness, heights, heat, moisture, wind, joists, water, fire, rules."""
