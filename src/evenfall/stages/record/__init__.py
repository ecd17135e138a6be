"""The log of the roof and what follows from it; whatever order its entries came in."""
