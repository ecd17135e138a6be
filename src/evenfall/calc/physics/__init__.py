"""Heat and moisture."""
