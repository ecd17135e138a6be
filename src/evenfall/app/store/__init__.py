"""The desk's own database of jobs."""
