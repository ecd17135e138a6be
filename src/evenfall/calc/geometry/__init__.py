"""A plan from tapes, polygons, and a surface from spot levels."""
