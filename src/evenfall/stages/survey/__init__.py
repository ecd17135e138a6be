"""What is there: plan, levels, falls."""
