"""The desk's own database of jobs: `store` holds the revisions, `shelves` papers and photos."""
