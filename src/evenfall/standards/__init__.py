"""Every number from a document or a practice, one module per document; nothing else is here."""
