"""What the papers say, as typed data; the ink is in app/papers."""
