"""Heat and moisture over time through a roof, in one dimension (the model of EN 15026)."""
